"""A layout with what its analysis says."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from app.compare.layout import Layout
from app.compare.makings import Makings, makings_of
from app.wording.file_verdict import verdict_on_file
from geometry.finding import Finding
from solver.results import Results, Verdict


@dataclass(frozen=True)
class Judged:
    """One layout, judged or not."""

    layout: Layout
    results: Results | None = None
    trouble: str = ""
    """Why there are no results, in a sentence; empty if there are."""
    file_findings: tuple[Finding, ...] = ()
    """About the file it came from, which the analysis knows nothing of."""
    pencil: bool = False
    """Whether the results are so far: no verdict rests on them."""

    @property
    def name(self) -> str:
        """Return what the layout is called."""
        return self.layout.name

    @property
    def verdict(self) -> Verdict:
        """Return the verdict that may be written of it."""
        return verdict_on_file(self.results, self.file_findings, pencil=self.pencil)

    @property
    def why_no_verdict(self) -> str:
        """Return in words why there is no verdict; empty if there is one."""
        if self.verdict != "no verdict":
            return ""
        if self.results is None:
            return self.trouble or "it is not judged yet"
        if self.pencil:
            return "its figures are pencil so far"
        return self.results.reasons[0] if self.results.reasons else "a finding about its file bars it"

    @property
    def holds_beyond(self) -> bool:
        """Return whether no check came to its limit however large the couple was."""
        r = self.results
        return r is not None and r.holds_to_nm is None and bool(r.checks) and self.verdict == "pass"

    @cached_property
    def makings(self) -> Makings:
        """Return what it is made of."""
        return makings_of(self.layout.bracket)
