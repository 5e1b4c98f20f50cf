"""Dimensions of an opening and of a fold line."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

from app.editing.checked import checked_length
from app.editing.edge_distances import EdgeDistance, edge_distances, nearest_two, parallel_edges
from app.editing.folds import change_fold, fold_of, move_fold
from app.editing.loops import opening_of, with_opening_changed
from app.editing.measures import Ground, Measure, Put
from app.editing.moved_shapes import box_of, middle_of, moved_corners, shifted
from app.editing.refused import EditRefused
from geometry.part import FlatPlace
from geometry.plate import CutOut, FoldLine, Hole, Plate, Slot

_MOST_TRIES: Final = 60
_Move = Callable[[Plate, FlatPlace], Plate]


def opening_measures(ground: Ground, name: str, *, every_edge: bool) -> list[Measure]:
    """Return an opening's own measures, x, y and distance from the datum, and distances to the nearest edges.

    With `every_edge` the distances to all edges of the outline.
    """
    opening = opening_of(ground.plate, name)
    at = middle_of(opening)

    def move(plate: Plate, by: FlatPlace) -> Plate:
        return with_opening_changed(plate, name, shifted(opening_of(plate, name), by))

    found = _own(ground, opening)
    found += ground.from_datum(at, move)
    found += ground.from_place("from centre", ground.datum, at, move)
    if not isinstance(opening, CutOut):
        edges = edge_distances(ground.plate.outline, at)
        found += [_to_edge(ground, edge, at, move) for edge in (edges if every_edge else nearest_two(edges))]
    return found


def fold_measures(ground: Ground, name: str, *, every_edge: bool) -> list[Measure]:
    """Return a fold's distance to the edges along it (one on each side), its angle and its inside radius."""
    fold = fold_of(ground.plate, name)
    at = ((fold.from_mm[0] + fold.to_mm[0]) / 2.0, (fold.from_mm[1] + fold.to_mm[1]) / 2.0)
    edges = parallel_edges(ground.plate.outline, fold.from_mm, fold.to_mm)

    def move(plate: Plate, by: FlatPlace) -> Plate:
        return move_fold(plate, name, by)

    told = edges if every_edge else _one_a_side(edges)
    found = [_to_edge(ground, edge, at, move) for edge in told]
    return [*found, *_bend(ground, fold)]


def _own(ground: Ground, opening: Hole | Slot | CutOut) -> list[Measure]:
    x, y = middle_of(opening)
    name = opening.name
    if isinstance(opening, Hole):
        half = opening.diameter_mm / 2.0
        ends = ((x - half, y), (x + half, y))
        put = _size(name, lambda o, v: o.but(diameter_mm=checked_length(v, "a hole's diameter")))
        return [ground.measure("diameter", opening.diameter_mm, ends, put)]
    if isinstance(opening, Slot):
        return _slot(ground, opening)
    (x0, y0), (x1, y1) = box_of([opening])
    return [
        ground.measure("width", x1 - x0, ((x0, y0), (x1, y0)), _stretched(name, 0)),
        ground.measure("height", y1 - y0, ((x0, y0), (x0, y1)), _stretched(name, 1)),
    ]


def _slot(ground: Ground, slot: Slot) -> list[Measure]:
    x, y = slot.centre_mm
    ux, uy = math.cos(math.radians(slot.angle_deg)), math.sin(math.radians(slot.angle_deg))
    along, across = slot.length_mm / 2.0, slot.width_mm / 2.0

    def longer(o: Hole | Slot | CutOut, value: float) -> Hole | Slot | CutOut:
        if value < slot.width_mm:
            raise EditRefused(
                f"slot {slot.name} is {slot.width_mm:g} mm wide and cannot be {value:g} mm long over all;"
                " give at least its width"
            )
        return o.but(length_mm=checked_length(value, "a slot's length"))

    def wider(o: Hole | Slot | CutOut, value: float) -> Hole | Slot | CutOut:
        if value > slot.length_mm:
            raise EditRefused(
                f"slot {slot.name} is {slot.length_mm:g} mm long over all and cannot be {value:g} mm wide;"
                " give at most its length"
            )
        return o.but(width_mm=checked_length(value, "a slot's width"))

    return [
        ground.measure(
            "length",
            slot.length_mm,
            ((x - along * ux, y - along * uy), (x + along * ux, y + along * uy)),
            _size(slot.name, longer),
        ),
        ground.measure(
            "width",
            slot.width_mm,
            ((x + across * uy, y - across * ux), (x - across * uy, y + across * ux)),
            _size(slot.name, wider),
        ),
        ground.measure(
            "angle",
            slot.angle_deg % 180.0,
            ((x, y), (x + along * ux, y + along * uy)),
            _size(slot.name, lambda o, v: o.but(angle_deg=v % 180.0)),
            "deg",
        ),
    ]


def _size(name: str, change: Callable[[Hole | Slot | CutOut, float], Hole | Slot | CutOut]) -> Put:
    return lambda plate, value: with_opening_changed(plate, name, change(opening_of(plate, name), value))


def _stretched(name: str, axis: int) -> Put:
    """Return what stretches a cut-out to another size along x (0) or y (1), its lower end staying."""

    def put(plate: Plate, value: float) -> Plate:
        wanted = checked_length(value, "a cut-out's size")
        opening = opening_of(plate, name)
        for _ in range(_MOST_TRIES):
            box = box_of([opening])
            low, size = box[0][axis], box[1][axis] - box[0][axis]
            if abs(size - wanted) < 1e-9:
                return with_opening_changed(plate, name, opening)
            # Arcs and radii do not stretch with the corners, so it is done again until it fits.
            opening = _scaled(opening, axis, low, wanted / size)
        raise EditRefused(
            f"cut-out {name} cannot be stretched to {wanted:g} mm because of its arcs; move its corners"
        )

    return put


def _scaled(opening: Hole | Slot | CutOut, axis: int, low: float, by: float) -> CutOut:
    assert isinstance(opening, CutOut)

    def move(at: FlatPlace) -> FlatPlace:
        stretched = low + (at[axis] - low) * by
        return (stretched, at[1]) if axis == 0 else (at[0], stretched)

    return opening.but(corners=moved_corners(opening.corners, move))


def _to_edge(ground: Ground, edge: EdgeDistance, at: FlatPlace, move: _Move) -> Measure:
    def put(plate: Plate, value: float) -> Plate:
        if value < 0.0:
            raise EditRefused(f"a distance to edge {edge.index + 1} cannot be {value:g} mm; give 0 or more")
        by = value - edge.distance_mm
        return move(plate, (by * edge.out[0], by * edge.out[1]))

    return ground.measure(f"edge {edge.index + 1}", edge.distance_mm, (edge.foot_mm, at), put)


def _one_a_side(edges: tuple[EdgeDistance, ...]) -> list[EdgeDistance]:
    told: list[EdgeDistance] = []
    for edge in edges:
        if all(edge.out[0] * other.out[0] + edge.out[1] * other.out[1] < 0.0 for other in told):
            told.append(edge)
    return told


def _bend(ground: Ground, fold: FoldLine) -> list[Measure]:
    ends = (fold.from_mm, fold.to_mm)
    return [
        ground.measure(
            "angle",
            fold.angle_deg,
            ends,
            lambda plate, value: change_fold(plate, fold.name, angle_deg=value),
            "deg",
        ),
        ground.measure(
            "inside radius",
            fold.inside_radius_mm,
            ends,
            lambda plate, value: change_fold(plate, fold.name, inside_radius_mm=value),
        ),
    ]
