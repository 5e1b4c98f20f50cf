"""What people type as a quantity, read into a number of a known unit; and back for an inch reader.

The only file that knows pint. It is imported at the first conversion, because it is slow and a bracket file,
whose units stand in its keys, needs none.

Glossary
--------
unit word       what people write for a unit, such as `kgf.m`; only the words in the table below are read
bare number     one typed without a unit; it takes the unit the question was asked in
"""

from __future__ import annotations

import difflib
import functools
import math
import re
from fractions import Fraction
from typing import Any, Final

_LONGEST_TEXT: Final = 60


class UnitError(ValueError):
    """A quantity that cannot be read; the message says what to type instead."""


class AmbiguousNumberError(UnitError):
    """A number such as 1,500, whose comma can be a decimal comma or can part thousands."""


class WrongDimensionError(UnitError):
    """A quantity of another kind than asked for, such as a mass where a length is wanted."""


class UnknownUnitError(UnitError):
    """A unit word that is not in the table; the message suggests the nearest."""


def parse(text: str, unit: str, *, bare: str | None = None) -> float:
    """Return what was typed as a number of `unit`; a bare number is taken in `bare`, or else in `unit`.

    Reads decimal point or comma, fractions (1 5/8), parted thousands where they cannot be mistaken (1,500.0),
    an exponent, and the unit words of the table, such as mm, in, N.m, kgf.m, lbf.ft, MPa, ksi, kN, kgf, lb.
    UnitError for what is no quantity, AmbiguousNumberError for 1,500, UnknownUnitError, WrongDimensionError.
    """
    shown = text if len(text) <= _LONGEST_TEXT else text[:_LONGEST_TEXT] + "..."
    if len(text) > _LONGEST_TEXT:
        raise UnitError(f"{shown!r} is too long for a quantity: type a number and a unit, such as 42 mm")
    match = _QUANTITY.fullmatch(text.strip())
    if match is None:
        raise UnitError(
            f"{shown!r} is not a quantity: type a number and a unit, such as 42 {unit} or 1 5/8 in"
        )
    word = match["unit"].strip() or bare or unit
    number = _number(match["number"], match["sign"], shown, word)
    return convert(number, word, unit, text=shown)


def convert(value: float, from_unit: str, to_unit: str, *, text: str | None = None) -> float:
    """Return a value of `from_unit` in `to_unit`; both are unit words.

    UnknownUnitError for a word not in the table, WrongDimensionError where the two measure different things,
    UnitError if the result is not finite. `text` is what was typed, for the message.
    """
    from_word, to_word = _unit_word(from_unit), _unit_word(to_unit)
    from_kind, to_kind = _UNITS[from_word][1], _UNITS[to_word][1]
    if from_kind != to_kind:
        typed = text or f"{value:g} {from_unit}"
        raise WrongDimensionError(
            f"{typed} is {from_kind}, but {to_kind} is wanted here, such as 5 {to_unit}"
            f"{_hint(from_word, to_kind)}"
        )
    result = value * _factor(_UNITS[from_word][0], _UNITS[to_word][0])
    if not math.isfinite(result):
        raise UnitError(f"{text or value} is not a finite number: type a smaller one")
    return result


def inch_reading(value: float, unit: str) -> tuple[float, str]:
    """Return a value and its unit word as an inch reader wants them: inch for mm, lbf for N, ksi for MPa.

    Units that have no inch twin, such as deg, come back unchanged; UnknownUnitError for an unknown word.
    """
    twin = _INCH_TWINS.get(_unit_word(unit))
    return (value, unit) if twin is None else (convert(value, unit, twin), twin)


def inch_fraction(value_mm: float, finest: int = 64) -> str:
    """Return a length as a rule shows it, such as `1 5/8 in`; decimals if no fraction is within 0.001 in."""
    inches = convert(value_mm, "mm", "in")
    nearest = Fraction(round(abs(inches) * finest), finest)
    if abs(float(nearest) - abs(inches)) > 0.001:
        return f"{inches:.4g} in"
    whole, rest = divmod(nearest, 1)
    parts = [str(whole)] if whole or not rest else []
    parts += [f"{rest.numerator}/{rest.denominator}"] if rest else []
    return ("-" if inches < 0 and nearest else "") + " ".join(parts) + " in"


def unit_words() -> tuple[str, ...]:
    """Return the unit words that are read, in the table's spelling."""
    return tuple(_UNITS)


# unit word: (what pint calls it, what it measures)
_UNITS: Final[dict[str, tuple[str, str]]] = {
    "mm": ("millimeter", "a length"),
    "cm": ("centimeter", "a length"),
    "m": ("meter", "a length"),
    "in": ("inch", "a length"),
    "ft": ("foot", "a length"),
    "thou": ("0.001 * inch", "a length"),
    "N": ("newton", "a force"),
    "kN": ("kilonewton", "a force"),
    "kgf": ("kilogram_force", "a force"),
    "lbf": ("pound_force", "a force"),
    "N.m": ("newton * meter", "a torque"),
    "N.mm": ("newton * millimeter", "a torque"),
    "N.cm": ("newton * centimeter", "a torque"),
    "kN.m": ("kilonewton * meter", "a torque"),
    "kgf.m": ("kilogram_force * meter", "a torque"),
    "kgf.cm": ("kilogram_force * centimeter", "a torque"),
    "lbf.ft": ("pound_force * foot", "a torque"),
    "lbf.in": ("pound_force * inch", "a torque"),
    "MPa": ("megapascal", "a stress"),
    "GPa": ("gigapascal", "a stress"),
    "Pa": ("pascal", "a stress"),
    "N/mm2": ("newton / millimeter**2", "a stress"),
    "kgf/mm2": ("kilogram_force / millimeter**2", "a stress"),
    "ksi": ("1000 * pound_force / inch**2", "a stress"),
    "psi": ("pound_force / inch**2", "a stress"),
    "kg": ("kilogram", "a mass"),
    "g": ("gram", "a mass"),
    "lb": ("pound", "a mass"),
    "deg": ("degree", "an angle"),
    "rad": ("radian", "an angle"),
    "N/mm": ("newton / millimeter", "a stiffness"),
    "N/m": ("newton / meter", "a stiffness"),
    "kN/mm": ("kilonewton / millimeter", "a stiffness"),
    "kgf/mm": ("kilogram_force / millimeter", "a stiffness"),
    "lbf/in": ("pound_force / inch", "a stiffness"),
    "N.m/deg": ("newton * meter / degree", "a turning stiffness"),
    "N.m/rad": ("newton * meter / radian", "a turning stiffness"),
    "N.mm/rad": ("newton * millimeter / radian", "a turning stiffness"),
    "kN.m/rad": ("kilonewton * meter / radian", "a turning stiffness"),
    "lbf.ft/deg": ("pound_force * foot / degree", "a turning stiffness"),
    "N.m/mm": ("newton * meter / millimeter", "a couple for a movement"),
    "lbf.ft/in": ("pound_force * foot / inch", "a couple for a movement"),
    "mm2": ("millimeter**2", "an area"),
    "in2": ("inch**2", "an area"),
    "kg/m3": ("kilogram / meter**3", "a density"),
    "g/cm3": ("gram / centimeter**3", "a density"),
    "lb/in3": ("pound / inch**3", "a density"),
}

_OTHER_SPELLINGS: Final[dict[str, str]] = {
    "inch": "in", "inches": "in", '"': "in", "''": "in", "'": "ft", "foot": "ft", "feet": "ft", "mil": "thou",
    "millimetre": "mm", "millimetres": "mm", "nm": "N.m", "n*m": "N.m", "nmm": "N.mm", "knm": "kN.m",
    "kg.m": "kgf.m", "kgm": "kgf.m", "kgfm": "kgf.m", "m.kgf": "kgf.m", "m.kg": "kgf.m", "kg.cm": "kgf.cm",
    "ft.lbf": "lbf.ft", "ft.lb": "lbf.ft", "lb.ft": "lbf.ft", "lbft": "lbf.ft", "ftlb": "lbf.ft",
    "in.lbf": "lbf.in", "in.lb": "lbf.in", "lb.in": "lbf.in", "lbin": "lbf.in", "inlb": "lbf.in",
    "lbs": "lb", "kgs": "kg", "kilo": "kg", "kp": "kgf", "newton": "N", "degree": "deg", "degrees": "deg",
    "\u00b0": "deg", "mpas": "MPa", "nm/deg": "N.m/deg", "nm/rad": "N.m/rad",
}  # fmt: skip
"""In small letters; `lb.ft` and `kg.m` are read as torques, which is all the trade means by them."""

_INCH_TWINS: Final[dict[str, str]] = {
    "mm": "in", "cm": "in", "m": "ft", "N": "lbf", "kN": "lbf", "N.m": "lbf.ft", "N.mm": "lbf.in",
    "MPa": "ksi", "GPa": "ksi", "N/mm2": "ksi", "kg": "lb", "N/mm": "lbf/in", "N.m/deg": "lbf.ft/deg",
    "N.m/mm": "lbf.ft/in",
    "mm2": "in2", "kg/m3": "lb/in3",
}  # fmt: skip

_QUANTITY: Final = re.compile(
    r"(?P<sign>[+\-\u2212]?)\s*"
    r"(?P<number>(?:\d+(?:\s+|-))?\d+\s*/\s*\d+|(?:\d[\d.,]*|[.,]\d+)(?:[eE][+-]?\d{1,3})?)"
    r"(?P<unit>\s*(?:[^\d\s.,/].*)?)"
)


def _number(digits: str, sign: str, shown: str, unit: str) -> float:
    value = _fraction(digits, shown) if "/" in digits else _decimal(digits, shown, unit)
    if not math.isfinite(value):
        raise UnitError(f"{shown!r} is not a finite number: type a smaller one")
    return -value if sign in ("-", "\u2212") else value


def _fraction(digits: str, shown: str) -> float:
    *whole, top, bottom = (int(part) for part in re.findall(r"\d+", digits))
    if bottom == 0:
        raise UnitError(f"{shown!r} divides by zero: type a fraction such as 1 5/8")
    return (whole[0] if whole else 0) + top / bottom


def _decimal(digits: str, shown: str, unit: str) -> float:
    mantissa, _, exponent = digits.lower().partition("e")
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", mantissa):
        plain, decimal = mantissa.replace(",", ""), mantissa.replace(",", ".")
        raise AmbiguousNumberError(
            f"{shown!r} can be read two ways: type {plain} {unit} or {decimal} {unit}, whichever is meant"
        )
    for thousands, point in ((",", "."), (".", ",")):
        parted = rf"[1-9]\d{{0,2}}(?:\{thousands}\d{{3}})+"
        twice = mantissa.count(thousands) > 1 and re.fullmatch(parted, mantissa)
        if twice or re.fullmatch(rf"{parted}\{point}\d*", mantissa):
            mantissa = mantissa.replace(thousands, "").replace(point, ".")
            break
    else:
        mantissa = mantissa.replace(",", ".")
    try:
        return float(f"{mantissa}e{exponent}" if exponent else mantissa)
    except ValueError:
        raise UnitError(f"{shown!r} is not a number: type it as 1500 or 6.5") from None


def _unit_word(typed: str) -> str:
    word = re.sub(r"\s*[.*\u00b7\u22c5]\s*|(?<=[A-Za-z])[\s-]+(?=[A-Za-z])", ".", typed.strip())
    word = (
        word.replace("\u00b2", "2")
        .replace("\u00b3", "3")
        .replace("^", "")
        .replace("\u2033", '"')
        .replace(" ", "")
    )
    if word in _UNITS:
        return word
    small = word.casefold()
    if small in _OTHER_SPELLINGS:
        return _OTHER_SPELLINGS[small]
    if small in _UNITS_IN_SMALL_LETTERS:
        return _UNITS_IN_SMALL_LETTERS[small]
    near = difflib.get_close_matches(small, _UNITS_IN_SMALL_LETTERS, n=1, cutoff=0.5)
    advice = f"did you mean {_UNITS_IN_SMALL_LETTERS[near[0]]}? " if near else ""
    raise UnknownUnitError(
        f"{typed!r} is not a unit that is read here; {advice}read are: {', '.join(_UNITS)}"
    )


_UNITS_IN_SMALL_LETTERS: Final = {word.casefold(): word for word in _UNITS}


def _hint(from_word: str, to_kind: str) -> str:
    if from_word in ("kg", "lb") and to_kind == "a force":
        return f" ({from_word} is read as a mass; the force is written {from_word}f)"
    return ""


@functools.cache
def _factor(from_name: str, to_name: str) -> float:
    registry = _registry()
    return float((registry(from_name) / registry(to_name)).to("dimensionless").magnitude)


@functools.cache
def _registry() -> Any:  # noqa: ANN401 - pint's registry has no static type of its own
    import pint

    return pint.UnitRegistry()
