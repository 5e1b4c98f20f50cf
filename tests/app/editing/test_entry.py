"""What is typed in a cell."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.editing.entry import entered, shown, shown_reading
from geometry.units import UnitError


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("42", 42),
        ("1 5/8 in", 41.275), ("6,5", 6.5), ("42+3", 45), ("100/3", 100 / 3), ("-5", -5), ("+3", 3),
        ("1 in - 3 mm", 22.4), ("1e-3", 1e-3), ("2.5e+1 + 1", 26), ("42 - 3/8", 41.625), ("6,5+1,25", 7.75),
        (" 1 + 2 + 3.5 mm ", 6.5), ("42 mm \u2212 2 mm", 40), ("1 cm+1", None), ("3/8 in + 5/8 in", 25.4),
    ],
)  # fmt: skip
def test_a_length_is_read(text: str, value: float | None) -> None:
    if value is None:
        with pytest.raises(UnitError, match="the 1 in '1 cm\\+1' has no unit: type 1 mm or 1 cm"):
            entered(text, "mm")
    else:
        assert entered(text, "mm") == pytest.approx(value)


def test_other_units_and_an_inch_cell() -> None:
    assert entered("3 kgf.m - 2 N.m", "N.m") == pytest.approx(3 * 9.80665 - 2)
    assert entered("2 lbf-ft", "N.m") == pytest.approx(2.711636)
    assert entered("1 + 5/8 in", "mm", bare="in") == pytest.approx(41.275)
    assert entered("1 - 1/8", "mm", bare="in") == pytest.approx(22.225)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "nothing is typed; type a number, such as 42 mm"),
        ("42-3/8", "type 42 3/8 or 42 - 3/8"),
        ("1+5/8 in", "type 1 mm or 1 in"),
        ("5+", "a plus or minus without a number"),
        ("42+-3", "a plus or minus without a number"),
        ("abc", "is not a quantity"),
        ("3 N", "is a force, but a length is wanted"),
        ("1,500", "can be read two ways"),
        ("3 + 1,500", "can be read two ways"),
        ("1/0", "divides by zero"),
        ("5 * 3", "is not a unit"),
        ("1e999", "not a finite number"),
        ("1e308", "beyond any figure"),
        ("2000 km", "is not a unit|beyond any figure"),
        ("-1e10", "beyond any figure"),
        ("1+" * 150 + "1", "too long"),
    ],
)
def test_what_is_no_length_says_what_to_type(text: str, words: str) -> None:
    with pytest.raises(UnitError, match=words):
        entered(text, "mm")


@given(st.text(alphabet="0123456789+-./, einmkgfN", max_size=30))
def test_anything_typed_is_a_number_or_a_sentence(text: str) -> None:
    try:
        value = entered(text, "mm")
    except UnitError as no:
        if not str(no):
            raise
    else:
        assert math.isfinite(value)


@given(
    value=st.floats(-1e5, 1e5).filter(lambda v: v == 0 or abs(v) > 1e-6),
    unit=st.sampled_from(["mm", "N.m", "MPa", "deg", "N"]),
)
def test_what_is_shown_can_be_typed_in_again(value: float, unit: str) -> None:
    assert entered(shown(value, unit, inch=False), unit) == pytest.approx(value, rel=1e-4, abs=5e-4)
    slack = 0.0255 if unit == "mm" else 0.005
    assert entered(shown(value, unit, inch=True), unit) == pytest.approx(value, rel=1e-4, abs=slack)


def test_numbers_are_shown_plainly() -> None:
    assert [shown(v, "mm", inch=False) for v in (42.0, 41.275, -0.0, 0.00012, 12345.678)] == [
        "42 mm", "41.275 mm", "0 mm", "0.00012 mm", "12345.678 mm",
    ]  # fmt: skip
    assert [shown(v, "mm", inch=True) for v in (41.275, 1000.3)] == ["1 5/8 in", "39.382 in"]
    assert shown(30, "N.m", inch=True) == "22.127 lbf.ft"
    # a hundredth of a millimetre read off a gauge is no nought
    assert [shown(v, "mm", inch=True) for v in (0.0, 0.02, -0.01)] == [
        "0 in",
        "0.0007874 in",
        "-0.0003937 in",
    ]


def test_a_gauge_reading_in_inches_has_decimals_and_no_fractions() -> None:
    """A sixty-fourth is 0.0156 in: within it a reading of 0.42 mm lost 0.02 mm, as much as bolts may slip."""
    assert [shown_reading(v, inch=True) for v in (0.02, 0.42, -0.04, 0.0)] == [
        "0.0008 in", "0.0165 in", "-0.0016 in", "0.0000 in",
    ]  # fmt: skip
    assert shown_reading(0.02, inch=False) == "0.02 mm"
