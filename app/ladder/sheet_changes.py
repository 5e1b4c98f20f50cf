"""Changes of plates and of the dash bar's tube."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from pydantic import ValidationError

from app.editing.refused import EditRefused
from app.ladder.changed import Changed
from geometry.bar_section import RectangularTube, Round, Solid
from geometry.bracket import Bracket
from geometry.materials import UnknownMaterialError, material
from geometry.plate import Plate
from geometry.units import UnitError, parse

_THICKNESS_MM: Final = 6.0
"""Sheet metals are put in order by what they yield at in this thickness."""


def length_mm(text: str) -> float:
    """Return a length that somebody typed; EditRefused for what is none, or not above nought."""
    try:
        value = parse(text, "mm")
    except UnitError as error:
        raise EditRefused(str(error)) from error
    if not 0.0 < value < 10_000.0:
        raise EditRefused(f"{text} is no length to make anything of: give one above 0 and below 10 000 mm")
    return value


def with_thickness(bracket: Bracket, only: str | None, text: str) -> Changed:
    """Return the bracket with plates of another thickness."""
    value = length_mm(text)
    return Changed(_each_plate(bracket, only, lambda plate: plate.but(thickness_mm=value)))


def with_material(bracket: Bracket, only: str | None, text: str) -> Changed:
    """Return the bracket with plates of another sheet metal; EditRefused for an unknown one."""
    try:
        name = material(text.strip(), bracket.materials).name
    except UnknownMaterialError as error:
        raise EditRefused(str(error)) from error
    return Changed(_each_plate(bracket, only, lambda plate: plate.but(material=name)))


def with_radius(bracket: Bracket, only: str | None, text: str) -> Changed:
    """Return the bracket with folds of another inside radius; `only` names a fold.

    EditRefused for what is no length, without any fold, and for a fold that is not there.
    """
    value = length_mm(text)
    names = {fold.name for plate in bracket.plates for fold in plate.folds}
    if not names:
        raise EditRefused("no plate has a fold whose radius could change")
    if only is not None and only not in names:
        raise EditRefused(f"there is no fold {only}; there is: {', '.join(sorted(names))}")

    def bent(plate: Plate) -> Plate:
        folds = (
            fold.but(inside_radius_mm=value) if only in (None, fold.name) else fold for fold in plate.folds
        )
        return plate.but(folds=tuple(folds))

    return Changed(_each_plate(bracket, None, bent))


def with_bar(bracket: Bracket, part: str | None, text: str) -> Changed:
    """Return the bracket with another tube as its dash bar; `part` is outer, wall, width or height.

    EditRefused where there is no dash bar, or its tube has no such measure.
    """
    bar, value = bracket.dash_bar, length_mm(text)
    if bar is None:
        raise EditRefused("there is no dash bar whose tube could change")
    section = bar.section
    fields: dict[str, float]
    if part == "wall" and not isinstance(section, Solid):
        fields = {"wall_mm": value}
    elif part == "outer" and isinstance(section, Round):
        fields = {"outer_mm": value}
    elif part == "outer" and isinstance(section, RectangularTube) and section.width_mm == section.height_mm:
        fields = {"width_mm": value, "height_mm": value}
    elif part in ("width", "height") and not isinstance(section, Round):
        fields = {f"{part}_mm": value}
    else:
        raise EditRefused(f"the dash bar is a {section.kind} and has no {part} that could change")
    try:
        return Changed(bracket.but(dash_bar=bar.but(section=section.but(**fields))))
    except ValidationError as error:
        raise EditRefused(f"the dash bar cannot be made so: {error.errors()[0]['msg']}") from error


def order_of_length(text: str) -> float:
    """Return what lengths are put in order by; infinity for what is none."""
    try:
        return length_mm(text)
    except EditRefused:
        return float("inf")


def order_of_material(text: str) -> float:
    """Return what sheet metals are put in order by: their yield stress; infinity for an unknown one."""
    try:
        return material(text.strip()).yield_mpa(_THICKNESS_MM) or float("inf")
    except UnknownMaterialError:
        return float("inf")


def _each_plate(bracket: Bracket, only: str | None, change: Callable[[Plate], Plate]) -> Bracket:
    names = [plate.name for plate in bracket.plates]
    if not names:
        raise EditRefused("there is no plate to change: draw one first")
    if only is not None and only not in names:
        raise EditRefused(f"there is no plate {only}; there is: {', '.join(names)}")
    return bracket.but(plates=tuple(change(p) if only in (None, p.name) else p for p in bracket.plates))
