"""What a report is made from. No Qt."""

from __future__ import annotations

from dataclasses import dataclass

from app.paper.paper_names import PaperName
from app.record.comparison import Comparison
from app.record.open_items import OpenItem, RecordStanding
from app.record.record import Record
from app.wording.figures import Units
from app.wording.layout_words import title_words
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.results import Results, Verdict
from solver.trials import Trial


@dataclass(frozen=True)
class RecordPart:
    """The record of an inspection, as it stands."""

    record: Record
    items: tuple[OpenItem, ...]
    standing: RecordStanding
    comparison: Comparison


@dataclass(frozen=True)
class ReportJob:
    """One report to make."""

    bracket: Bracket
    """Under the limits in force."""
    file: str
    """Name of the file, without folders."""
    date: str
    verdict: Verdict
    """What may be written of the file."""
    reasons: tuple[str, ...]
    findings: tuple[Finding, ...]
    judged_under: str
    """Whose limits, in words."""
    results: Results | None = None
    trouble: str = ""
    """Why there are no results, in a sentence."""
    record: RecordPart | None = None
    attached: tuple[tuple[str, bytes], ...] = ()
    """Name and content of what goes into the PDF: the bracket file, and the record."""
    trials: tuple[Trial, ...] = ()
    """One input at another value each, where that was asked for."""
    cautions: tuple[str, ...] = ()
    """Of the profile, beside the program's."""
    paper: PaperName = "A4"
    units: Units = "mm"

    @property
    def title(self) -> str:
        """Return the bracket's title on one line, with the name of the layout that was judged."""
        return title_words(self.bracket)

    @property
    def input_hash(self) -> str:
        """Return the hash of what was judged."""
        return self.bracket.input_hash() if self.results is None else self.results.hash
