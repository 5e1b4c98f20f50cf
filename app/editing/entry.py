"""What is typed in a cell, read into a number; and a number as a cell shows it.

A cell takes a quantity, or several with plus and minus between them: `42`, `1 5/8 in`, `6,5`, `42+3`,
`1 in - 3 mm`. `100/3` is read as the fraction it is. A number without a unit takes the cell's; where some
terms carry a unit and others none, and it is not the cell's own, it is asked about, as is `42-3/8`.
"""

from __future__ import annotations

import math
import re
from typing import Final

from geometry.file_text import LARGEST_NUMBER
from geometry.units import AmbiguousNumberError, UnitError, convert, inch_fraction, inch_reading, parse

_SIGN: Final = re.compile(r"(?<![eE])(?P<space>\s*)(?P<sign>[+\-\u2212])(?P<after>\s*)(?=[\d.,])")
_EXPONENT: Final = re.compile(r"\d[.,]?[eE]$")
_BARE: Final = re.compile(r"[\s\d.,/+\-\u2212]*(?:[eE][+-]?\d{1,3})?\s*")
_MIXED_FRACTION: Final = re.compile(r"(?<![\d.,/])(\d+)-(\d+)\s*/\s*(\d+)")
_LONGEST: Final = 200
_NEAR_WHOLE_IN: Final = 0.001
_INCH_DECIMALS: Final = 4
"""Of a gauge reading: tenths of a thousandth."""


def entered(text: str, unit: str, *, bare: str | None = None) -> float:
    """Return what was typed as a number of `unit`; numbers without a unit are of `bare`, or else of `unit`.

    UnitError, a ValueError, with a sentence that says what to type, for anything that is no quantity;
    AmbiguousNumberError, a UnitError, for what can be read two ways.
    """
    typed = text.strip()
    shown = typed if len(typed) <= 40 else typed[:40] + "..."
    if not typed:
        raise UnitError(f"nothing is typed; type a number, such as 42 {bare or unit}")
    if len(typed) > _LONGEST:
        raise UnitError(f"{shown!r} is too long; type a number and a unit, such as 42 {unit}")
    mixed = _MIXED_FRACTION.search(typed)
    if mixed is not None:
        whole, top, bottom = mixed.groups()
        raise AmbiguousNumberError(
            f"{shown!r} can be read two ways: type {whole} {top}/{bottom} or {whole} - {top}/{bottom},"
            " whichever is meant"
        )
    terms = _terms(typed, shown)
    if len(terms) > 1:
        _refuse_mixed_units(terms, bare or unit, shown)
    value = math.fsum(sign * parse(term, unit, bare=bare) for sign, term in terms)
    if abs(value) > LARGEST_NUMBER:
        # a file that holds it is read with a finding, so it is not taken in the first place
        raise UnitError(f"{shown!r} is beyond any figure of a bracket; look at the number and its unit")
    return value


def shown(value: float, unit: str, inch: bool) -> str:
    """Return a number of `unit` as a cell shows it, with its unit; inch readers get inches, lbf and so on.

    Lengths in inches are fractions where one is within 0.001 in. What is shown can be typed in again; it is
    rounded, so a cell left unchanged keeps its value by not being read.
    """
    if not inch:
        return f"{_plain(value)} {unit}"
    if unit == "mm":
        text, inches = inch_fraction(value), convert(value, "mm", "in")
        # a gauge's hundredth of a mm is no nought
        near_whole = abs(inches - round(inches)) <= _NEAR_WHOLE_IN and (round(inches) != 0 or not value)
        return text if "/" in text or near_whole else f"{_plain(inches)} in"
    twin, word = inch_reading(value, unit)
    return f"{_plain(twin)} {word}"


def shown_reading(value_mm: float, inch: bool) -> str:
    """Return a length that was read off a gauge: an inch reader's gauge has decimals, never fractions."""
    if not inch:
        return shown(value_mm, "mm", inch=False)
    return f"{round(convert(value_mm, 'mm', 'in'), _INCH_DECIMALS) + 0.0:.{_INCH_DECIMALS}f} in"


def _terms(typed: str, shown: str) -> list[tuple[float, str]]:
    """Return the terms with their signs; the sign of the first may be left out."""
    cuts = [match for match in _SIGN.finditer(typed) if not _EXPONENT.search(typed[: match.start("sign")])]
    starts = [match.start("sign") for match in cuts]
    terms: list[tuple[float, str]] = []
    if not cuts or typed[: starts[0]].strip():
        terms.append((1.0, typed[: starts[0] if cuts else None].strip()))
    for match, end in zip(cuts, [*starts, len(typed)][1:], strict=True) if cuts else ():
        terms.append((1.0 if match["sign"] == "+" else -1.0, typed[match.end() : end].strip()))
    for _, term in terms:
        if not term or term[-1] in "+-\u2212" or term[0] in "+-\u2212":
            raise UnitError(f"{shown!r} has a plus or minus without a number; type it as 42 + 3")
    return terms


def _refuse_mixed_units(terms: list[tuple[float, str]], usual: str, shown: str) -> None:
    bare = [term for _, term in terms if _BARE.fullmatch(term)]
    with_unit = [term for _, term in terms if not _BARE.fullmatch(term)]
    for term in with_unit:
        if bare and not math.isclose(parse(f"1 {_unit_of(term)}", usual), 1.0, rel_tol=1e-12):
            word = _unit_of(term)
            raise AmbiguousNumberError(
                f"the {bare[0]} in {shown!r} has no unit: type {bare[0]} {usual} or {bare[0]} {word},"
                " whichever is meant"
            )


def _unit_of(term: str) -> str:
    match = re.search(r"(?<=[\d\s.,])[^\d\s.,/].*$", term)
    return match.group(0) if match else ""


def _plain(value: float) -> str:
    """Return a number with at most three decimals or five figures, whichever is finer, never an exponent."""
    if value == 0.0 or not math.isfinite(value):
        return f"{value + 0.0:g}"
    decimals = max(3, 4 - math.floor(math.log10(abs(value))))
    text = f"{value:.{min(decimals, 15)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
