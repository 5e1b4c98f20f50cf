"""Welds in the report, on paper and in the words of the command line: size, parts, what they carry."""

from __future__ import annotations

import json

import numpy as np

from app.cli.report_json import json_text
from app.cutting.cut_lines import cut_lines
from app.paper.page import Stroke, Words
from app.paper.part_table import part_table
from app.paper.weld_marks import weld_figure
from app.report.blocks import Tabled
from app.report.front import front_blocks
from app.report.judged_file import JudgedFile, as_judged
from app.wording.weld_words import size_words, symbol_words, told_size, weld_words
from solver.weld_result import WeldResult
from tests.app.paper.papers import sample
from tests.app.report.reports import plain_results, report_job

WELD = WeldResult(
    "top", "casing plate", "foot plate", "casing plate to foot plate", 4.0, 144.0,
    np.array([500.0, -30.0, 40.0]), np.array([1000.0, 0.0, 15_000.0]), 0.25, 2, 8, "couple +; stuck",
)  # fmt: skip


def test_words_of_a_weld() -> None:
    weld = sample("sluice_welded").welds[0]
    assert weld_words(weld) == "throat 4 mm, both sides, 152 mm, casing plate to foot plate"
    assert symbol_words(weld).endswith(" top")
    legged = weld.but(throat_mm=None, leg_mm=5, sides="front")
    assert weld_words(legged) == "leg 5 mm, front alone, 152 mm, casing plate to foot plate"
    assert weld_words(weld.but(throat_mm=None)).startswith("throat blank, ")


def test_the_report_has_a_table_of_welds() -> None:
    bracket = sample("sluice_welded")
    job = report_job(bracket, plain_results(bracket, welds=(WELD,)))
    blocks = front_blocks(job, 180.0, lambda words, size, _bold: len(words) * size / 2.0)
    tables = [block.table for block in blocks if isinstance(block, Tabled)]
    (row,) = next(table.rows for table in tables if table.columns[0].title == "weld")
    assert row[:2] == ("top", "casing plate to foot plate")
    assert "25 %" in row


def test_json_tells_what_a_weld_carries() -> None:
    bracket = sample("sluice_welded")
    judged = as_judged(JudgedFile("x", bracket=bracket), plain_results(bracket, welds=(WELD,)))
    (weld,) = json.loads(json_text([judged]))["welds"]
    assert (weld["along_n"], weld["in_sheet_nm"], weld["part"], weld["parts"]) == (500.0, 15.0, 2, 8)


def test_the_parts_list_on_paper_has_the_weld() -> None:
    rows = [row for row in part_table(sample("sluice_welded")).rows if row[0] == "J1"]
    assert rows[0][2:4] == ("weld top", "throat 4 mm, both sides, 152 mm")


def test_ticks_and_words_stand_at_the_weld() -> None:
    bracket = sample("sluice_welded")
    for plate, high in ((bracket.plate("casing plate"), 0.0), (bracket.plate("foot plate"), 49.0)):
        marks = weld_figure(bracket, plate, cut_lines(plate), 1.0)
        ticks = [mark for mark in marks if isinstance(mark, Stroke)]
        assert len(ticks) == 77
        assert {round(sum(y for _, y in tick.places) / 2.0, 6) for tick in ticks} == {high}
        assert [m.words for m in marks if isinstance(m, Words)] == ["weld top: a4 both sides"]


def test_a_weld_is_sized_in_inches_on_a_drawing_and_in_a_list_for_an_inch_reader() -> None:
    """A throat of 4 mm is 0.157 in."""
    bracket = sample("sluice_welded")
    (weld,) = bracket.welds
    assert symbol_words(weld).startswith("a4")
    assert symbol_words(weld, "inch").startswith("a0.157")
    assert size_words(weld.but(throat_mm=None, leg_mm=25.4), "inch") == "z1.000"
    assert told_size(weld.but(throat_mm=None, leg_mm=6.0)) == "leg 6 mm"
    assert told_size(weld.but(throat_mm=None, leg_mm=None)) == "throat blank"
    plate = bracket.plate("casing plate")
    marks = weld_figure(bracket, plate, cut_lines(plate), 1.0, "inch")
    assert [m.words for m in marks if isinstance(m, Words)] == ["weld top: a0.157 both sides"]
