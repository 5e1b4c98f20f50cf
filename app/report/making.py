"""From a file that was judged to the report of it: for the command line and the window alike. No Qt."""

from __future__ import annotations

from typing import Final

from app.paper.paper_names import PaperName
from app.paper.pdf_dates import today
from app.record.profile import Profile
from app.record.record_name import SUFFIX as RECORD_SUFFIX
from app.report.job import RecordPart, ReportJob
from app.report.judged_file import JudgedFile
from app.report.reasons import reasons
from app.wording.figures import Units
from geometry.bracket import Bracket
from geometry.bracket_file import SUFFIX
from geometry.file_writing import bracket_text
from geometry.loads import Limits
from solver.trials import Trial

_MOST_LETTERS: Final = 80


def job_of(
    judged: JudgedFile,
    *,
    file: str,
    content: bytes | None = None,
    profile: Profile | None = None,
    part: RecordPart | None = None,
    record_content: bytes | None = None,
    paper: PaperName = "A4",
    units: Units = "mm",
    trials: tuple[Trial, ...] = (),
    carries: bool = True,
) -> ReportJob:
    """Return the report to make.

    `file` is the name without folders; `content` the bracket's file as it was read, so that what is wrong
    with it goes along, unless the report `carries` no file at all; `profile` is what was put in place of the
    file's own limits; `trials` are of one input at a time.
    """
    bracket = judged.bracket or Bracket()
    if content is None:
        content = bracket_text(bracket).encode("utf-8")
    stem = stem_of(file)
    attached = [(f"{stem}{SUFFIX}", content)]
    if record_content is not None:
        attached.append((f"{stem}{RECORD_SUFFIX}", record_content))
    same = "; all at their defaults" if bracket.limits == Limits() else ""
    return ReportJob(
        bracket=bracket,
        file=file,
        date=today(),
        verdict=judged.verdict,
        reasons=reasons(judged),
        findings=judged.findings,
        judged_under=f"the file's own limits{same}" if profile is None else profile.called,
        results=judged.results,
        trouble=judged.trouble,
        record=part,
        attached=tuple(attached) if carries else (),
        cautions=() if profile is None else profile.cautions,
        paper=paper,
        units=units,
        trials=trials,
    )


def stem_of(file: str) -> str:
    """Return a file's name without its endings, no longer than any system takes."""
    return file.removesuffix(".json").removesuffix(".bracket").removesuffix(".pdf")[:_MOST_LETTERS]
