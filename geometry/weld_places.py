"""Where welded edges stand in space, what they stand on there, and the segments they are reckoned in.

Glossary
--------
cut face   the narrow face of the welded plate's edge, as wide as the sheet is thick
frame      of an edge: along the weld, out of the cut face toward the partner, the sheet's front normal
strip      where the weld lands on another plate's face
segment    a stretch of a weld that is taken as rigid
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.bar_face import bar_normal, depth_to_bar
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtDashBar
from geometry.flat_pattern import FlatPattern, flat_pattern
from geometry.flat_segments import Flat, Line, ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.footprint import Face
from geometry.plate import Plate
from geometry.weld import LEG_PER_THROAT, Weld

Floats = NDArray[np.float64]
Partner = Literal["dash bar", "anchor", "plate"]

ON_EDGE_MM: Final = 0.05
"""How far off the outline's edge an end may be typed."""
SEGMENT_MM: Final = 12.0
LEAST_SEGMENTS, MOST_SEGMENTS = 3, 8
_LOOKED_AT: Final = np.linspace(0.0, 1.0, 9)
_OFF_SHARE: Final = 0.01


@dataclass(frozen=True, eq=False)
class WeldPlace:
    """One welded edge in space."""

    weld: Weld
    plate_index: int
    """Of the plate whose edge it is, in bracket.plates."""
    thickness_mm: float
    flat_mm: tuple[Flat, Flat]
    """Both ends on the edge, in the order of the frame."""
    ends_mm: Floats
    """(2, 3) the same in space, at the middle of the cut face."""
    frame: Floats
    """(3, 3) columns: along the weld, out of the cut face, the sheet's front normal; right-handed."""
    partner: Partner
    partner_name: str
    partner_index: int | None
    """Of a partner plate, in bracket.plates."""
    partner_flat_mm: tuple[Flat, Flat] | None
    """Both ends in the flat pattern of a partner plate, in the same order."""
    partner_side: Face | None
    gaps_mm: Floats
    """(n,) along the weld: from the cut face to the partner, below nought where it runs in; nan where the
    partner is passed by."""
    tilt_deg: float
    """How far the sheet is from square to the partner's face; 0 where that has no known direction."""
    partner_thickness_mm: float
    """Of a partner plate, or the wall of the dash bar; inf for an anchor."""
    partner_bends: bool
    """Whether it runs over a fold of the partner plate, or is not all on one of its panels."""

    @property
    def length_mm(self) -> float:
        """Return the length along the weld."""
        return math.dist(*self.flat_mm)

    @property
    def thinner_mm(self) -> float:
        """Return the thickness of the thinner part."""
        return min(self.thickness_mm, self.partner_thickness_mm)

    @property
    def throat_mm(self) -> float:
        """Return the throat that counts, no more than the thinner part; a nominal 0.7 of it for a blank."""
        size = self.weld.size_mm
        return 0.7 * self.thinner_mm if size is None else min(size, self.thinner_mm)

    @property
    def leg_mm(self) -> float:
        """Return the leg."""
        return self.throat_mm * LEG_PER_THROAT

    @cached_property
    def segments(self) -> tuple[WeldSegment, ...]:
        """Return the segments, from the first end to the second."""
        count = min(max(math.ceil(self.length_mm / SEGMENT_MM), LEAST_SEGMENTS), MOST_SEGMENTS)
        return tuple(WeldSegment(self, number, count) for number in range(count))


@dataclass(frozen=True, eq=False)
class WeldSegment:
    """One of `count` even stretches of a weld."""

    place: WeldPlace
    number: int
    count: int

    @property
    def shares(self) -> tuple[float, float]:
        """Return where along the weld it begins and ends, as shares of its length."""
        return self.number / self.count, (self.number + 1) / self.count

    @property
    def length_mm(self) -> float:
        """Return its length."""
        return self.place.length_mm / self.count

    @property
    def at_mm(self) -> Floats:
        """Return its middle in space, at the middle of the cut face (3,)."""
        start, end = self.place.ends_mm
        return np.asarray(start + (self.number + 0.5) / self.count * (end - start))


@dataclass(frozen=True, eq=False)
class WeldBody:
    """A segment as one of the two plates feels it: on its cut edge, or on its face."""

    segment: WeldSegment
    on: Literal["edge", "face"]


def place_welds(bracket: Bracket) -> tuple[WeldPlace, ...]:
    """Return the place of every weld that can be placed, in the order of bracket.welds.

    One that names what is not there, lies off the straight edges of the outline or across a fold is left out:
    the findings say why.
    """
    return tuple(place for weld in bracket.welds if (place := place_weld(bracket, weld)) is not None)


def weld_bodies(bracket: Bracket, index: int) -> tuple[WeldBody, ...]:
    """Return the weld segments that a plate feels: those of its own edges, then those on its faces."""
    places = place_welds(bracket) if bracket.welds else ()
    own = [WeldBody(s, "edge") for p in places if p.plate_index == index for s in p.segments]
    return (*own, *(WeldBody(s, "face") for p in places if p.partner_index == index for s in p.segments))


def edge_under(pattern: FlatPattern, weld: Weld) -> Line | None:
    """Return the straight edge of the outline that both ends of a weld lie on; None if there is none."""
    for edge in pattern.outline:
        if isinstance(edge, Line) and max(_off(edge, weld.from_mm), _off(edge, weld.to_mm)) <= ON_EDGE_MM:
            return edge
    return None


def crossed_fold(fold_map: FoldMap, weld: Weld) -> str | None:
    """Return the fold whose bend zone an edge's weld runs into; None if it is all on one panel."""
    line = shapely.LineString([weld.from_mm, weld.to_mm])
    for zone in fold_map.folded.zones:
        if shapely.distance(zone.polygon, line) < 1e-6:
            return zone.fold.name
    return None


def place_weld(bracket: Bracket, weld: Weld) -> WeldPlace | None:
    """Return where a weld stands; None where it cannot be placed."""
    found = _plate(bracket, weld.plate)
    if found is None or weld.length_mm < 1e-6:
        return None
    index, plate, fold_map = found
    edge = edge_under(flat_pattern(plate), weld)
    if edge is None or crossed_fold(fold_map, weld) is not None:
        return None
    flat, frame = _framed(plate, fold_map, edge, weld)
    height = plate.thickness_mm / 2.0
    shares = _LOOKED_AT[:, None]
    line = np.asarray(flat[0]) + shares * np.subtract(flat[1], flat[0])
    spots = fold_map.to_space(np.column_stack([line, np.full(len(line), height)]))
    ends = spots[[0, -1]]
    own = (weld, index, plate.thickness_mm, flat, ends, frame)
    match weld.joins:
        case AtDashBar():
            return _on_bar(bracket, own, spots)
        case AtAnchor():
            return _on_anchor(bracket, own, spots)
        case _:
            return _on_plate(bracket, own, spots)


_Own = tuple[Weld, int, float, tuple[Flat, Flat], Floats, Floats]


def _plate(bracket: Bracket, name: str) -> tuple[int, Plate, FoldMap] | None:
    for index, plate in enumerate(bracket.plates):
        if plate.name == name:
            try:
                return index, plate, fold_map_of(plate)
            except ShapeError:
                return None
    return None


def _framed(plate: Plate, fold_map: FoldMap, edge: Line, weld: Weld) -> tuple[tuple[Flat, Flat], Floats]:
    """Return both ends, snapped to the edge, and the frame; along is out of the face x front normal."""
    a, b = (_snapped(edge, end) for end in (weld.from_mm, weld.to_mm))
    way = np.subtract(b, a) / math.dist(a, b)
    middle = 0.5 * np.add(a, b)
    out = np.array([way[1], -way[0]])
    polygon = flat_pattern(plate).polygon
    if shapely.contains_xy(polygon, *(middle + _OFF_SHARE * plate.thickness_mm * out)):
        out = -out
    axes = fold_map.frame_at(float(middle[0]), float(middle[1]))
    outward, front = axes[:, :2] @ out, axes[:, 2]
    along = np.cross(outward, front)
    if float(along @ (axes[:, :2] @ way)) < 0.0:
        a, b = b, a
    return (a, b), np.column_stack([along, outward, front])


def _on_bar(bracket: Bracket, own: _Own, spots: Floats) -> WeldPlace | None:
    bar = bracket.dash_bar
    if bar is None:
        return None
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    length = float(np.linalg.norm(end - start))
    if not length > 0.0:
        return None
    along, out = (end - start) / length, own[-1][:, 1]
    gaps = []
    for spot in spots:
        station = float((spot - start) @ along)
        depth = depth_to_bar(bar, along, spot - start, out)
        gaps.append(math.nan if depth is None or not -1e-6 <= station <= length + 1e-6 else depth)
    normal = bar_normal(bar, along, out)
    return WeldPlace(
        *own,
        "dash bar",
        bar.name,
        None,
        None,
        None,
        np.array(gaps),
        _tilt_deg(normal, out),
        bar.section.wall_mm,
        False,
    )


def _on_anchor(bracket: Bracket, own: _Own, spots: Floats) -> WeldPlace | None:
    joins = own[0].joins
    name = joins.anchor if isinstance(joins, AtAnchor) else ""
    anchor = next((a for a in bracket.anchors if a.name == name), None)
    if anchor is None:
        return None
    gaps = np.zeros(len(spots))
    if anchor.at_mm is not None:
        # An anchor is a point: the weld has to pass through it.
        along, out = own[-1][:, 0], own[-1][:, 1]
        reach = np.asarray(anchor.at_mm, dtype=float) - spots[0]
        share = min(max(float(reach @ along), 0.0), float(np.linalg.norm(spots[-1] - spots[0])))
        off = reach - share * along
        gap = float(off @ out)
        beside = float(np.linalg.norm(off - gap * out))
        gaps += gap if beside <= own[2] else math.nan
    return WeldPlace(*own, "anchor", name, None, None, None, gaps, 0.0, math.inf, False)


def _on_plate(bracket: Bracket, own: _Own, spots: Floats) -> WeldPlace | None:
    weld = own[0]
    name = getattr(weld.joins, "plate", "")
    found = _plate(bracket, name)
    if found is None or found[0] == own[1]:
        return None
    index, plate, fold_map = found
    flat = fold_map.to_flat(spots)
    out = own[-1][:, 1]
    middle = flat[len(flat) // 2]
    normal = fold_map.frame_at(float(middle[0]), float(middle[1]))[:, 2]
    on_front = float(out @ normal) < 0.0
    gaps = flat[:, 2] - plate.thickness_mm if on_front else -flat[:, 2]
    polygon = flat_pattern(plate).polygon
    on = shapely.dwithin(polygon, shapely.points(flat[:, :2]), ON_EDGE_MM)
    line = shapely.LineString(flat[[0, -1], :2])
    bends = any(shapely.distance(zone.polygon, line) < 1e-6 for zone in fold_map.folded.zones)
    ends = ((float(flat[0, 0]), float(flat[0, 1])), (float(flat[-1, 0]), float(flat[-1, 1])))
    return WeldPlace(
        *own,
        "plate",
        plate.name,
        index,
        ends,
        "front" if on_front else "back",
        np.where(on, gaps, math.nan),
        _tilt_deg(normal if on_front else -normal, out),
        plate.thickness_mm,
        bends,
    )


def _tilt_deg(normal: Floats, out: Floats) -> float:
    return math.degrees(math.acos(min(1.0, max(-1.0, float(-normal @ out)))))


def _off(edge: Line, at: Flat) -> float:
    return math.dist(_snapped(edge, at), at)


def _snapped(edge: Line, at: Flat) -> Flat:
    a, way = np.asarray(edge.start), np.subtract(edge.end, edge.start)
    share = min(max(float(np.subtract(at, a) @ way / (way @ way)), 0.0), 1.0)
    x, y = a + share * way
    return float(x), float(y)
