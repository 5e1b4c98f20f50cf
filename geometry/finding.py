"""A finding.

One thing noticed about a bracket or its file, as a code with values. Its sentence is in finding_words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

Severity = Literal["stop", "doubt", "rule", "note"]
"""`stop`: it cannot be analysed. `doubt`: it touches what the analysis rests on, so there is no verdict.
`rule`: a detailing rule is broken, so the verdict is marginal at best. `note`: worth knowing, no more."""

SEVERITIES: tuple[Severity, ...] = ("stop", "doubt", "rule", "note")
"""Worst first."""

Value = str | int | float

_LEAVE_OUT = frozenset({"grade-unknown", "boss-depth-blank", "material-thickness"})
"""Beside blanks: strengths of a bolt, of the thread it goes into and of a dash bar that nobody knows."""


@dataclass(frozen=True)
class Finding:
    """One thing noticed."""

    code: str
    """Such as `hole-outside`; a blank that only the user can fill begins with `blank-`."""
    severity: Severity
    where: str
    """In the user's words: `plate foot, hole h1`, `bolt 3`, `file`."""
    values: Mapping[str, Value] = field(default_factory=dict, hash=False)

    @property
    def is_blank(self) -> bool:
        """Return whether it is an input that nobody has given yet."""
        return self.code.startswith("blank-")

    @property
    def leaves_out(self) -> bool:
        """Return whether a check or a load is left out because of it, so that no couple can be told."""
        return self.is_blank or self.code in _LEAVE_OUT

    @property
    def bars_verdict(self) -> bool:
        """Return whether no verdict can be given while it stands."""
        return self.severity in ("stop", "doubt")


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings in order of severity, otherwise in the order given, each once."""
    seen: dict[tuple[str, str, tuple[tuple[str, Value], ...]], Finding] = {}
    for finding in findings:
        seen.setdefault((finding.code, finding.where, tuple(sorted(finding.values.items()))), finding)
    return tuple(sorted(seen.values(), key=lambda f: SEVERITIES.index(f.severity)))
