"""Where a flat pattern bends: a zone along each fold line, and the flat panels the zones leave between them.

Glossary
--------
bend zone     the strip, angle x (r + K t) wide, middle on the fold line, that becomes the bend
along, aside  coordinates of a zone: along its fold line, and square to it (to the left looking along)
tangent line  an edge of the zone, where panel and bend meet
panel         a region of the flat pattern that stays flat
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry import Point, Polygon
from shapely.geometry.base import BaseGeometry

from geometry.bend_allowance import BendAllowance
from geometry.bend_strips import at_edge, developed, refuse_touching, strip_pieces, unclean, where_words
from geometry.edge_crossings import crossings
from geometry.flat_pattern import FlatPattern, refuse_unsound
from geometry.flat_segments import Flat, Line, ShapeError
from geometry.plate import FoldLine, Plate

STRIP_DEG: Final = 15.0
"""A bend is meshed in strips that turn by no more than this."""
CLEAN_SHIFT: Final = 2.0
"""The end of a zone may move by this many zone widths from one tangent line to the other: more is no clean
end."""
THREAD_MM: Final = 1e-9
"""Wider than what rounding leaves between a zone and an edge that runs across it."""
_SECTIONS: Final = (-0.49, -0.4, -0.3, -0.2, -0.1, 0.0, 0.1, 0.2, 0.3, 0.4, 0.49)
"""Where a zone is looked at, over its width from the fold line: a relief may fall a hair short, no more."""


@dataclass(frozen=True)
class BendZone:
    """The bend zone of one fold between two panels."""

    fold: FoldLine
    allowance: BendAllowance
    polygon: BaseGeometry
    """The zone's material: one piece, or several where openings cut right through it."""
    middle: Flat
    along: Flat
    """Unit vector along the fold line."""
    panels: tuple[int, int]
    """Numbers of the panel to the right of the fold line and of the one to its left."""
    sections: tuple[tuple[float, float], ...]
    """(from, to) along the fold line of each piece, where the fold line crosses it."""

    @property
    def width_mm(self) -> float:
        """Developed width."""
        return self.allowance.zone_width_mm

    @property
    def aside(self) -> Flat:
        """Unit vector square to the fold line, to its left."""
        return (-self.along[1], self.along[0])

    @property
    def strips(self) -> int:
        """Strips it is meshed in, at least."""
        return math.ceil(self.fold.angle_deg / STRIP_DEG - 1e-9)


@dataclass(frozen=True)
class FoldedPattern:
    """A flat pattern cut into panels by its bend zones; the panels hang together as a tree."""

    pattern: FlatPattern
    panels: tuple[Polygon, ...]
    zones: tuple[BendZone, ...]

    def panel_number(self, place: Flat) -> int | None:
        """Return the number of the panel a flat place lies on, edges included; None if on none."""
        for number, panel in enumerate(self.panels):
            if panel.distance(Point(place)) < 1e-6:
                return number
        return None

    def panel_at(self, place: Flat) -> Polygon:
        """Return the panel a flat place belongs to: the one it lies on or in a hole of, else the nearest."""
        for panel in self.panels:
            if Polygon(panel.exterior).contains(Point(place)):
                return panel
        return min(self.panels, key=lambda panel: panel.distance(Point(place)))

    def strip_lines(self, zone: BendZone, strips: int | None = None) -> list[Line]:
        """Return the lines between a zone's strips, tangent lines included, from edge to edge."""
        count = zone.strips if strips is None else strips
        lines = []
        for k in range(count + 1):
            offset = zone.width_mm * (k / count - 0.5)
            for low, high in _intervals(self.pattern, zone.middle, zone.along, offset, zone.polygon):
                lines.append(Line(_place(zone, low, offset), _place(zone, high, offset)))
        return lines


def folded_pattern(plate: Plate, pattern: FlatPattern) -> FoldedPattern:
    """Return the plate's panels and bend zones.

    ShapeError, if the pattern crosses itself; naming the fold, if it cannot be developed, misses the
    material, does not end cleanly on outline or opening, touches another, or if the panels do not hang
    together as a tree.
    """
    refuse_unsound(pattern)
    if not plate.folds:
        return FoldedPattern(pattern, (pattern.polygon,), ())
    pieces: list[tuple[FoldLine, BendAllowance, Polygon]] = []
    for fold in plate.folds:
        allowance = developed(plate, fold)
        pieces += [
            (fold, allowance, piece) for piece in strip_pieces(plate, fold, allowance.zone_width_mm, pattern)
        ]
    refuse_touching(plate, pieces)
    panels = _panels(pattern.polygon, shapely.union_all([piece for _, _, piece in pieces]))
    zones = _joined([_zone(plate, pattern, panels, *piece) for piece in pieces])
    if len(zones) != len(panels) - 1:
        raise ShapeError(
            "folds_in_ring",
            f"plate {plate.name}",
            f"its {len(zones)} bends join {len(panels)} panels in a ring, which cannot be folded",
            "cut the ring open with an opening or through the outline",
        )
    return FoldedPattern(pattern, panels, tuple(zones))


def _panels(whole: Polygon, zones: BaseGeometry) -> tuple[Polygon, ...]:
    """Return what is left between the zones.

    Where an edge runs across a zone at a slant, rounding may leave a thread of no width along it that ties
    two panels together: zones a hair larger cut it.
    """
    found: list[tuple[Polygon, ...]] = []
    for taken in (zones, zones.buffer(THREAD_MM, join_style="mitre")):
        rest = whole.difference(taken)
        found.append(tuple(part for part in getattr(rest, "geoms", [rest]) if part.area > 1e-6 * whole.area))
    return found[1] if len(found[1]) > len(found[0]) else found[0]


def _zone(
    plate: Plate,
    pattern: FlatPattern,
    panels: Sequence[Polygon],
    fold: FoldLine,
    allowance: BendAllowance,
    piece: Polygon,
) -> BendZone:
    width = allowance.zone_width_mm
    along = Line(fold.from_mm, fold.to_mm).direction(0.0)
    middle = ((fold.from_mm[0] + fold.to_mm[0]) / 2.0, (fold.from_mm[1] + fold.to_mm[1]) / 2.0)
    sections = []
    for share in _SECTIONS:
        intervals = _intervals(pattern, middle, along, share * width, piece)
        if not intervals:
            raise at_edge(plate, fold, width)
        if len(intervals) > 1:
            raise unclean(
                plate, fold, width, "an edge or opening reaches into it without cutting right through", piece
            )
        sections.append(intervals[0])
    for end in (0, 1):
        places = [section[end] for section in sections]
        if max(places) - min(places) > CLEAN_SHIFT * width:
            raise unclean(
                plate, fold, width, "its ends do not lie on the outline over its whole width", piece
            )
    bare = BendZone(fold, allowance, piece, middle, along, (-1, -1), (sections[len(sections) // 2],))
    sides = tuple(_beyond(plate, bare, panels, sections[0 if side < 0 else -1], side) for side in (-1.0, 1.0))
    if sides[0] == sides[1]:
        raise ShapeError(
            "folds_in_ring",
            where_words(plate, fold),
            "the material on both its sides is one piece, so it cannot be folded",
            "carry the fold right across, or cut relief notches to its ends",
            middle,
        )
    return BendZone(fold, allowance, piece, middle, along, (sides[0], sides[1]), bare.sections)


def _beyond(
    plate: Plate, zone: BendZone, panels: Sequence[Polygon], section: tuple[float, float], side: float
) -> int:
    """Return the number of the panel just beyond a tangent line."""
    step = max(1e-3 * zone.width_mm, 1e-6)
    for share in (0.5, 0.25, 0.75, 0.05, 0.95):
        at = section[0] + share * (section[1] - section[0])
        place = Point(_place(zone, at, side * (0.5 * zone.width_mm + step)))
        for number, panel in enumerate(panels):
            if panel.contains(place):
                return number
    raise at_edge(plate, zone.fold, zone.width_mm)


def _joined(zones: Sequence[BendZone]) -> list[BendZone]:
    """Return the zones with the pieces of one fold between the same two panels made one."""
    found: dict[tuple[str, tuple[int, int]], BendZone] = {}
    for zone in zones:
        key = (zone.fold.name, zone.panels)
        before = found.get(key)
        if before is None:
            found[key] = zone
        else:
            both = shapely.union_all([before.polygon, zone.polygon])
            sections = (*before.sections, *zone.sections)
            found[key] = BendZone(
                zone.fold, zone.allowance, both, zone.middle, zone.along, zone.panels, sections
            )
    return list(found.values())


def _intervals(
    pattern: FlatPattern, middle: Flat, along: Flat, offset: float, within: BaseGeometry
) -> list[tuple[float, float]]:
    """Return (from, to) of each run of a line beside the fold line through the zone's material, exactly."""
    low_x, low_y, high_x, high_y = pattern.polygon.bounds
    reach = 2.0 * math.hypot(high_x - low_x, high_y - low_y) + math.dist(middle, (low_x, low_y))
    x0, y0 = middle[0] - offset * along[1], middle[1] + offset * along[0]
    line = Line(
        (x0 - reach * along[0], y0 - reach * along[1]), (x0 + reach * along[0], y0 + reach * along[1])
    )
    loops = (pattern.outline, *pattern.openings.values())
    cuts = sorted(
        share * line.length_mm - reach
        for loop in loops
        for edge in loop
        for share, _ in crossings(line, edge, 1e-7)
    )
    border = pattern.polygon.boundary
    found: list[tuple[float, float]] = []
    for low, high in itertools.pairwise(cuts):
        if high - low < 1e-6:
            continue
        at = 0.5 * (low + high)
        place = Point(x0 + at * along[0], y0 + at * along[1])
        if (
            not pattern.polygon.contains(place)
            or border.distance(place) < 1e-7
            or within.distance(place) > 1e-6
        ):
            continue
        if found and low - found[-1][1] < 1e-6:
            found[-1] = (found[-1][0], high)
        else:
            found.append((low, high))
    return found


def _place(zone: BendZone, along_mm: float, aside_mm: float) -> Flat:
    (x, y), (ux, uy) = zone.middle, zone.along
    return (x + along_mm * ux - aside_mm * uy, y + along_mm * uy + aside_mm * ux)
