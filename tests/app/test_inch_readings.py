"""Inputs for an inch reader. 1 in = 25.4 mm, 1 lbf = 4.4482216 N, 1 lb = 0.45359237 kg: NIST SP 811."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from app.paper.page import Words
from app.report.back import back_blocks
from app.report.blocks import Tabled
from app.report.figures import plate_figures
from app.wording.figures import reading_in_units, sentence_in_units
from app.wording.sensitivity_words import heads, trial_cells
from solver.trials import Trial
from tests.app.example_results import example_bracket
from tests.app.report.reports import report_job


@pytest.mark.parametrize(
    ("metric", "inch"),
    [
        ("6.35 mm", "0.25 in"),
        ("-19.05 mm", "-0.75 in"),
        ("(0, -50.8) mm", "(0, -2) in"),
        ("((0, 25.4), (50.8, 1.27e-05)) mm", "((0, 1), (2, 5e-07)) in"),
        ("4 corners (139.7 x 184.15 mm)", "4 corners (5.5 x 7.25 in)"),
        ("44.482216 N", "10 lbf"),
        ("4.5359237 kg", "10 lb"),
        ("(175.12684, 350.25367) N/mm", "(1000, 2000) lbf/in"),
    ],
)
def test_a_reading_is_converted_whole(metric: str, inch: str) -> None:
    assert reading_in_units(metric, "inch") == inch
    assert reading_in_units(metric, "mm") == metric


@pytest.mark.parametrize(
    "words", ["M8", "5/16-18", "x 1", "25 %", "3 times", "0 deg", "bearings", "blank", "8.8"]
)
def test_what_has_no_inch_twin_stays(words: str) -> None:
    assert reading_in_units(words, "inch") == words


def test_a_trial_is_told_in_inches() -> None:
    trial = Trial("thickness of plate", "6.35 mm", "5.08 mm", "pass", "slip", 0.5, 13.558179, "why")
    assert heads("inch")[-1] == "holds to lbf.ft"
    assert trial_cells(trial, "inch")[1:3] == ("0.25 in", "0.2 in")
    assert trial_cells(trial, "inch")[-1] == "10"
    couple = replace(trial, now="27.1 N.m", then="33.9 N.m")
    assert trial_cells(couple, "inch")[1:3] == ("20 lbf.ft", "25 lbf.ft")


def test_a_report_in_inches_has_its_inputs_in_inches() -> None:
    tables = [block for block in back_blocks(report_job(units="inch")) if isinstance(block, Tabled)]
    (inputs,) = (t.table for t in tables if t.table.columns[0].title == "thing")
    text = " ".join(cell for row in inputs.rows for cell in row)
    assert " in" in text
    assert " mm" not in text


def test_a_report_in_inches_has_its_flat_patterns_in_inches() -> None:
    bracket = example_bracket()
    (plate,) = bracket.plates
    ((figure, shows),) = plate_figures(report_job(bracket, units="inch"), 180.0)
    told = [mark.words for mark in figure.marks if isinstance(mark, Words)]
    assert "flat, in inches" in shows
    lengths = [float(words) for words in told if re.fullmatch(r"\d+\.\d{3}", words)]
    across, _ = np.ptp([corner.at_mm for corner in plate.outline], axis=0)
    assert any(length == pytest.approx(across / 25.4, abs=1e-3) for length in lengths)


def test_a_place_on_a_flat_pattern_is_told_in_both() -> None:
    where = "plate, back face, at (-58, 37), beside bolt 2"
    assert (
        sentence_in_units(where, "inch")
        == "plate, back face, at (-58, 37) mm = (-2.28, 1.46) in, beside bolt 2"
    )
    assert sentence_in_units(where, "mm") == where
    typed = "hole 1 of plate a: at (25.4, 0) mm"
    assert sentence_in_units(typed, "inch") == typed


def test_within_brackets_the_inch_figure_has_none_of_its_own() -> None:
    """Brackets within brackets are hard to read; 8000 N/mm is 45 681 lbf/in."""
    said = "bearings (8000 to 25000 N/mm), pulled with 300 N (at the wheel, 25.4 mm off) and 300 N"
    assert sentence_in_units(said, "inch") == (
        "bearings (8000 to 25000 N/mm = 45681 to 142754 lbf/in), pulled with 300 N (67.4 lbf) (at the wheel,"
        " 25.4 mm = 1.00 in off) and 300 N (67.4 lbf)"
    )
