"""What dragging a thing or a handle does, as an edit for each place of the pointer."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from app.editing.folds import move_fold, remove_fold, turn_fold
from app.editing.loops import edge_of, opening_of, with_opening_changed
from app.editing.moved_shapes import middle_of
from app.editing.names import plate_of, with_plate_changed
from app.editing.openings import move_opening, remove_opening, resize_hole
from app.editing.outline import (
    arc_edge,
    move_corner,
    move_edge,
    remove_corner,
    round_corner,
    round_inside_corners,
)
from app.editing.refused import EditRefused
from app.editing.welding import remove_weld
from app.window.door import Edit
from app.window.flat.handles import Handle, slot_ends
from app.window.flat.under import inward, loops_of, nearest_on
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.finding_words import named_once
from geometry.flat_segments import Flat, Line
from geometry.plate import Plate, Slot

At = Callable[[Flat], Edit]


@dataclass(frozen=True)
class Drag:
    """A thing in the pointer's grip."""

    words: str
    """Names the step."""
    start_mm: Flat
    """Where the thing's own place was; the pointer moves that."""
    edit: At
    """The edit that brings the thing to a place."""
    leaving: Pick | None
    """What moves along and so catches nothing."""
    reading: str = ""
    """What is said beside the place: `radius` or `diameter`; empty for the way moved."""
    value: Callable[[Flat], float] | None = None
    """The measure that is read, in mm."""
    along: Flat | None = None
    """Unit vector of the only direction it moves in; None for any."""


def drag_of(plate: Plate, pick: Pick, at: Flat) -> Drag | None:
    """Return the drag of a thing pressed at a place; None for what cannot be dragged."""
    name = plate.name
    match pick.kind:
        case "corner":
            corner = dict(loops_of(plate))[pick.loop][pick.index]
            return Drag(f"move {words_of(pick)}", corner.at_mm, _corner_to(plate, pick), pick)
        case "edge":
            edge = edge_of(dict(loops_of(plate))[pick.loop], pick.index)
            start = nearest_on(edge, at)
            along = edge.direction(0.0)
            return Drag(
                f"move {words_of(pick)}",
                start,
                _edge_by(plate, pick, start),
                pick,
                along=(-along[1], along[0]) if isinstance(edge, Line) else None,
            )
        case "opening":
            middle = middle_of(plate.opening(pick.name))
            return Drag(
                f"move {words_of(pick)}",
                middle,
                lambda to: lambda b: move_opening(b, name, pick.name, _by(middle, to)),
                pick,
            )
        case "fold":
            fold = next(f for f in plate.folds if f.name == pick.name)
            line = Line(fold.from_mm, fold.to_mm)
            start, (ux, uy) = nearest_on(line, at), line.direction(0.0)
            return Drag(
                f"move {words_of(pick)}",
                start,
                lambda to: _of_plate(name, lambda p: move_fold(p, pick.name, _by(start, to))),
                pick,
                along=(-uy, ux),
            )
        case _:
            return None


def drag_of_handle(plate: Plate, handle: Handle) -> Drag | None:
    """Return the drag of a handle."""
    pick, name = handle.pick, plate.name
    match handle.kind:
        case "corner":
            return drag_of(plate, pick, handle.at_mm)
        case "arc":
            return Drag(
                f"bend {words_of(pick)}",
                handle.at_mm,
                lambda to: _of_plate(name, lambda p: arc_edge(p, pick.index, to, pick.loop)),
                None,
            )
        case "radius":
            return _radius_drag(plate, handle)
        case "diameter":
            x, y = middle_of(plate.opening(pick.name))
            return Drag(
                f"size {words_of(pick)}",
                handle.at_mm,
                lambda to: lambda b: resize_hole(b, name, pick.name, 2.0 * math.dist((x, y), to)),
                pick,
                "diameter",
                lambda to: 2.0 * math.dist((x, y), to),
            )
        case "slot end":
            return Drag(f"stretch {words_of(pick)}", handle.at_mm, _slot_end_to(plate, handle), pick)
        case "fold end":
            end: Literal["from", "to"] = "from" if handle.end == 0 else "to"
            return Drag(
                f"turn {words_of(pick)}",
                handle.at_mm,
                lambda to: _of_plate(name, lambda p: turn_fold(p, pick.name, end, to)),
                pick,
            )


def moved_by(plate: Plate, pick: Pick, by: Flat) -> Edit | None:
    """Return the edit that moves a thing by a step; None for what cannot be moved."""
    middle = (0.0, 0.0)
    if pick.kind == "edge":
        corners = dict(loops_of(plate))[pick.loop]
        middle = corners[pick.index].at_mm
        return _edge_by(plate, pick, middle)((middle[0] + by[0], middle[1] + by[1]))
    if pick.kind == "fold":
        return _of_plate(plate.name, lambda p: move_fold(p, pick.name, by))
    drag = drag_of(plate, pick, middle)
    if drag is None:
        return None
    x, y = drag.start_mm
    return drag.edit((x + by[0], y + by[1]))


def removed(plate: Plate, pick: Pick) -> Edit | None:
    """Return the edit that takes a thing away; None for what cannot be taken from a flat pattern."""
    name = plate.name
    match pick.kind:
        case "corner":
            return _of_plate(name, lambda p: remove_corner(p, pick.index, pick.loop))
        case "opening":
            return lambda b: remove_opening(b, name, pick.name)
        case "fold":
            return _of_plate(name, lambda p: remove_fold(p, pick.name))
        case "bolt":
            return lambda b: b.without_bolt(pick.name)
        case "weld":
            return lambda b: remove_weld(b, pick.name)
        case "edge":
            return _refuse("an edge cannot be taken away by itself; remove one of its corners instead")
        case _:
            return None


def words_of(pick: Pick) -> str:
    """Return a thing in words, for the names of steps and for the spoken description."""
    of = f" of {pick.loop}" if pick.loop else ""
    match pick.kind:
        case "corner":
            return f"corner {pick.index + 1}{of}"
        case "edge":
            return f"edge {pick.index + 1}{of}"
        case _:
            return named_once(f"{pick.kind} {pick.name}".strip())


def _of_plate(name: str, edit: Callable[[Plate], Plate]) -> Edit:
    return lambda bracket: with_plate_changed(bracket, name, edit(plate_of(bracket, name)))


def _corner_to(plate: Plate, pick: Pick) -> At:
    def to(at: Flat) -> Edit:
        def edit(current: Plate) -> Plate:
            moved = move_corner(current, pick.index, at, pick.loop)
            return round_inside_corners(moved, current, pick.loop)

        return _of_plate(plate.name, edit)

    return to


def _edge_by(plate: Plate, pick: Pick, start: Flat) -> At:
    def to(at: Flat) -> Edit:
        def edit(current: Plate) -> Plate:
            moved = move_edge(current, pick.index, _by(start, at), pick.loop)
            return round_inside_corners(moved, current, pick.loop)

        return _of_plate(plate.name, edit)

    return to


def _radius_drag(plate: Plate, handle: Handle) -> Drag | None:
    pick = handle.pick
    corners = dict(loops_of(plate))[pick.loop]
    corner, way = corners[pick.index], inward(corners, pick.index)
    if way is None:
        return None
    (ux, uy), half = way
    off = math.dist(handle.at_mm, corner.at_mm) - corner.radius_mm * (1.0 / math.sin(half) - 1.0)

    def radius(to: Flat) -> float:
        # The handle of a small radius stands further in than the arc: that much is nothing yet.
        deep = (to[0] - corner.at_mm[0]) * ux + (to[1] - corner.at_mm[1]) * uy - off
        return round(max(deep, 0.0) / (1.0 / math.sin(half) - 1.0), 6)

    def edit(to: Flat) -> Edit:
        return _of_plate(plate.name, lambda p: round_corner(p, pick.index, radius(to), pick.loop))

    return Drag(f"round {words_of(pick)}", handle.at_mm, edit, pick, "radius", radius, along=(ux, uy))


def _slot_end_to(plate: Plate, handle: Handle) -> At:
    slot = plate.opening(handle.pick.name)
    assert isinstance(slot, Slot)
    fixed = slot_ends(slot)[1 - handle.end]
    sign = 1.0 if handle.end == 1 else -1.0

    def to(at: Flat) -> Edit:
        dx, dy = sign * (at[0] - fixed[0]), sign * (at[1] - fixed[1])

        def edit(current: Plate) -> Plate:
            there = opening_of(current, slot.name)
            angle = math.degrees(math.atan2(dy, dx)) if math.hypot(dx, dy) > 1e-6 else slot.angle_deg
            changed = there.but(
                centre_mm=((at[0] + fixed[0]) / 2.0, (at[1] + fixed[1]) / 2.0),
                length_mm=math.hypot(dx, dy) + slot.width_mm,
                angle_deg=angle,
            )
            return with_opening_changed(current, slot.name, changed)

        return _of_plate(plate.name, edit)

    return to


def _refuse(sentence: str) -> Edit:
    def edit(bracket: Bracket) -> Bracket:
        raise EditRefused(sentence)

    return edit


def _by(start: Flat, to: Flat) -> Flat:
    return (to[0] - start[0], to[1] - start[1])
