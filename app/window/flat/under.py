"""What of a plate is under the pointer: corners before openings, then fold lines, then edges."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from app.editing.loops import Corners, edge_of
from app.window.flat.on_sheet import OnSheet
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.flat_segments import FULL_TURN, Arc, Edge, Flat, Line
from geometry.plate import CutOut, Plate


@dataclass(frozen=True)
class EdgeSpot:
    """A place on an edge."""

    loop: str | None
    index: int
    at_mm: Flat
    off_mm: float


@dataclass(frozen=True)
class CornerSpot:
    """A corner near the pointer."""

    loop: str | None
    index: int
    at_mm: Flat
    off_mm: float


def under(sheet: OnSheet, at: Flat, reach_mm: float) -> Pick | None:
    """Return what a press there would select; None for the bare ground."""
    plate = sheet.plate
    corner = corner_near(plate, at, reach_mm)
    if corner is not None:
        return Pick("corner", plate=plate.name, index=corner.index, loop=corner.loop)
    opening = opening_at(sheet, at, 0.5 * reach_mm)
    edge = edge_near(plate, at, 0.7 * reach_mm)
    if opening is not None and not (edge is not None and edge.loop == opening):
        return Pick("opening", opening, plate.name)
    fold = fold_near(plate, at, 0.7 * reach_mm)
    if fold is not None:
        return Pick("fold", fold, plate.name)
    if edge is not None:
        return Pick("edge", plate=plate.name, index=edge.index, loop=edge.loop)
    for boss in sheet.bosses:
        if math.dist(boss.at_mm, at) <= max(boss.face_diameter_mm / 2.0, reach_mm) and not boss.bolted:
            return Pick("boss", boss.name)
    if sheet.pattern is not None and shapely.contains_xy(sheet.pattern.polygon, *at):
        return Pick("plate", plate.name)
    return None


def is_there(bracket: Bracket, pick: Pick) -> bool:
    """Return whether a picked thing of a flat pattern is still there: undo may have taken it away."""
    if pick.kind == "bolt":
        return any(bolt.name == pick.name for bolt in bracket.bolts)
    if pick.kind == "weld":
        return any(weld.name == pick.name for weld in bracket.welds)
    if pick.kind not in ("corner", "edge", "opening", "fold"):
        return True
    plate = next((p for p in bracket.plates if p.name == pick.plate), None)
    if plate is None:
        return False
    if pick.kind == "opening":
        return any(opening.name == pick.name for opening in plate.openings)
    if pick.kind == "fold":
        return any(fold.name == pick.name for fold in plate.folds)
    return 0 <= pick.index < len(dict(loops_of(plate)).get(pick.loop, ()))


def corner_near(plate: Plate, at: Flat, reach_mm: float) -> CornerSpot | None:
    """Return the nearest corner within reach: its drawn place, or the middle of its rounding."""
    best: CornerSpot | None = None
    for loop, corners in loops_of(plate):
        for index, corner in enumerate(corners):
            off = math.dist(corner.at_mm, at)
            if corner.radius_mm > 0.0:
                off = min(off, math.dist(rounding_middle(corners, index), at))
            if off <= reach_mm and (best is None or off < best.off_mm):
                best = CornerSpot(loop, index, corner.at_mm, off)
    return best


def edge_near(plate: Plate, at: Flat, reach_mm: float) -> EdgeSpot | None:
    """Return the nearest place on an edge within reach."""
    best: EdgeSpot | None = None
    for loop, corners in loops_of(plate):
        for index in range(len(corners)):
            near = nearest_on(edge_of(corners, index), at)
            off = math.dist(near, at)
            if off <= reach_mm and (best is None or off < best.off_mm):
                best = EdgeSpot(loop, index, near, off)
    return best


def opening_at(sheet: OnSheet, at: Flat, reach_mm: float) -> str | None:
    """Return the name of the smallest opening a place lies in, or within reach of the edge of."""
    if sheet.pattern is None:
        return None
    found: list[tuple[float, str]] = []
    names = [opening.name for opening in sheet.plate.openings]
    for name, ring in zip(names, sheet.pattern.polygon.interiors, strict=False):
        shape = shapely.Polygon(ring)
        if shape.distance(shapely.Point(at)) <= reach_mm:
            found.append((shape.area, name))
    return min(found)[1] if found else None


def fold_near(plate: Plate, at: Flat, reach_mm: float) -> str | None:
    """Return the name of the nearest fold line within reach."""
    near = [
        (math.dist(nearest_on(Line(fold.from_mm, fold.to_mm), at), at), fold.name)
        for fold in plate.folds
        if fold.from_mm != fold.to_mm
    ]
    best = min(near, default=None)
    return best[1] if best is not None and best[0] <= reach_mm else None


def loops_of(plate: Plate) -> Iterator[tuple[str | None, Corners]]:
    """Return the outline's corners and those of every cut-out, each with what its loop is called."""
    yield None, plate.outline
    for opening in plate.openings:
        if isinstance(opening, CutOut):
            yield opening.name, opening.corners


def nearest_on(edge: Edge, at: Flat) -> Flat:
    """Return the place on an edge that is nearest to another place."""
    if isinstance(edge, Arc):
        return _nearest_on_arc(edge, at)
    (x0, y0), (x1, y1) = edge.start, edge.end
    square = (x1 - x0) ** 2 + (y1 - y0) ** 2
    share = 0.0 if square == 0.0 else ((at[0] - x0) * (x1 - x0) + (at[1] - y0) * (y1 - y0)) / square
    share = min(max(share, 0.0), 1.0)
    # To a millionth of a µm: a drag along the sheet's axes is to give figures as round as it was caught at.
    return (round(x0 + share * (x1 - x0), 9), round(y0 + share * (y1 - y0), 9))


def rounding_middle(corners: Corners, index: int) -> Flat:
    """Return the middle of the arc that rounds a corner; the corner itself if it is sharp."""
    corner = corners[index]
    way = inward(corners, index)
    if corner.radius_mm == 0.0 or way is None:
        return corner.at_mm
    (ux, uy), half = way
    off = corner.radius_mm * (1.0 / math.sin(half) - 1.0)
    return (corner.at_mm[0] + off * ux, corner.at_mm[1] + off * uy)


def inward(corners: Corners, index: int) -> tuple[Flat, float] | None:
    """Return the unit vector that halves the angle between a corner's two edges, and half that angle.

    None where the edges run on or back on themselves.
    """
    into = edge_of(corners, index - 1)
    out = edge_of(corners, index)
    if min(into.length_mm, out.length_mm) < 1e-9:
        return None
    (ax, ay), (bx, by) = into.direction(1.0), out.direction(0.0)
    x, y = bx - ax, by - ay
    length = math.hypot(x, y)
    half = math.acos(min(1.0, max(-1.0, -(ax * bx + ay * by)))) / 2.0
    if length < 1e-6 or half < 1e-3:
        return None
    return (x / length, y / length), half


def _nearest_on_arc(arc: Arc, at: Flat) -> Flat:
    angle = math.atan2(at[1] - arc.centre[1], at[0] - arc.centre[0])
    sign = 1.0 if arc.turn_rad > 0.0 else -1.0
    turned = (sign * (angle - arc.from_rad)) % FULL_TURN
    if turned > abs(arc.turn_rad):
        return min((arc.start, arc.end), key=lambda end: math.dist(end, at))
    return (arc.centre[0] + arc.radius_mm * math.cos(angle), arc.centre[1] + arc.radius_mm * math.sin(angle))
