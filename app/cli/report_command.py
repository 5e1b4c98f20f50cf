"""`report`: what was judged and why, as PDF or HTML, the bracket file and its record within the PDF."""

from __future__ import annotations

import importlib
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from app.cli.limits_file import LimitsFileError, read_profile
from app.cli.page import complain
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE
from app.files.named_file import why_not_there
from app.paper.paper_names import ReportPaper
from app.wording.figures import Units

if TYPE_CHECKING:
    from app.record.profile import Profile
    from app.report.job import RecordPart
    from app.report.judged_file import JudgedFile
    from solver.trials import Trial

    _Made = tuple[JudgedFile, Profile | None, RecordPart | None, bytes | None, bytes | None]
    """With whose limits it was judged under, the record, and the content of both files."""

_ENDINGS: Final = (".pdf", ".html", ".htm")


def report(
    file: Path,
    out: Path,
    *,
    record_file: Path | None,
    profile_file: Path | None,
    size: ReportPaper,
    units: Units,
) -> int:
    """Write the report and return the exit code of the verdict in it, or 64."""
    if trouble := _why_not(out):
        complain(trouble)
        return BAD_USAGE
    try:
        profile = None if profile_file is None else read_profile(profile_file)
    except LimitsFileError as error:
        complain(str(error))
        return BAD_USAGE
    made = _made(file, record_file, profile_file, profile)
    if made is None:
        return BAD_USAGE
    from app.report.making import job_of

    judged, profile, part, content, record_content = made
    job = job_of(
        judged,
        file=file.name,
        content=content,
        profile=profile,
        part=part,
        record_content=record_content,
        paper=size,
        units=units,
        trials=_trials(judged),
    )
    # Qt is imported only now: the other commands need none
    reports = importlib.import_module("app.report.report_file")
    paper = importlib.import_module("app.paper.pdf")
    try:
        reports.write_report(job, out)
    except paper.PaperError as error:
        complain(str(error))
        return BAD_USAGE
    return judged.exit_code


def _trials(judged: JudgedFile) -> tuple[Trial, ...]:
    """Return what one input at a time does to what was judged."""
    if judged.bracket is None or judged.results is None or not judged.results.checks:
        return ()
    from solver.errors import SolverError
    from solver.one_at_a_time import one_at_a_time

    bracket = judged.bracket
    with live_progress(f"{judged.file}: one input at a time") as progress:
        try:
            ask = partial(one_at_a_time, bracket, progress=progress, search=False)
            return stoppable(partial(ask, of_file=judged.file_findings)).trials
        except SolverError:
            # it was judged: a trial that cannot be solved takes nothing away from that
            return ()


def _why_not(out: Path) -> str:
    if out.suffix.lower() not in _ENDINGS:
        return (
            f"A report is a PDF or an HTML file and {out} is named as neither: end its name in .pdf or .html"
        )
    return why_not_there(out)


def _made(
    file: Path, record_file: Path | None, profile_file: Path | None, profile: Profile | None
) -> _Made | None:
    """Return the file judged, with the record beside it, in it or named; None after a complaint."""
    from app.record.record_name import record_path_of
    from app.report.attached import read_carried

    path = record_path_of(file) if record_file is None else record_file
    carried = read_carried(file)
    if record_file is None and not path.is_file() and carried.record is None:
        judged = _judged(file, profile)
        return None if judged is None else (judged, profile, None, carried.content, None)
    inspected = _inspected(file, record_file, profile_file)
    if inspected is None:
        return None
    return (*inspected, carried.content, path.read_bytes() if path.is_file() else carried.record)


def _judged(file: Path, profile: Profile | None) -> JudgedFile | None:
    from app.record.profile import under
    from app.report.judged_file import judge_bracket, read_file

    known = read_file(file)
    if known.bracket is None:
        complain(known.whole_trouble)
        return None
    if profile is not None:
        known = replace(known, bracket=under(known.bracket, profile))
    with live_progress(file.name) as progress:
        return stoppable(partial(judge_bracket, known, progress=progress))


def _inspected(
    file: Path, record_file: Path | None, profile_file: Path | None
) -> tuple[JudgedFile, Profile, RecordPart] | None:
    """Return what an inspection finds; nothing is judged twice for it."""
    from app.cli.record_command import CannotInspect, Papers, inspect_file
    from app.record.profile import under
    from app.record.record_file import RecordFileError
    from app.report.job import RecordPart
    from app.report.judged_file import as_judged, read_file

    try:
        one = inspect_file(file, record_file, profile_file, new=False, papers=Papers())
    except (CannotInspect, LimitsFileError, RecordFileError, OSError) as bad:
        complain(str(bad))
        return None
    known = replace(read_file(file), bracket=under(one.bracket, one.profile))
    judged = as_judged(known, one.judged.under_profile, one.judged.trouble)
    return judged, one.profile, RecordPart(one.record, one.items, one.standing, one.comparison)
