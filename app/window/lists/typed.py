"""What is typed into a field, read into its value; and a value as the field shows it. No Qt."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final

from app.editing.entry import entered
from app.editing.entry import shown as shown_quantity
from app.editing.refused import EditRefused
from app.window.lists.bar_sections import EXAMPLE as SECTION_EXAMPLE
from app.window.lists.bar_sections import SECTION_WORDS, parted, section_from, section_sizes
from app.window.lists.field import OPEN_BOX, Field
from app.wording.figures import plain
from geometry.bar_section import Angle, Channel, FlatBar, RectangularTube, RoundBar, RoundTube, Section
from geometry.bolt_tables import UnknownBoltError, bolt_grade, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import Spacer, Washer
from geometry.materials import UnknownMaterialError, material
from geometry.units import UnitError, convert, inch_fraction, inch_reading

VARIOUS: Final = "various"
_POWER_OF_TEN: Final = re.compile(r"(?<=[\d.,])[eE](?=[+\-]?\d)")


def typed(field: Field, text: str, bracket: Bracket, *, inch: bool = False) -> object:
    """Return the value that was typed into a field; None for an empty one that may be empty.

    EditRefused says in one sentence what cannot be read and what to type instead.
    """
    words = text.strip()
    if words in ("", OPEN_BOX, field.instead):
        if field.may_be_empty or field.value is None:
            return None
        raise EditRefused(f"{field.spoken} cannot be empty: type {_example(field)}")
    if field.varies and words == VARIOUS:
        raise EditRefused(f"{field.spoken}: type one value for all of them, or open the row and change one")
    return _READERS[field.kind](field, words, bracket, inch)


def shown(field: Field, *, inch: bool = False) -> str:
    """Return a field's value as it is shown, and as it is first offered for typing over."""
    if field.varies:
        return VARIOUS
    if field.value is None:
        return OPEN_BOX if field.blank else field.instead
    return in_words(field.value, field.kind, field.unit, inch=inch)


def in_words(value: object, kind: str, unit: str = "", *, inch: bool = False) -> str:
    """Return a value of that kind in words."""
    match value:
        case Washer():
            sizes = (value.outer_mm, value.inner_mm, value.thickness_mm)
            return _sizes(sizes, inch=inch)
        case Spacer():
            steel = "" if value.material == "S235" else f" {value.material}"
            return _sizes((value.outer_mm, value.inner_mm, value.length_mm), inch=inch) + steel
        case RoundTube() | RectangularTube() | RoundBar() | FlatBar() | Angle() | Channel():
            sides = _sizes(section_sizes(value), inch=inch).removesuffix(" mm")
            return f"{SECTION_WORDS[value.kind]} {sides}".lstrip()
        case ((_, _, _), *_) | (float() | int(), float() | int(), float() | int()):
            return _places_shown(value, inch=inch)
        case (float() | int() as low, float() | int() as high):
            return _range(float(low), float(high), unit, inch=inch)
        case bool():
            return "yes" if value else "no"
        case float() | int():
            return (
                f"{100.0 * value:.6g} %" if kind == "share" else quantity_text(float(value), unit, inch=inch)
            )
        case _:
            # One line, and nothing that draws: it may come from a stranger's file.
            return plain(" ".join(str(value).split()))


def quantity_text(value: float, unit: str, *, inch: bool = False) -> str:
    """Return a quantity with its unit, or a plain number where it has none."""
    if not unit:
        return f"{value:.7g}"
    if not inch:
        return shown_quantity(value, unit, inch)
    if unit == "mm":
        return inch_fraction(value)
    number, word = inch_reading(value, unit)
    return shown_quantity(value, unit, False) if word == unit else f"{_four_figures(number)} {word}"


def _quantity(field: Field, text: str, bracket: Bracket, inch: bool) -> float:
    return _number(text, field.unit, field.spoken, inch)


def _range_of(field: Field, text: str, bracket: Bracket, inch: bool) -> tuple[float, float]:
    """Read `8 to 25 kN/mm`: the low end takes the high end's unit where it has none; one figure is both."""
    ends = _BETWEEN_ENDS.split(text)
    if len(ends) == 1:
        both = _number(text, field.unit, field.spoken, inch)
        return both, both
    if len(ends) != 2:
        raise EditRefused(f"{field.spoken}: {text!r} has more than two ends; type {_example(field)}")
    word = re.sub(r"^[\s\d.,/+eE-]*(?=[^\d\s]|$)", "", ends[1])
    first = ends[0] if re.search(r"[^\W\d_]", ends[0]) else f"{ends[0]} {word}"
    low, high = (_number(end, field.unit, field.spoken, inch) for end in (first, ends[1]))
    if low > high:
        raise EditRefused(f"{field.spoken}: {text!r} begins above its end; give the lower figure first")
    return low, high


def _plain_number(field: Field, text: str, bracket: Bracket, inch: bool) -> float:
    if re.search(r"[^\W\d_]|[%\"']", _POWER_OF_TEN.sub("", text)):
        raise EditRefused(
            f"{field.spoken}: {text!r} is no plain number; type it without a unit, such as 0.15"
        )
    return _number(text, "mm", field.spoken, False, unit_shown="")


def _whole_number(field: Field, text: str, bracket: Bracket, inch: bool) -> int:
    number = _plain_number(field, text, bracket, inch)
    if number != int(number):
        raise EditRefused(f"{field.spoken}: {text} is no whole number; type one, such as 4")
    return int(number)


def _place(field: Field, text: str, bracket: Bracket, inch: bool) -> tuple[float, float, float]:
    """Read `0 -120 -480`, with one unit after the last where it is another than shown."""
    figures = text.split()
    unit = figures.pop() if figures and figures[-1].isalpha() else ""
    if len(figures) != 3:
        raise EditRefused(f"{field.spoken}: {text!r} is no place; type x, y and z, such as 0 -120 -480")
    x, y, z = (_number(f"{figure} {unit}".strip(), "mm", field.spoken, inch) for figure in figures)
    return x, y, z


def _places(field: Field, text: str, bracket: Bracket, inch: bool) -> tuple[tuple[float, float, float], ...]:
    return tuple(_place(field, piece, bracket, inch) for piece in text.split(";") if piece.strip())


def _places_shown(value: object, *, inch: bool) -> str:
    """Return one place as `x y z`, several with strokes between; in inches with their unit, as it is read."""
    if isinstance(value, tuple) and value and isinstance(value[0], tuple):
        return "; ".join(_places_shown(place, inch=inch) for place in value)
    figures: Iterable[float] = value  # type: ignore[assignment]
    if inch:
        return " ".join(f"{convert(figure, 'mm', 'in'):.6g}" for figure in figures) + " in"
    return " ".join(f"{figure:.6g}" for figure in figures)


def _share(field: Field, text: str, bracket: Bracket, inch: bool) -> float:
    number = _plain_number(field, text.removesuffix("%").strip(), bracket, inch)
    if not text.endswith("%") and 0.0 < number < 1.0:
        raise EditRefused(
            f"{field.spoken}: {text} can be read two ways; type {number:.0%}".replace("%", " %")
            + f" or {number:g} %, whichever is meant"
        )
    return number / 100.0


def _words(field: Field, text: str, bracket: Bracket, inch: bool) -> str:
    return text


def _choice(field: Field, text: str, bracket: Bracket, inch: bool) -> str:
    for choice in field.choices:
        if choice.casefold() == text.casefold():
            return choice
    near = [choice for choice in field.choices if choice.casefold().startswith(text.casefold())]
    if len(near) == 1:
        return near[0]
    raise EditRefused(f"{field.spoken}: {text!r} is none of {', '.join(field.choices)}; choose one of these")


def _size(field: Field, text: str, bracket: Bracket, inch: bool) -> str:
    try:
        return bolt_size(text).name
    except UnknownBoltError as fault:
        raise EditRefused(_short(field, str(fault))) from None


def _grade(field: Field, text: str, bracket: Bracket, inch: bool) -> str:
    try:
        return bolt_grade(text).name
    except UnknownBoltError as fault:
        raise EditRefused(_short(field, str(fault))) from None


def _material(field: Field, text: str, bracket: Bracket, inch: bool) -> str:
    try:
        return material(text, bracket.materials).name
    except UnknownMaterialError as fault:
        raise EditRefused(_short(field, str(fault))) from None


def _short(field: Field, sentence: str) -> str:
    """Return a table's refusal without all that the table has: the field offers it to choose from."""
    told = re.split(r"[;,]? (?:the table has|there are):", sentence)[0].rstrip("; ")
    return f"{field.spoken}: {told}" + ("" if told.endswith("?") else "; Alt+Down shows what there is")


def _washer(field: Field, text: str, bracket: Bracket, inch: bool) -> Washer | str:
    if text.casefold() in ("standard", "none"):
        return text.casefold()
    outer, inner, thick = _three(field, text, inch, "outer x inner x thickness, such as 24 x 8.4 x 2 mm")
    return Washer(outer_mm=outer, inner_mm=inner, thickness_mm=thick)


def _spacer(field: Field, text: str, bracket: Bracket, inch: bool) -> Spacer:
    outer, inner, length = _three(field, text, inch, "outer x inner x length, such as 20 x 9 x 12 mm")
    before = field.value
    steel = before.material if isinstance(before, Spacer) else "S235"
    return Spacer(outer_mm=outer, inner_mm=inner, length_mm=length, material=steel)


def _section(field: Field, text: str, bracket: Bracket, inch: bool) -> Section:
    word, rest = parted(text)
    section = section_from(word, _across(field, rest, inch))
    if section is None:
        raise EditRefused(f"{field.spoken}: {text!r} is no section of a bar; type {_example(field)}")
    return section


def _three(field: Field, text: str, inch: bool, wanted: str) -> tuple[float, float, float]:
    sizes = _across(field, text, inch)
    if len(sizes) != 3:
        raise EditRefused(f"{field.spoken}: {text!r} has not three sizes; type {wanted}")
    return sizes[0], sizes[1], sizes[2]


def _across(field: Field, text: str, inch: bool) -> list[float]:
    """Read sizes parted by x; those without a unit take that of the last one."""
    parts = [part.strip() for part in re.split(r"\s*[x\u00d7*]\s*", text.strip().casefold()) if part.strip()]
    if not parts:
        raise EditRefused(f"{field.spoken}: {text!r} has no sizes; type {_example(field)}")
    unit = re.search(r"[^\W\d_]+$|\"$", parts[-1])
    word = unit[0] if unit else ""
    return [
        _number(part if re.search(r"[^\W\d_]|\"", part) else f"{part} {word}", "mm", field.spoken, inch)
        for part in parts
    ]


def _number(text: str, unit: str, spoken: str, inch: bool, *, unit_shown: str | None = None) -> float:
    bare = inch_reading(1.0, unit)[1] if inch and unit_shown is None else None
    try:
        return entered(text, unit, bare=bare)
    except UnitError as fault:
        sentence = str(fault) if unit_shown is None else str(fault).replace(f" {unit}", unit_shown)
        raise EditRefused(f"{spoken}: {sentence}") from None


def _example(field: Field) -> str:
    examples = {
        "quantity": f"{_USUAL_FIGURES.get(field.unit, 42.0):g} {field.unit}",
        "range": f"8 to 25 {'kN/mm' if field.unit == 'N/mm' else field.unit}",
        "share": "25 %",
        "section": SECTION_EXAMPLE,
        "choice": f"one of {', '.join(field.choices)}",
        "size": "a size such as M8",
        "grade": "a grade such as 8.8",
        "material": "a material such as S275",
        "words": "a word or two",
    }
    return examples.get(field.kind, "a number")


_USUAL_FIGURES: Final = {"N.m": 30.0, "deg": 24.0, "kg": 5.2}

_BETWEEN_ENDS: Final = re.compile(
    r"\s+to\s+|\s*(?:\.\.\.?|[\u2013\u2014\u2026])\s*|(?<=[\w.])\s*-\s*(?=[\d.])", re.IGNORECASE
)
"""A range has no negative ends, so a stroke between two figures parts them."""

_READERS: Final[dict[str, Callable[[Field, str, Bracket, bool], object]]] = {
    "quantity": _quantity,
    "range": _range_of,
    "number": _plain_number,
    "whole number": _whole_number,
    "place": _place,
    "places": _places,
    "share": _share,
    "words": _words,
    "choice": _choice,
    "size": _size,
    "grade": _grade,
    "material": _material,
    "washer": _washer,
    "spacer": _spacer,
    "section": _section,
}


def _sizes(sizes_mm: tuple[float, ...], *, inch: bool) -> str:
    if inch:
        return f"{' x '.join(inch_fraction(size).removesuffix(' in') for size in sizes_mm)} in"
    return f"{' x '.join(f'{size:.6g}' for size in sizes_mm)} mm"


def _range(low: float, high: float, unit: str, *, inch: bool) -> str:
    if unit in ("N/mm", "N") and not inch and max(abs(low), abs(high)) >= 1000.0:
        low, high, unit = low / 1000.0, high / 1000.0, f"k{unit}"
    elif inch:
        (low, _), (high, unit) = inch_reading(low, unit), inch_reading(high, unit)
    ends = _four_figures(low) if low == high else f"{_four_figures(low)} to {_four_figures(high)}"
    return f"{ends} {unit}".rstrip()


def _four_figures(value: float) -> str:
    """Return a number rounded to four figures, never with an exponent."""
    rounded = float(f"{value:.4g}")
    return f"{rounded:.0f}" if abs(rounded) >= 1000.0 else f"{rounded:.4g}"
