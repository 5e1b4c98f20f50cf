"""What is done with each kind of file but brackets; each returns `read` or `refused`, raises for a fault."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path
from typing import Final

import numpy as np

from app.cli.riglog_json import riglog_json
from app.editing.outline_import import plate_of, read_outline
from app.editing.photo_image import MOST_PIXELS, read_image
from app.editing.refused import EditRefused
from app.files.files_error import FilesError
from app.record.as_built import as_built
from app.record.comparison import Judgements, compare
from app.record.given_file import GivenFileError, read_limits, read_profile
from app.record.letter import car_sheet_of, letter_of
from app.record.open_items import items_of, open_items, standing_of
from app.record.photographs import photograph_of
from app.record.profile import Profile, under
from app.record.proof import proof_lines
from app.record.record import Record
from app.record.record_file import read_record, record_of
from app.register.csv_list import csv_text, entries_in, read_csv
from app.register.database import Register
from app.register.entry import Numbered, entry_as_written
from app.register.register_error import RegisterError
from app.report.attached import read_any
from app.report.pdf_files import PdfRefused, files_in
from app.riglog.follower import Follower, joined
from app.riglog.log_error import LogError
from app.riglog.log_words import bracket_rows, couple_rows, headline
from app.riglog.measured import measured_sentence, with_measured_couple
from app.riglog.opened import Judged, Said, judged, opened
from app.riglog.reading import read_table
from geometry.bracket import Bracket
from geometry.bracket_file import bracket_of, read_bracket
from geometry.file_writing import part_text
from geometry.finding_words import sentence
from geometry.findings import findings_of
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from tests.fuzz.promises import clear, demand, still_cells
from tests.fuzz.samples import SAMPLES

TODAY: Final = date(2031, 4, 30)
_SAID: Final = Said({}, {}, {}, {})


def outline(path: Path, _folder: Path, _number: int) -> str:
    """Take an outline from a drawing, and look at the plate that it makes."""
    try:
        loops = read_outline(path)
        clear(loops.words)
        made = plate_of(loops, loops.taken_as, 5.0, None, "plate")
    except EditRefused as error:
        clear([str(error)])
        return "refused"
    bracket = Bracket(plates=(made,))
    clear(sentence(finding) for finding in findings_of(bracket))
    try:
        demand(math.isfinite(flat_pattern(made).area_mm2), "a plate without an area")
    except ShapeError as error:
        clear([str(error)])
    return "read"


def picture(path: Path, _folder: Path, number: int) -> str:
    """Read a picture to lie under the sheet; some of them go into a record, too."""
    try:
        image = read_image(path)
        demand(image.ndim == 3 and image.shape[2] == 3, f"a picture of shape {image.shape}")
        demand(0 < image.shape[0] * image.shape[1] <= MOST_PIXELS * 1.01, f"too many pixels: {image.shape}")
        if number % 3 == 0:
            kept = photograph_of(path)
            record = Record(bracket_hash="a", program="1", photographs=(kept,))
            again = record_of(part_text(record).encode())
            demand(
                again.record is not None and not again.findings, f"a photograph refused: {again.sentences}"
            )
    except EditRefused as error:
        clear([str(error)])
        return "refused"
    return "read"


def record(path: Path, _folder: Path, _number: int) -> str:
    """Read a record and hold it beside a sample bracket, short of solving."""
    reading = read_record(path)
    clear(reading.sentences)
    if reading.record is None:
        demand(bool(reading.findings), "no record and no word why")
        return "refused"
    one = reading.record
    demand(record_of(part_text(one).encode()).record == one, "saved and read again as another")
    bracket = read_bracket(SAMPLES / "marlpit_one_piece.bracket.json").bracket
    assert bracket is not None
    built = as_built(bracket, one)
    clear((*built.differences, *built.misfits))
    findings_of(built.bracket)
    items = (*items_of(reading.findings), *open_items(one, None, bracket, Profile()))
    standing = standing_of(one, items, None)
    comparison = compare(bracket, one, Profile(), Judgements())
    letter_of(one, items, standing, comparison, Profile())
    car_sheet_of(bracket, one, Profile())
    for proof in one.measured.proof:
        proof_lines(proof, None, bracket)
    _listed(one)
    return "read"


def _listed(one: Record) -> None:
    numbered = [
        Numbered(number=1, added="2031-04-30 10:00:00", entry=entry_as_written(one, Path("/a/b.record.json")))
    ]
    text = csv_text(numbered, TODAY)
    still_cells(text)
    again = entries_in(text, "list.csv")
    demand(again == (numbered[0].entry,), "an entry goes out to CSV and comes back as another")


def limits(path: Path, _folder: Path, number: int) -> str:
    """Read limits or a profile, and judge a sample bracket's loads under it."""
    try:
        if number % 2:
            read_limits(path)
            return "read"
        profile = read_profile(path)
    except GivenFileError as error:
        clear(str(error).splitlines())
        return "refused"
    bracket = read_bracket(SAMPLES / "marlpit_one_piece.bracket.json").bracket
    assert bracket is not None
    findings_of(under(bracket, profile))
    return "read"


def register_list(path: Path, folder: Path, _number: int) -> str:
    """Take a list into a new register, list it again."""
    try:
        entries = read_csv(path)
    except RegisterError as error:
        clear([str(error)])
        return "refused"
    numbered = [Numbered(number=k, added="2031-04-30 10:00:00", entry=e) for k, e in enumerate(entries, 1)]
    text = csv_text(numbered, TODAY)
    still_cells(text)
    demand(entries_in(text, "list.csv") == entries, "a list goes out to CSV and comes back as another")
    if len(entries) <= 5:
        register = Register(folder / "register.sqlite3")
        register.add(entries, from_list=True)
        demand(len({e.record_file for e in entries}) == len(register.newest()), "entries were lost")
        register.path.unlink(missing_ok=True)
    return "read"


def register_file(path: Path, _folder: Path, number: int) -> str:
    """Open somebody's register, list it, add to it."""
    register = Register(path)
    try:
        every = register.every()
        still_cells(csv_text(every, TODAY))
        for one in every:
            one.entry.overdue(TODAY)
        if number % 2:
            register.add([entry_as_written(Record(bracket_hash="a", program="1"), Path("/a/b"))])
            register.newest()
    except RegisterError as error:
        clear([str(error)])
        return "refused"
    return "read"


def log(path: Path, folder: Path, number: int) -> str:
    """Read a rig's log whole, and as it grows; say what it holds."""
    found = None
    try:
        found = judged(opened(read_table(path), _SAID, folder), _SAID)
        _told(found)
    except (LogError, FilesError) as error:
        clear([str(error)])
    if number % 3 == 0:
        _followed(path)
    return "refused" if found is None else "read"


def _told(found: Judged) -> None:
    clear(trouble.sentence for trouble in found.troubles)
    clear([headline(found)])
    riglog_json(found, ())
    bracket = read_bracket(SAMPLES / "marlpit_one_piece.bracket.json").bracket
    assert bracket is not None
    if found.couple is not None:
        couple_rows(found.couple)
        demand(math.isfinite(found.couple.peak.couple_nm), "a peak that is no number")
        changed = with_measured_couple(bracket, found.couple)
        clear([measured_sentence(bracket, changed)])
    if found.bracket is not None:
        bracket_rows(found.bracket)
        demand(math.isfinite(found.bracket.stiffness), "a stiffness that is no number")


def _followed(path: Path) -> None:
    follower, whole = Follower(path), None
    try:
        for _ in range(3):
            added = follower.poll()
            if added.told:
                clear([added.told])
            if added.rows is not None:
                whole = joined(whole, added.rows)
        if whole is not None:
            demand(bool((np.isfinite(whole.values) | np.isnan(whole.values)).all()), "an endless reading")
    except LogError as error:
        clear([str(error)])


def report(path: Path, _folder: Path, number: int) -> str:
    """Take the bracket out of a report: in this process, and now and then as the program does it."""
    if number % 200 == 0:
        reading = read_any(path)
        clear(reading.sentences)
        return "refused" if reading.bracket is None else "read"
    try:
        files = files_in(path.read_bytes())
    except PdfRefused as error:
        demand(str(error) in ("locked", "damaged", "too big", "none"), f"an unknown refusal {error}")
        return "refused"
    for name, content in files.items():
        if name.endswith(".bracket.json"):
            clear(bracket_of(content, "file x").sentences)
    return "read"
