"""What one paper is made of, and what stands on every page of it. No Qt."""

from __future__ import annotations

from dataclasses import dataclass

from app.lesson.turned import Turned
from app.paper.flow import Flow, Room
from app.paper.page import SMALL_MM, Mark, Measure, Words, line, paper_mm
from app.paper.paper_names import PaperName
from app.wording.figures import Units
from app.wording.layout_words import title_words
from app.wording.verdict_words import verdict_in_ink, verdict_words
from geometry.bracket import Bracket
from solver.results import Results
from solver.version import VERSION

MARGIN_MM = 12.0
_HEAD_MM = 9.0
_FOOT_MM = 8.0
HASH_SHOWN = 16


@dataclass(frozen=True)
class PaperJob:
    """One paper to make."""

    bracket: Bracket
    file: str
    """Name of the file, without folders; empty for a blank sheet."""
    date: str
    paper: PaperName = "A4"
    results: Results | None = None
    """Of this bracket, where the sheet shows what was computed."""
    units: Units = "mm"
    """With inches, sentences and cells tell a quantity in both; a bare number is in mm, as its head says."""
    turned: Turned | None = None
    """The same plate along the shaft, where it was judged for a lesson."""

    @property
    def title(self) -> str:
        """Return the bracket's title, with the name of the layout that is drawn."""
        return title_words(self.bracket) if self.file else "blank sheet"

    @property
    def input_hash(self) -> str:
        """Return the hash of the inputs; empty for a blank sheet."""
        return self.bracket.input_hash() if self.file else ""

    @property
    def own_results(self) -> Results | None:
        """Return the results if they are of these very inputs; None otherwise."""
        return self.results if self.results is not None and self.results.hash == self.input_hash else None


def computed_words(job: PaperJob) -> str:
    """Return what was computed, never a bare verdict: by what, from which inputs, when."""
    results = job.own_results
    shown = f"input hash {job.input_hash[:HASH_SHOWN]}..."
    by = f"Computed by Holdsquare {VERSION} for {shown}, on {job.date}"
    if job.results is None:
        return (
            "Nothing was computed for this sheet: it does not say whether the bracket holds."
            f" Holdsquare {VERSION}, {shown}, {job.date}."
        )
    if results is None:
        return f"What was computed once belongs to other inputs than these; {shown}"
    word = verdict_in_ink(results).upper()
    words = f"{by}: {word} {verdict_words(results)}. It is no approval; an authorised certifier decides."
    looser = f" Looser than usual: {'; '.join(results.flagged)}." if results.flagged else ""
    return words + looser


def portrait(job: PaperJob, measure: Measure) -> Flow:
    """Return an empty flow on upright pages, with room for title and foot."""
    width, height = paper_mm(job.paper)
    return Flow(
        Room(
            width,
            height,
            MARGIN_MM + 3.0,
            MARGIN_MM + _HEAD_MM,
            width - MARGIN_MM,
            height - MARGIN_MM - _FOOT_MM,
        ),
        measure,
        job.units,
    )


def dressed(job: PaperJob, sheet: str, page: int, pages: int) -> tuple[Mark, ...]:
    """Return title and foot of an upright page: what it is, of which bracket, version, hash, date, page."""
    width, height = paper_mm(job.paper)
    left, right, top, foot = MARGIN_MM + 3.0, width - MARGIN_MM, MARGIN_MM + 3.5, height - MARGIN_MM
    title = job.title if len(job.title) <= 48 else job.title[:47] + "\u2026"
    of = f"{job.file}  \u00b7  " if job.file and len(job.file) <= 44 else ""
    computed = f"  \u00b7  input hash {job.input_hash[:HASH_SHOWN]}" if job.file else ""
    return (
        Words(sheet, (left, top), 4.2, bold=True),
        Words(title, (right, top), 3.2, "right"),
        line((left, top + 2.0), (right, top + 2.0), kind="medium"),
        line((left, foot - 4.0), (right, foot - 4.0), kind="hair"),
        Words(f"{of}Holdsquare {VERSION}{computed}  \u00b7  {job.date}", (left, foot), SMALL_MM),
        Words(f"page {page} of {pages}", (right, foot), SMALL_MM, "right"),
    )
