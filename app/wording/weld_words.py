"""Welds in words, as drawings and lists have them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from app.wording.figures import Units, drawn_length
from app.wording.plate_name import plate_called
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtDashBar
from geometry.flat_segments import Flat
from geometry.fold_map import fold_map_of
from geometry.weld import Weld
from geometry.weld_places import WeldPlace, place_welds

_SLANT: Final = math.tan(math.radians(22.5))
FILLET: Final = "\u25fa"
"""The right-angled triangle of a fillet weld, ISO 2553."""


def size_words(weld: Weld, units: Units = "mm") -> str:
    """Return its size as a drawing has it, in the drawing's own unit: `a4`, `z6` where the leg was given.

    A blank is `a?`.
    """
    if weld.throat_mm is None and weld.leg_mm is not None:
        return f"z{drawn_length(weld.leg_mm, units)}"
    return "a?" if weld.throat_mm is None else f"a{drawn_length(weld.throat_mm, units)}"


def told_size(weld: Weld) -> str:
    """Return its size with its unit, as a sentence or a list has it: `throat 4 mm`, `leg 6 mm`."""
    if weld.throat_mm is None and weld.leg_mm is not None:
        return f"leg {weld.leg_mm:g} mm"
    return "throat blank" if weld.throat_mm is None else f"throat {weld.throat_mm:g} mm"


def sides_words(weld: Weld) -> str:
    """Return which faces it runs along."""
    return "both sides" if weld.sides == "both" else f"{weld.sides} alone"


def partner_of(weld: Weld) -> str:
    """Return what it leads to."""
    match weld.joins:
        case AtDashBar():
            return "dash bar"
        case AtAnchor():
            return (
                weld.joins.anchor if weld.joins.anchor.startswith("anchor") else f"anchor {weld.joins.anchor}"
            )
        case _:
            return plate_called(weld.joins.plate)


def plate_of_weld(weld: Weld) -> str:
    """Return whose edge it is."""
    return plate_called(weld.plate)


def weld_words(weld: Weld) -> str:
    """Return a weld in words, such as `throat 4 mm, both sides, 152 mm, casing plate to foot plate`."""
    long = f"{weld.length_mm:.4g} mm"
    return f"{told_size(weld)}, {sides_words(weld)}, {long}, {plate_of_weld(weld)} to {partner_of(weld)}"


def symbol_words(weld: Weld, units: Units = "mm") -> str:
    """Return what stands at it on a drawing: size, triangle, twice where it is on both sides."""
    marks = FILLET * (2 if weld.sides == "both" else 1)
    return f"{size_words(weld, units)}{marks} {weld.name}"


def welds_on(bracket: Bracket, plate_name: str) -> Iterator[tuple[Weld, tuple[Flat, Flat]]]:
    """Yield the welds on a plate's edges, as drawn, then those that others leave on its faces."""
    for weld in bracket.welds:
        if weld.plate == plate_name:
            yield weld, (weld.from_mm, weld.to_mm)
    for place, flat in _standing_on(bracket, plate_name):
        yield place.weld, flat


def _standing_on(bracket: Bracket, plate_name: str) -> Iterator[tuple[WeldPlace, tuple[Flat, Flat]]]:
    """Yield each weld that another plate leaves on a plate's faces, and where it lies in its flat pattern."""
    for place in place_welds(bracket) if bracket.welds else ():
        if place.partner == "plate" and place.partner_name == plate_name and place.partner_flat_mm:
            yield place, place.partner_flat_mm


def stands_words(bracket: Bracket, plate_name: str) -> Iterator[tuple[Weld, tuple[Flat, Flat], str]]:
    """Yield each weld that stands on a plate's face, where the middle of its edge lies, and how it stands.

    In words such as `on the front, its own front toward the upper edge`: left, right, upper and lower as the
    plate's flat pattern is drawn.
    """
    for place, flat in _standing_on(bracket, plate_name):
        words = f"on the {place.partner_side}"
        if place.partner_index is not None:
            middle = ((flat[0][0] + flat[1][0]) / 2.0, (flat[0][1] + flat[1][1]) / 2.0)
            frame = fold_map_of(bracket.plates[place.partner_index]).frame_at(*middle)
            x, y, _ = frame.T @ place.frame[:, 2]
            words += f", its own front toward the {way_words(float(x), float(y))}"
        yield place.weld, flat, words


def way_words(x: float, y: float) -> str:
    """Return a direction on a drawing in words; slantwise within 22.5 deg of the diagonals."""
    upright = "" if abs(y) < _SLANT * abs(x) else "upper" if y > 0.0 else "lower"
    beside = "" if abs(x) < _SLANT * abs(y) else "right" if x > 0.0 else "left"
    return f"{upright} {beside}".strip() + ("" if upright and beside else " edge")
