import math
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.units import (
    AmbiguousNumberError,
    UnitError,
    UnknownUnitError,
    WrongDimensionError,
    convert,
    inch_fraction,
    inch_reading,
    parse,
    unit_words,
)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("42", "mm", 42),
        ("6,5", "mm", 6.5),
        (" 6.5 mm ", "mm", 6.5),
        ("1 5/8 in", "mm", 41.275),
        ('1-5/8"', "mm", 41.275),
        ("5/8 in", "mm", 15.875),
        ("-5/8 in", "mm", -15.875),
        ("30 N.m", "N.m", 30),
        ("30Nm", "N.m", 30),
        ("3 kgf.m", "N.m", 29.41995),
        ("25 lbf.ft", "N.m", 33.89544870828501),
        ("25 ft-lb", "N.m", 33.89544870828501),
        ("210 lbf.in", "N.m", 23.72681409579951),
        ("3 ksi", "MPa", 20.684271879504),
        ("4 kN", "N", 4000),
        ("100 kgf", "N", 980.665),
        ("5 lb", "kg", 2.26796185),
        ("1.5e3 mm", "mm", 1500),
        ("1,500.0", "mm", 1500),
        ("1.500,5", "mm", 1500.5),
        ("1,500,000", "N", 1.5e6),
        ("0,500", "mm", 0.5),
        ("1.500 in", "in", 1.5),
        (".5", "in", 0.5),
        ("180 deg", "rad", math.pi),
        ("3 N.m/deg", "N.mm/rad", 3000 * 180 / math.pi),
        ("7.85 g/cm3", "kg/m3", 7850),
    ],
)
def test_what_people_type(text: str, unit: str, value: float) -> None:
    assert parse(text, unit) == pytest.approx(value, rel=1e-12)


def test_bare_number_takes_the_unit_of_the_question() -> None:
    assert parse("2", "mm", bare="in") == pytest.approx(50.8)
    assert parse("2 mm", "mm", bare="in") == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("text", "both"), [("1,500", ("1500 mm", "1.500 mm")), ("12,000 in", ("12000 in", "12.000 in"))]
)
def test_ambiguous_comma_is_asked_about(text: str, both: tuple[str, str]) -> None:
    with pytest.raises(AmbiguousNumberError) as caught:
        parse(text, "mm")
    assert all(reading in str(caught.value) for reading in both)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "mm",
        "nan",
        "inf",
        "1,2,3",
        "12..3",
        "1 5/0 in",
        "1e400",
        "9" * 80,
        "1/2/3",
        "0x10",
        "5e-",
        "- -3",
        "4 5 mm",
    ],
)
def test_what_is_no_quantity(text: str) -> None:
    with pytest.raises(UnitError):
        parse(text, "mm")


def test_wrong_dimension_says_what_is_wanted() -> None:
    with pytest.raises(WrongDimensionError, match=r"5 lb is a mass, but a force is wanted.*lbf"):
        parse("5 lb", "N")
    with pytest.raises(WrongDimensionError, match="a torque, but a stress"):
        parse("5 N.m", "MPa")


def test_unknown_unit_suggests_the_nearest() -> None:
    with pytest.raises(UnknownUnitError, match=r"did you mean kgf\.m"):
        parse("3 kgff.m", "N.m")
    with pytest.raises(UnknownUnitError):
        convert(1.0, "mm", "furlong")


def test_too_large_to_be_finite() -> None:
    with pytest.raises(UnitError, match="finite"):
        parse("1e308 kN", "N")


@given(st.floats(-1e9, 1e9), st.sampled_from(unit_words()), st.sampled_from(unit_words()))
def test_there_and_back(value: float, one: str, other: str) -> None:
    try:
        there = convert(value, one, other)
    except WrongDimensionError:
        return
    assert convert(there, other, one) == pytest.approx(value, rel=1e-12, abs=1e-12)


@given(st.integers(0, 200), st.integers(0, 63))
def test_fractions_read_back(whole: int, sixty_fourths: int) -> None:
    value_mm = (whole + sixty_fourths / 64) * 25.4
    assert parse(inch_fraction(value_mm), "mm") == pytest.approx(value_mm, abs=1e-9)


def test_inch_fraction_falls_back_to_decimals() -> None:
    assert inch_fraction(42.0) == "1.654 in"
    assert inch_fraction(-25.4) == "-1 in"
    assert inch_fraction(0.0) == "0 in"


def test_inch_reading() -> None:
    assert inch_reading(25.4, "mm") == (pytest.approx(1.0), "in")
    assert inch_reading(30.0, "N.m") == (pytest.approx(22.1269, rel=1e-5), "lbf.ft")
    assert inch_reading(3.0, "deg") == (3.0, "deg")


def test_ordinary_runs_do_not_import_the_unit_library() -> None:
    code = "import sys, geometry.units, geometry.materials; sys.exit('pint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
