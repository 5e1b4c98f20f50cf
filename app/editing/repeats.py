"""Openings repeated in a line or round a place, and mirroring of openings and whole flat patterns."""

from __future__ import annotations

import math
from typing import Final

from app.editing.checked import checked_place
from app.editing.loops import Opening, opening_of, turned_round
from app.editing.moved_shapes import (
    Axis,
    middle_of,
    mirror,
    mirrored,
    moved_corners,
    moved_fold,
    shifted,
    turned,
)
from app.editing.names import free_name, names_on, plate_of, with_plate_changed
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.part import FlatPlace
from geometry.plate import Plate

MOST_REPEATED: Final = 200
_SAME_PLACE_MM: Final = 0.01


def repeat_in_line(bracket: Bracket, plate_name: str, opening: str, step: FlatPlace, count: int) -> Bracket:
    """Return the bracket with an opening repeated, `count` of them with the first, each a step on.

    The copies are not bolted. EditRefused for a step of no length and a count below 2.
    """
    first = opening_of(plate_of(bracket, plate_name), opening)
    by = checked_place(step, "a step")
    if math.hypot(*by) < _SAME_PLACE_MM:
        raise EditRefused(f"opening {opening} cannot be repeated on the same place; give a longer step")
    _checked_count(count, opening)
    copies = [shifted(first, (k * by[0], k * by[1])) for k in range(1, count)]
    return with_copies(bracket, plate_name, copies)


def repeat_round(bracket: Bracket, plate_name: str, opening: str, centre: FlatPlace, count: int) -> Bracket:
    """Return the bracket with an opening repeated, `count` of them with the first, evenly round a place.

    Slots and cut-outs turn with it; the copies are not bolted. EditRefused if it lies on the centre itself.
    """
    first = opening_of(plate_of(bracket, plate_name), opening)
    about = checked_place(centre, "the centre")
    if math.dist(middle_of(first), about) < _SAME_PLACE_MM:
        raise EditRefused(
            f"opening {opening} lies on the centre ({about[0]:g}, {about[1]:g}) itself; choose another centre"
        )
    _checked_count(count, opening)
    copies = [turned(first, about, 360.0 * k / count) for k in range(1, count)]
    return with_copies(bracket, plate_name, copies)


def mirror_opening(
    bracket: Bracket, plate_name: str, opening: str, axis: Axis, *, keep: bool = True
) -> Bracket:
    """Return the bracket with an opening mirrored about a line: beside the first, or instead of it.

    A copy is not bolted; mirrored in place it keeps its bolts. EditRefused for a copy that would lie on it.
    """
    plate = plate_of(bracket, plate_name)
    first = opening_of(plate, opening)
    image = mirrored(first, axis)
    if not keep:
        place = next(k for k, there in enumerate(plate.openings) if there.name == opening)
        openings = (*plate.openings[:place], image, *plate.openings[place + 1 :])
        return with_plate_changed(bracket, plate_name, plate.but(openings=openings))
    if math.dist(middle_of(first), middle_of(image)) < _SAME_PLACE_MM:
        raise EditRefused(
            f"opening {opening} lies on the line, so its mirror image would lie on it; choose another line"
        )
    return with_copies(bracket, plate_name, [image])


def mirror_plate(bracket: Bracket, plate_name: str, axis: Axis) -> Bracket:
    """Return the bracket with a plate's flat pattern mirrored about a line; folds keep up and down.

    Where the plate stands stays, and bolts keep to their holes: findings tell what no longer lines up.
    """
    plate = plate_of(bracket, plate_name)
    move = mirror(axis)
    still = plate.placement.still_at_mm
    changed = plate.but(
        outline=turned_round(moved_corners(plate.outline, move)),
        openings=tuple(mirrored(opening, axis) for opening in plate.openings),
        folds=tuple(moved_fold(fold, move) for fold in plate.folds),
        placement=plate.placement.but(still_at_mm=None if still is None else move(still)),
    )
    return with_plate_changed(bracket, plate_name, changed)


def with_copies(bracket: Bracket, plate_name: str, copies: list[Opening]) -> Bracket:
    """Return the bracket with openings added to a plate, last, under free names in the habit of their own."""
    plate = plate_of(bracket, plate_name)
    return with_plate_changed(bracket, plate_name, with_new_openings(plate, copies))


def with_new_openings(plate: Plate, copies: list[Opening]) -> Plate:
    """Return the plate with openings added, last, under free names."""
    taken = names_on(plate)
    named = []
    for copy in copies:
        name = free_name(copy.name, taken)
        taken.add(name)
        named.append(copy.but(name=name))
    return plate.but(openings=(*plate.openings, *named))


def _checked_count(count: int, opening: str) -> None:
    if not 2 <= count <= MOST_REPEATED:
        raise EditRefused(
            f"opening {opening} cannot be repeated to {count} in all; give 2 to {MOST_REPEATED}"
        )
