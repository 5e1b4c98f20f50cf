"""`record`: somebody's file opened for reading alone, its claim compared, and what is open in the record."""

from __future__ import annotations

import importlib
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from app.cli.limits_file import LimitsFileError, read_profile
from app.cli.page import complain, say
from app.cli.progress_line import live_progress
from app.cli.record_report import Inspected, json_of, write_inspected
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE
from app.files.named_file import why_no_paper
from app.files.near_names import missing_file_sentence
from app.record.check_list import new_record
from app.record.comparison import compare
from app.record.letter import PaperSheet, car_sheet_of, letter_of, sheet_in_units
from app.record.open_items import items_of, open_items, standing_of
from app.record.profile import Profile
from app.record.record import Record
from app.record.record_file import RecordFileError, read_record, record_of, save_record
from app.record.record_name import record_path_of
from app.report.attached import Carried, read_carried
from app.wording.figures import Units
from geometry.finding import Finding


@dataclass(frozen=True)
class Papers:
    """Pages to write."""

    letter: Path | None = None
    sheet: Path | None = None


class CannotInspect(ValueError):  # noqa: N818 - a sentence for whoever typed it
    """Why a file cannot be inspected."""


def run_record(
    file: Path,
    record_file: Path | None,
    *,
    profile_file: Path | None,
    new: bool,
    papers: Papers,
    as_json: bool,
    units: Units = "mm",
) -> int:
    """Print the comparison, what is open and how the record stands; return 0, 1, 2 or 64."""
    try:
        inspected = inspect_file(file, record_file, profile_file, new=new, papers=papers)
    except (CannotInspect, LimitsFileError, RecordFileError) as bad:
        complain(str(bad))
        return BAD_USAGE
    if as_json:
        say(json_of(inspected))
    else:
        say(write_inspected(inspected, units))
    letter, sheet = (sheet_in_units(page, units) for page in (inspected.letter, inspected.sheet))
    written = _write(papers.letter, letter) and _write(papers.sheet, sheet)
    return inspected.standing.exit_code if written else BAD_USAGE


def inspect_file(
    file: Path, record_file: Path | None, profile_file: Path | None, *, new: bool, papers: Papers
) -> Inspected:
    """Return a bracket file with its record, and everything that is computed for them.

    CannotInspect, LimitsFileError or RecordFileError, with a sentence, if that is not to be had.
    """
    for paper in (papers.letter, papers.sheet):
        _may_be_written(paper)
    profile = Profile() if profile_file is None else read_profile(profile_file)
    carried = _read(file)
    reading = carried.reading
    bracket = reading.bracket
    if bracket is None:
        raise CannotInspect(f"{file} cannot be read as a bracket: {reading.sentences[0]}")
    path = record_path_of(file) if record_file is None else record_file
    fresh = new_record(bracket, file.name, profile, date.today().isoformat())
    record, findings = _record_at(path, fresh, new=new, named=record_file is not None, carried=carried.record)

    # late: it brings the solver, which takes longest to start
    from app.record.judging import judged_for

    with live_progress(file.name) as progress:
        work = partial(
            judged_for, bracket, record, profile, file_findings=reading.findings, progress=progress
        )
        judged = stoppable(work)
    results = judged.under_profile
    items = (
        *items_of((*reading.findings, *findings)),
        *open_items(record, results, bracket, profile, built=judged.built),
    )
    standing = standing_of(record, items, results, judged.built)
    comparison = compare(bracket, record, profile, judged)
    return Inspected(
        file=file,
        record_path=path,
        kept=new or path.is_file(),
        carried=carried.record is not None and not path.is_file(),
        bracket=bracket,
        record=record,
        profile=profile,
        comparison=comparison,
        items=items,
        standing=standing,
        judged=judged,
        record_findings=findings,
        letter=letter_of(record, items, standing, comparison, profile),
        sheet=car_sheet_of(bracket, record, profile),
    )


def _read(file: Path) -> Carried:
    if missing := missing_file_sentence(file):
        raise CannotInspect(missing)
    carried = read_carried(file)
    reading = carried.reading
    if reading.bracket is not None and any(f.severity == "stop" for f in reading.findings):
        # what was left out may be what would have failed
        raise CannotInspect(
            f"{file} can be read only in part, so there is nothing to record: {reading.sentences[0]}"
        )
    return carried


def _record_at(
    path: Path, fresh: Record, *, new: bool, named: bool, carried: bytes | None
) -> tuple[Record, tuple[Finding, ...]]:
    """Return the record to go on with and what is wrong with its file; a new one is saved at once."""
    if new:
        if path.exists():
            raise CannotInspect(
                f"{path} is there already: leave --new out, or name another record with --record."
            )
        save_record(path, fresh)
        return fresh, ()
    if not path.exists() and not named:
        reading = None if carried is None else record_of(carried, "record in the report")
        return (fresh, ()) if reading is None else (reading.record or fresh, reading.findings)
    if missing := missing_file_sentence(path):
        raise CannotInspect(f"{missing} record FILE --new begins a record.")
    reading = read_record(path)
    if reading.record is None:
        raise CannotInspect(f"{path} cannot be read as a record: {reading.sentences[0]}")
    return reading.record, reading.findings


def _may_be_written(paper: Path | None) -> None:
    if paper is not None and (trouble := why_no_paper(paper)):
        raise CannotInspect(trouble)


def _write(path: Path | None, sheet: PaperSheet) -> bool:
    if path is None:
        return True
    pages = importlib.import_module("app.paper.record_page")  # Qt, which the other commands do not need
    try:
        pages.write_page(sheet, path)
    except OSError as error:
        complain(f"{error}.")
        return False
    return True
