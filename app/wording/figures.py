"""How numbers are written for people: few digits, and inch figures for an inch reader."""

from __future__ import annotations

import math
import re
from functools import partial
from typing import Final, Literal

from geometry.digits import with_digits

Units = Literal["mm", "inch"]

FAR_OVER: Final = "over"
"""What stands before the last figure of a scale that the value is beyond."""

_IN_A_SENTENCE: Final = re.compile(
    r"(?<![\w.,/])(?:(?<!bolt )((?:-?\d+(?:\.\d+)?(?: to | x ))+)|(?<=between )(-?\d+(?:\.\d+)? and ))?"
    r"(-?\d+(?:\.\d+)?) (N\.m/deg|N\.m/mm|N/mm|N\.m|kN|MPa|mm|kg|N)(?![\w/.]\w|[\w/])"
)
"""A quantity, or a range or sizes whose unit stands once, after the last."""

_PLACE_IN_A_SENTENCE: Final = re.compile(r"\bat (\((-?\d+(?:\.\d+)?), (-?\d+(?:\.\d+)?)\))(?! mm)")
"""A place on a flat pattern, which stands in mm without its unit."""

_NUMBER: Final = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")
_READING: Final = re.compile(
    rf"(?<![\w./-])(\(*{_NUMBER.pattern}(?:(?:, | x |\), \()\(*{_NUMBER.pattern})*\)*) ([A-Za-z][\w./]*)"
)


def figure(value: float | None) -> str:
    """Return a number with three significant digits and no exponent where that stays readable."""
    if value is None:
        return "-"
    if not math.isfinite(value):
        return "no number" if math.isnan(value) else "no limit"
    if value == 0.0 or abs(value) < 1e-9:
        return "0"
    if abs(value) < 1e-6 or abs(value) >= 1e6:
        return f"{value:.2e}"
    digits = max(0, 2 - math.floor(math.log10(abs(value))))
    return f"{value:.{digits}f}"


def quantity(value: float | None, unit: str, units: Units) -> str:
    """Return a number with its unit, turned into inch units if those are wanted; a dash for None."""
    if value is None:
        return "-"
    number, word = in_units(value, unit, units)
    return f"{figure(number)} {word}".rstrip()


def bare(value: float, unit: str, units: Units) -> str:
    """Return the number of a quantity alone, where its unit stands in the column's head."""
    return figure(in_units(value, unit, units)[0])


def in_units(value: float, unit: str, units: Units) -> tuple[float, str]:
    """Return a value and its unit word as that reader wants them; what has no inch twin is unchanged."""
    if units == "mm" or not unit or not math.isfinite(value):
        return value, unit
    # pint takes a while to start: only an inch reader pays for it
    from geometry.units import UnknownUnitError, inch_reading

    try:
        return inch_reading(value, unit)
    except UnknownUnitError:
        return value, unit


def unit_word(unit: str, units: Units) -> str:
    """Return the word of a unit as that reader wants it, such as `lbf` for N; without a twin it stays."""
    return in_units(1.0, unit, units)[1]


def drawn_length(value_mm: float, units: Units) -> str:
    """Return a length as it stands at a dimension line: hundredths of a mm, or thousandths of an inch."""
    return f"{round(value_mm, 2) + 0.0:g}" if units == "mm" else f"{in_units(value_mm, 'mm', units)[0]:.3f}"


def reading_in_units(reading: str, units: Units, digits: int = 6) -> str:
    """Return a reading, a number or several with one unit after them, in the units wanted.

    Unlike in a sentence the inch figure takes the metric one's place, with so many significant digits at
    most: no more than the metric ones are true to. Other words stay as they are.
    """
    return reading if units == "mm" else _READING.sub(partial(_in_inches, digits=digits), reading)


def sentence_in_units(sentence: str, units: Units) -> str:
    """Return a sentence with the inch figure in brackets after each metric quantity, if inch is wanted.

    Within brackets it stands after an equals sign.
    """
    if units == "mm":
        return sentence
    return _PLACE_IN_A_SENTENCE.sub(_place_with_inches, _IN_A_SENTENCE.sub(_with_inches, sentence))


def percent(fraction: float | None) -> str:
    """Return a share in per cent, finer where it is small or where rounding would land on the limit."""
    if fraction is None or math.isnan(fraction):
        return "-"
    if fraction > 99.99:
        return f"{FAR_OVER} 9999 %"
    value = 100.0 * fraction
    # 99.7 must not read as 100, nor 100.3
    close = 99.0 < value < 101.0 or 79.5 < value < 80.5
    return f"{value:.1f} %" if close or 0.0 < value < 9.95 else f"{value:.0f} %"


def percent_marked(fraction: float | None, mark: str) -> str:
    """Return a share in per cent after a word that says where it stands: `over 112 %`.

    The word goes first: `112 % over` reads as 112 % too much.
    """
    told = percent(fraction)
    # a figure beyond the scale says `over` by itself
    if told.startswith(FAR_OVER) and mark == FAR_OVER:
        return told
    return f"{mark} {told}".strip()


def plain(text: str) -> str:
    """Return text without anything that could steer a terminal: control and direction marks are spelled out.

    Titles and names come from strangers' files.
    """
    return "".join(c if c.isprintable() or c == "\n" else _spelled(c) for c in text)


def _in_inches(match: re.Match[str], *, digits: int) -> str:
    numbers, metric = match[1], match[2]
    _, word = in_units(1.0, metric, "inch")
    if word == metric:
        return match[0]
    turned = _NUMBER.sub(
        lambda number: with_digits(in_units(float(number[0]), metric, "inch")[0], digits), numbers
    )
    return f"{turned} {word}"


def _with_inches(match: re.Match[str]) -> str:
    metric = match[4]
    number, unit = in_units(float(match[3]), metric, "inch")
    if unit == metric:
        return match[0]
    lead = _NUMBER.sub(
        lambda low: figure(in_units(float(low[0]), metric, "inch")[0]), match[1] or match[2] or ""
    )
    told = f"{lead}{figure(number)} {unit}"
    before = match.string[: match.start()]
    within = before.count("(") > before.count(")")
    return f"{match[0]} = {told}" if within else f"{match[0]} ({told})"


def _place_with_inches(match: re.Match[str]) -> str:
    x, y = (figure(in_units(float(number), "mm", "inch")[0]) for number in (match[2], match[3]))
    return f"at {match[1]} mm = ({x}, {y}) in"


def _spelled(character: str) -> str:
    if character in "\t\u00a0\u202f\u2009":
        return " "
    return character.encode("unicode_escape").decode("ascii")
