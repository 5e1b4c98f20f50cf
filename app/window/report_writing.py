"""Reports written from the window: made of what stands in ink, and told in one sentence."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from app.record.profile import Profile, under
from app.report.judged_file import JudgedFile, as_judged
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from solver.results import Results

if TYPE_CHECKING:
    from app.report.job import RecordPart, ReportJob
    from solver.trials import Trial

NO_INK = "The verdict in ink is not there yet: wait for it, so that the report says what was computed."
_CANNOT = "The bracket cannot be analysed as it stands; the findings say why, and there is no verdict."


def report_job(
    bracket: Bracket,
    results: Results | None,
    *,
    file: str,
    file_findings: Sequence[Finding] = (),
    profile: Profile | None = None,
    part: RecordPart | None = None,
    inch: bool = False,
    trials: tuple[Trial, ...] = (),
    record_findings: Sequence[Finding] = (),
) -> ReportJob:
    """Return the report of a bracket as it stands; no results say that it cannot be analysed.

    What was read in part is not carried: written anew, nothing in it would stand against what is said of it.
    """
    from app.report.making import job_of
    from geometry.file_writing import bracket_text, part_text

    judged_bracket = bracket if profile is None else under(bracket, profile)
    about_file = tuple(file_findings)
    findings = about_file + (() if results is not None else findings_of(judged_bracket))
    known = JudgedFile(file, bracket=judged_bracket, findings=findings, file_findings=about_file)
    return job_of(
        as_judged(known, results, "" if results is not None else _CANNOT),
        file=file,
        content=bracket_text(bracket).encode("utf-8"),
        profile=profile,
        part=part,
        record_content=None if part is None else part_text(part.record).encode("utf-8"),
        paper="Letter" if inch else "A4",
        units="inch" if inch else "mm",
        trials=trials,
        carries=not any(finding.bars_verdict for finding in (*about_file, *record_findings)),
    )


def written(job: ReportJob, path: Path) -> str:
    """Write a report and return what came of it, in a sentence."""
    from app.paper.pdf import PaperError
    from app.report.report_file import write_report

    QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
    try:
        write_report(job, path)
    except PaperError as error:
        return str(error)
    finally:
        QGuiApplication.restoreOverrideCursor()
    return f"Written to {path}."
