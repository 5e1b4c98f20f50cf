"""What was found about a bracket's file, kept beside work on it: a report it came from is not read again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from app.files.small_file import read_group, write_group
from geometry.finding import SEVERITIES, Finding
from geometry.finding_words import found

_KEY: Final = "findings"


def write_findings(path: Path, findings: Sequence[Finding]) -> None:
    """Keep findings in a file, and none where there are none; OSError if that cannot be."""
    if not findings:
        path.unlink(missing_ok=True)
        return
    told = [
        {"code": f.code, "severity": f.severity, "where": f.where, "values": dict(f.values)} for f in findings
    ]
    write_group(path, {_KEY: told}, "what was found about the file")


def read_findings(path: Path) -> tuple[Finding, ...]:
    """Return the findings kept in a file, none if it is not there; for one that is damaged, a doubt."""
    if not path.exists():
        return ()
    kept = read_group(path).get(_KEY)
    findings = [_finding(one) for one in kept] if isinstance(kept, list) else []
    sound = tuple(one for one in findings if one is not None)
    lost = not sound or len(sound) < len(findings)
    return (*sound, found("kept-findings-lost", "work kept aside")) if lost else sound


def _finding(kept: Any) -> Finding | None:  # noqa: ANN401 - whatever stands in the file
    match kept:
        case {"code": str(code), "severity": str(severity), "where": str(where), "values": dict(values)}:
            sound = all(isinstance(value, str | int | float) for value in values.values())
            known = next((one for one in SEVERITIES if one == severity), None)
            return None if known is None or not sound else Finding(code, known, where, values)
    return None
