"""The letter and the sheet for the car: what they say, and that each is one page whatever it holds."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.paper.record_page import PaperNotWritten, page_bytes, write_page
from app.record.comparison import Judgements, compare
from app.record.letter import PaperSheet, car_sheet_of, letter_of, sheet_in_units
from app.record.open_items import OpenItem, open_items, standing_of
from app.record.profile import OwnLine, Profile
from app.record.record import HASH_WORDS, Record
from solver.results import Results
from tests.app.record.examples import clear_results, locked_bracket, settled_record

PROFILE = Profile(
    name="lane 4",
    certifier="R. Inventley (invented)",
    check_list=(OwnLine(group="welds", words="coded welder", clause="rule 4.2"),),
    cautions=("Bring the donor's label.",),
)


@pytest.fixture(autouse=True)
def program(qtbot: QtBot) -> None:
    assert QApplication.instance() is not None


def letter(record: Record, results: Results | None = None, extra: tuple[OpenItem, ...] = ()) -> PaperSheet:
    results = results or clear_results()
    bracket = locked_bracket()
    items = (*open_items(record, results, bracket, PROFILE), *extra)
    compared = compare(bracket, record, PROFILE, Judgements(under_profile=results))
    return letter_of(record, items, standing_of(record, items, results), compared, PROFILE)


def all_words(sheet: PaperSheet) -> str:
    lines = [line.words for section in sheet.sections for line in section.lines]
    return " | ".join((sheet.title, *sheet.under_title, *lines, *sheet.signed, *sheet.foot))


def pages(content: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", content))


def test_the_letter_numbers_every_open_item_by_group() -> None:
    record = settled_record(profile=PROFILE).with_item(0, state="open")
    record = record.with_item(len(record.check_list) - 1, state="not met")
    sheet = letter(record)
    marks = [line.mark for section in sheet.sections for line in section.lines if line.mark]
    assert marks == ["1", "2"]
    headings = [section.heading for section in sheet.sections]
    assert headings[0] == "How it stands"
    assert headings[1] == "Open: bracket"
    assert "Not decided; 2 items are open." in all_words(sheet)
    assert HASH_WORDS in sheet.foot
    assert "Bring the donor's label." in sheet.foot


def test_the_clause_of_the_profile_is_quoted() -> None:
    record = settled_record(profile=PROFILE)
    place = [item.words for item in record.check_list].index("coded welder")
    assert "Coded welder [rule 4.2]." in all_words(letter(record.with_item(place, state="open")))


def test_the_reason_for_accepting_a_fail_is_printed() -> None:
    record = settled_record(profile=PROFILE).but(decision="accept", reason="held 90 N.m on the rig")
    said = all_words(letter(record, clear_results("fail")))
    assert "the computed verdict is FAIL, accepted for this reason: held 90 N.m on the rig." in said
    assert "Computed: FAIL for 30 N.m" in said


def test_conditions_are_listed_and_nothing_open_is_said() -> None:
    record = settled_record(profile=PROFILE).but(
        decision="accept with conditions", conditions=("retorque after 100 km", "no towing")
    )
    sheet = letter(record)
    assert sheet.title == "Inspection of a bracket"
    assert "Nothing is open." in all_words(sheet)
    assert [section.heading for section in sheet.sections][-1] == "Conditions"


def test_the_sheet_for_the_car_has_every_line_and_everything_to_measure() -> None:
    record = settled_record(profile=PROFILE)
    sheet = car_sheet_of(locked_bracket(), record, PROFILE)
    lines = [line for section in sheet.sections for line in section.lines]
    ticked = [line for line in lines if line.boxes]
    assert len(ticked) == len(record.check_list)
    assert {line.boxes for line in ticked} == {("met", "not met", "n.a.")}
    said = all_words(sheet)
    for piece in (
        "front, drawn 6 mm thick",
        "hole h1 of front, drawn at (40, 30) mm",
        "bolt bolt 1, M8 8.8: 22 N.m",
        "mass hung",
        "dial gauge, zero after left",
        "gauge touches the casing at",
    ):
        assert piece in said


@pytest.mark.parametrize("count", [0, 30, 400])
def test_it_is_one_page_however_much_is_open(count: int) -> None:
    more = tuple(OpenItem("welds", f"seam {n} is not fused over its whole length") for n in range(count))
    content = page_bytes(letter(settled_record(profile=PROFILE), extra=more))
    assert content.startswith(b"%PDF-")
    assert pages(content) == 1


def test_a_page_is_written_in_one_step_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sheet = letter(settled_record(profile=PROFILE))
    path = tmp_path / "letter.pdf"
    write_page(sheet, path)
    before = path.read_bytes()
    assert [p.name for p in tmp_path.iterdir()] == ["letter.pdf"]

    def full(_: int) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr("geometry.file_replacing.os.fsync", full)
    with pytest.raises(PaperNotWritten, match="No space left"):
        write_page(sheet, path)
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["letter.pdf"]


def test_the_sheet_for_the_car_is_filled_in_inches_by_an_inch_reader() -> None:
    """A plate of 6 mm is 0.2362 in thick; 22 N.m are 16.23 lbf.ft."""
    bracket = locked_bracket()
    sheet = sheet_in_units(car_sheet_of(bracket, settled_record(bracket), PROFILE), "inch")
    lines = {one.words: one.blank for section in sheet.sections for one in section.lines}
    assert lines["front, drawn 0.2362 in thick"] == "in"
    assert lines["bolt bolt 1, M8 8.8: 16.23 lbf.ft"] == "lbf.ft"
    assert lines["mass hung"] == "lb"
    assert lines["gauge touches the casing at"] == "x, y, z in"
    assert lines["hole h1 of front, drawn at (1.575, 1.181) in"] == "x, y in"
    assert page_bytes(sheet).startswith(b"%PDF-")
