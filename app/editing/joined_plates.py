"""Two plates that lie edge to edge become one: the saw's reverse."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import Polygon

from app.editing.edge_ring import (
    Ring,
    corners_of,
    counter_clockwise,
    edges_of,
    outline_ring,
    signed_area_mm2,
    smoothed,
    turned_round,
    whole_circle,
)
from app.editing.flat_motion import FlatMotion
from app.editing.joined_rings import TOUCH_MM, sewn_rings
from app.editing.names import plate_of
from app.editing.possible import folded
from app.editing.refused import EditRefused
from app.editing.still_panel import spot_on
from app.editing.welding import refuse_welded
from geometry.bracket import Bracket
from geometry.fixing import AtHole, Bolt
from geometry.flat_pattern import chopped
from geometry.flat_segments import Flat, Line, ShapeError
from geometry.fold_map import FoldMap
from geometry.plate import CutOut, FoldLine, Hole, Plate, Slot


def joined(bracket: Bracket, first: str, second: str) -> Bracket:
    """Return the bracket with two plates made one along the straight edges they share.

    The one plate has the first's flat pattern axes, place and number in the list. EditRefused if they differ
    in sheet, do not lie edge to edge in space, are welded, or a bolt joins them to each other.
    """
    a, b = (plate_of(bracket, name) for name in (first, second))
    _refuse_unlike(bracket, a, b)
    for name in (first, second):
        refuse_welded(bracket, name, "joined")
    maps = folded(a, "joined"), folded(b, "joined")
    whole = next(
        (
            whole
            for motion in _motions(*maps)
            if (whole := _one_plate(bracket, maps[0], b, motion)) is not None
        ),
        None,
    )
    if whole is None:
        raise EditRefused(
            f"plates {first} and {second} share no straight edge where they stand: move them edge to edge, in"
            " one plane, and join again"
        )
    plate, renamed = whole
    name = _name(bracket, first, second)
    plates = tuple(plate.but(name=name) if p.name == first else p for p in bracket.plates if p.name != second)
    bolts = tuple(_moved(bolt, first, second, name, renamed) for bolt in bracket.bolts)
    return bracket.but(plates=plates, bolts=bolts)


def _refuse_unlike(bracket: Bracket, a: Plate, b: Plate) -> None:
    if a.name == b.name:
        raise EditRefused(f"plate {a.name} cannot be joined to itself: name two plates")
    if a.material != b.material:
        raise EditRefused(
            f"plate {a.name} is {a.material or 'of no material yet'} and plate {b.name}"
            f" {b.material or 'of no material yet'}: only plates of one sheet can be joined"
        )
    if abs(a.thickness_mm - b.thickness_mm) > 1e-9:
        raise EditRefused(
            f"plate {a.name} is {a.thickness_mm:g} mm thick and plate {b.name} {b.thickness_mm:g} mm: only"
            " plates of one sheet can be joined"
        )
    for bolt in bracket.bolts:
        if isinstance(bolt.joins, AtHole) and {bolt.plate, bolt.joins.plate} == {a.name, b.name}:
            raise EditRefused(
                f"bolt {bolt.name} joins plates {a.name} and {b.name} to each other: take it out first"
            )


def _motions(a: FoldMap, b: FoldMap) -> Iterator[FlatMotion]:
    """Yield every way b's flat pattern can lie in a's, so that one panel of each is in one plane in space."""
    found: list[FlatMotion] = []
    for panel in a.folded.panels:
        at = spot_on(panel)
        frame, origin = a.frame_at(*at), a.to_space(np.array([[*at, 0.0]]))[0]
        for other in b.folded.panels:
            spot = spot_on(other)
            turn = frame.T @ b.frame_at(*spot)
            there = frame.T @ (b.to_space(np.array([[*spot, 0.0]]))[0] - origin) + np.array([*at, 0.0])
            if turn[2, 2] < 1.0 - 1e-6 or abs(there[2]) > TOUCH_MM:
                continue
            motion = FlatMotion.bringing(spot, (float(there[0]), float(there[1])), turn[:2, :2])
            if not any(motion.is_like(known) for known in found):
                found.append(motion)
                yield motion


def _one_plate(
    bracket: Bracket, a: FoldMap, b: Plate, motion: FlatMotion
) -> tuple[Plate, dict[str, str]] | None:
    """Return the plate that both make and the new names of b's openings; None if they share no edge so."""
    plate = a.plate
    moved = motion.of_plate(b)
    rings = [counter_clockwise(outline_ring(p.outline, f"plate {p.name}")) for p in (plate, moved)]
    sewn = sewn_rings(*rings)
    if sewn is None:
        return None
    outlines = [ring for ring in sewn if signed_area_mm2(ring) > 0.0]
    inner = [ring for ring in sewn if signed_area_mm2(ring) <= 0.0]
    whole, parts = _area(outlines[0]), [_area(ring) for ring in rings]
    overlap = parts[0].intersection(parts[1]).area
    if len(outlines) != 1 or overlap > 1e-6 * min(part.area for part in parts) + 1e-3 or not whole.is_valid:
        raise EditRefused(
            f"plates {plate.name} and {b.name} lie over each other by {overlap:.1f} mm2 beside the edge they"
            " share: cut one back, then join"
        )
    openings, renamed = _openings(plate, moved, inner)
    still = spot_on(a.folded.panels[a.still_panel])
    folds = _folds(plate, moved)
    made = plate.but(
        outline=corners_of(smoothed(outlines[0])),
        openings=openings,
        folds=folds,
        placement=plate.placement.but(still_at_mm=still if folds else None),
    )
    try:
        FoldMap(made)
    except ShapeError as fault:
        raise EditRefused(f"the joined plate could not be made: {fault.found}; {fault.next_step}") from fault
    return made, renamed


def _area(ring: Ring) -> Polygon:
    return Polygon(chopped(tuple(edges_of(ring))))


def _openings(
    a: Plate, b: Plate, inner: list[Ring]
) -> tuple[tuple[Hole | Slot | CutOut, ...], dict[str, str]]:
    """Return both plates' openings and those that the two outlines enclose, and b's new names."""
    taken = {opening.name for opening in a.openings}
    openings = list(a.openings)
    renamed: dict[str, str] = {}
    for opening in b.openings:
        name = _free(opening.name, taken)
        taken.add(name)
        renamed[opening.name] = name
        openings.append(opening.but(name=name))
    for ring in inner:
        if signed_area_mm2(ring) > -1e-6:
            continue
        name = _free("opening", taken)
        taken.add(name)
        ring = smoothed(ring)
        circle = whole_circle(ring)
        if circle is not None:
            openings.append(Hole(name=name, centre_mm=circle[0], diameter_mm=2.0 * circle[1]))
        else:
            openings.append(CutOut(name=name, corners=corners_of(turned_round(ring))))
    return tuple(openings), renamed


def _free(name: str, taken: set[str]) -> str:
    if name not in taken:
        return name
    return next(f"{name[:70]} {k}" for k in range(2, len(taken) + 3) if f"{name[:70]} {k}" not in taken)


def _folds(a: Plate, b: Plate) -> tuple[FoldLine, ...]:
    """Return both plates' folds, those that go on into each other as one."""
    folds = list(a.folds)
    for fold in b.folds:
        k = next((k for k, there in enumerate(folds) if _go_on(there, fold)), None)
        if k is None:
            folds.append(fold.but(name=_free(fold.name, {f.name for f in folds})))
        else:
            folds[k] = _as_one(folds[k], fold)
    return tuple(folds)


def _go_on(a: FoldLine, b: FoldLine) -> bool:
    if (a.direction, a.k_factor) != (b.direction, b.k_factor):
        return False
    if abs(a.angle_deg - b.angle_deg) > 1e-9 or abs(a.inside_radius_mm - b.inside_radius_mm) > 1e-9:
        return False
    line = shapely.LineString([a.from_mm, a.to_mm])
    (x, y), (ux, uy) = a.from_mm, Line(a.from_mm, a.to_mm).direction(0.0)
    in_line = all(abs((py - y) * ux - (px - x) * uy) < TOUCH_MM for px, py in (b.from_mm, b.to_mm))
    return in_line and line.distance(shapely.LineString([b.from_mm, b.to_mm])) < TOUCH_MM


def _as_one(a: FoldLine, b: FoldLine) -> FoldLine:
    (x, y), (ux, uy) = a.from_mm, Line(a.from_mm, a.to_mm).direction(0.0)
    ends: list[Flat] = [a.from_mm, a.to_mm, b.from_mm, b.to_mm]
    ends.sort(key=lambda at: (at[0] - x) * ux + (at[1] - y) * uy)
    return a.but(from_mm=ends[0], to_mm=ends[-1])


def _name(bracket: Bracket, first: str, second: str) -> str:
    """Return what the pieces were called before they were sawn; if a plate has that name, the first's."""
    stems = {name.rpartition(" ")[0] for name in (first, second)}
    letters = {name.rpartition(" ")[2] for name in (first, second)}
    stem = stems.pop()
    sawn = not stems and stem and all(len(letter) <= 4 and letter[:1].isalpha() for letter in letters)
    taken = {plate.name for plate in bracket.plates} - {first, second}
    return stem if sawn and stem not in taken else first


def _moved(bolt: Bolt, first: str, second: str, name: str, renamed: dict[str, str]) -> Bolt:
    if bolt.plate == second:
        bolt = bolt.but(plate=name, hole=renamed.get(bolt.hole, bolt.hole))
    elif bolt.plate == first:
        bolt = bolt.but(plate=name)
    joins = bolt.joins
    if isinstance(joins, AtHole) and joins.plate == second:
        bolt = bolt.but(joins=joins.but(plate=name, opening=renamed.get(joins.opening, joins.opening)))
    elif isinstance(joins, AtHole) and joins.plate == first:
        bolt = bolt.but(joins=joins.but(plate=name))
    return bolt
