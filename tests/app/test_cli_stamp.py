"""The stamp: four verdicts, told apart by word and shape alone; and figures as people read them."""

from __future__ import annotations

from typing import get_args

import pytest

from app.cli.page import Page
from app.cli.stamp import stamp
from app.wording.figures import figure, percent, percent_marked, plain, quantity, sentence_in_units
from solver.results import Verdict


@pytest.mark.parametrize("ascii_only", [False, True])
def test_each_verdict_has_a_shape_of_its_own(ascii_only: bool) -> None:
    verdicts: tuple[Verdict, ...] = get_args(Verdict)
    shapes = set()
    for verdict in verdicts:
        lines = stamp(verdict, ascii_only)
        assert len({len(line) for line in lines}) == 1
        text = "\n".join(lines)
        assert text.isascii() or not ascii_only
        assert (verdict.upper() in text) == (verdict != "no verdict")
        shapes.add("".join(sorted(set(text) - set(verdict.upper()) - set(" \n"))))
    assert len(shapes) == len(verdicts)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (30.0, "30.0"),
        (0.0123456, "0.0123"),
        (1234.5, "1234"),
        (156.66, "157"),
        (999.6, "1000"),
        (0.0, "0"),
        (-2.5, "-2.50"),
        (2.5e7, "2.50e+07"),
        (None, "-"),
        (float("inf"), "no limit"),
        (float("nan"), "no number"),
    ],
)
def test_figures_have_three_digits(value: float | None, text: str) -> None:
    assert figure(value) == text


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.634, "63 %"),
        (0.997, "99.7 %"),
        (1.003, "100.3 %"),
        (0.031, "3.1 %"),
        (1.31, "131 %"),
        (float("inf"), "over 9999 %"),
        (float("nan"), "-"),
        (0.0, "0 %"),
        (0.802, "80.2 %"),
    ],
)
def test_shares_never_round_onto_a_limit(share: float, text: str) -> None:
    assert percent(share) == text


def test_inch_stands_beside_metric_in_sentences() -> None:
    assert sentence_in_units("at 71 N.m the 6 mm plate", "inch") == (
        "at 71 N.m (52.4 lbf.ft) the 6 mm (0.236 in) plate"
    )
    assert sentence_in_units("M8x1 at 4 of 5, 12 mm2, 0.1 deg", "inch") == "M8x1 at 4 of 5, 12 mm2, 0.1 deg"
    assert sentence_in_units("at 71 N.m", "mm") == "at 71 N.m"


@pytest.mark.parametrize(
    ("metric", "both"),
    [
        ("clamp with 12.8 to 29.0 kN", "clamp with 12.8 to 29.0 kN (2878 to 6519 lbf)"),
        ("between 678 and 1240 mm", "between 678 and 1240 mm (26.7 and 48.8 in)"),
        ("bolt 4 to 12 kN", "bolt 4 to 12 kN (2698 lbf)"),
        ("bolts 4 and 12 mm", "bolts 4 and 12 mm (0.472 in)"),
    ],
)
def test_a_range_has_both_ends_in_inch_units(metric: str, both: str) -> None:
    assert sentence_in_units(metric, "inch") == both
    assert quantity(100.0, "N", "inch") == "22.5 lbf"
    assert quantity(5.0, "", "inch") == "5.00"


def test_no_number_is_parted_from_its_unit() -> None:
    for width in range(40, 80):
        page = Page(width=width, terminal=False, ascii_only=False)
        page.line(
            "the casing turns by 0.3 deg, moves by 12 mm and uses 100 % of what it may, at 4 of 5 places"
        )
        lines = page.text.splitlines()
        assert not any(line.startswith(("deg", "mm", "%")) for line in lines)
        assert max(map(len, lines)) <= width


def test_plain_spells_out_what_steers_a_terminal() -> None:
    assert plain("a\x1b[31mb\u202ec\td") == "a\\x1b[31mb\\u202ec d"
    assert plain("Gr\u00f6\u00dfe \u6a4b") == "Gr\u00f6\u00dfe \u6a4b"


def test_a_figure_beyond_the_scale_says_over_once() -> None:
    assert percent_marked(250.0, "over") == "over 9999 %"
    assert percent_marked(1.12, "over") == "over 112 %"
    assert percent_marked(0.5, "") == "50 %"
