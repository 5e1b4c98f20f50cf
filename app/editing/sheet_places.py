"""Where casing and dash bar lie on a plate's flat pattern.

Glossary
--------
panel frame   where one panel stands in space: its axes, and the place of its flat origin at the back face
off           how far a boss's face or the bar stands off the face of the sheet that looks at it; below 0 the
              sheet runs into it
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from app.editing.names import plate_of
from geometry.bar_face import bar_normal, depth_to_bar
from geometry.bar_section import Round
from geometry.bracket import Bracket
from geometry.casing_in_space import boss_in_space
from geometry.findings_bolt_faces import TILT_DEG
from geometry.fixing import AtBoss, DashBar
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.part import FlatPlace
from geometry.plate import Corner, Plate

Floats = NDArray[np.float64]
FlatLine = tuple[FlatPlace, FlatPlace]

_FAR_MM: Final = 1e4
_OUT_MM: Final = 1e3
"""Well outside any bar."""
_BEYOND_MM: Final = 15.0
"""How far past the panel the bar's edges are drawn."""


@dataclass(frozen=True)
class BossOnSheet:
    """Where the axis of a boss meets the flat pattern of a plate."""

    name: str
    at_mm: FlatPlace
    face_diameter_mm: float
    bolted: bool
    """Whether a bolt of any plate goes into it."""
    off_mm: float
    """How far its face stands off the sheet; below 0 the sheet runs into it."""


@dataclass(frozen=True)
class BarOnSheet:
    """The strip of a flat pattern that looks at the dash bar."""

    name: str
    lines: tuple[FlatLine, FlatLine]
    """Its two edges."""
    middle: FlatLine
    """Under the bar's axis."""
    off_mm: float
    """How far the bar stands off the sheet; below 0 the sheet runs into it."""
    flat: bool
    """Whether a flat of the bar lies along the sheet; a round tube has none."""


@dataclass(frozen=True, eq=False)
class PanelFrame:
    """One panel and where it stands."""

    shape: Polygon
    """With its openings filled."""
    elsewhere: BaseGeometry
    """The rest of the flat pattern: other panels and bends."""
    axes: Floats
    """(3, 3) columns: where the flat x, y and the front's normal point."""
    origin_mm: Floats
    """(3,) where the flat origin would stand on the panel's back face."""
    thickness_mm: float

    def flat(self, place: Floats) -> tuple[FlatPlace, float]:
        """Return the flat place under a place in space, and its height over the back face."""
        x, y, height = (float(value) for value in self.axes.T @ (place - self.origin_mm))
        return (x, y), height

    def way(self, direction: Floats) -> Floats:
        """Return a direction in space in the panel's own axes (3,)."""
        return np.asarray(self.axes.T @ direction)


@lru_cache(maxsize=32)
def panel_frames(plate: Plate) -> tuple[PanelFrame, ...]:
    """Return the panels of a plate and where they stand.

    A plate that cannot be folded as it is, is taken flat; one whose outline cannot be made has no limits.
    """
    fold_map = _fold_map(plate)
    panels = [Polygon(panel.exterior) for panel in fold_map.folded.panels]
    zones = [zone.polygon for zone in fold_map.folded.zones]
    frames = []
    for number, panel in enumerate(panels):
        spot = fold_map.folded.panels[number].representative_point()
        x, y = float(spot.x), float(spot.y)
        axes = fold_map.frame_at(x, y)
        at = fold_map.to_space(np.array([[x, y, 0.0]]))[0]
        rest = shapely.union_all([*panels[:number], *panels[number + 1 :], *zones])
        origin = at - axes @ np.array([x, y, 0.0])
        frames.append(PanelFrame(panel, rest, axes, origin, plate.thickness_mm))
    return tuple(frames)


def bosses_on_sheet(bracket: Bracket, plate_name: str) -> tuple[BossOnSheet, ...]:
    """Return where the axis of each boss meets a plate's flat pattern, in the casing's order.

    Only bosses whose face is parallel to a panel; a place beyond the plate's edge is given too, one that the
    flat pattern has for another panel is not. EditRefused if there is no such plate.
    """
    plate = plate_of(bracket, plate_name)
    if bracket.casing is None or not bracket.casing.bosses:
        return ()
    frames = panel_frames(plate)
    taken = {bolt.joins.boss for bolt in bracket.bolts if isinstance(bolt.joins, AtBoss)}
    found = []
    for boss in bracket.casing.bosses:
        try:
            at, toward = boss_in_space(bracket.casing, boss)
        except ValueError:
            continue
        meetings = [meeting for frame in frames if (meeting := _meeting(frame, at, toward)) is not None]
        if meetings:
            _, place, off = min(meetings)
            found.append(BossOnSheet(boss.name, place, boss.face_diameter_mm, boss.name in taken, off))
    return tuple(found)


def bar_on_sheet(bracket: Bracket, plate_name: str) -> BarOnSheet | None:
    """Return the strip of a plate's flat pattern that looks at the dash bar; None if none does.

    Of several panels along the bar the nearest counts. EditRefused if there is no such plate.
    """
    plate, bar = plate_of(bracket, plate_name), bracket.dash_bar
    if bar is None or not math.dist(bar.from_mm, bar.to_mm) > 1e-6:
        return None
    strips = [strip for frame in panel_frames(plate) for strip in _strips(frame, bar)]
    return min(strips, key=lambda strip: strip[0])[1] if strips else None


def casing_centre(plate: Plate) -> FlatPlace:
    """Return where the shaft axis meets the flat pattern; the flat origin where no panel is square to it."""
    way = np.array([0.0, 0.0, 1.0])
    meetings = [m for frame in panel_frames(plate) if (m := _meeting(frame, np.zeros(3), way)) is not None]
    x, y = min(meetings)[1] if meetings else (0.0, 0.0)
    return (round(x, 9) + 0.0, round(y, 9) + 0.0)


def _fold_map(plate: Plate) -> FoldMap:
    bare = plate.but(openings=(), folds=(), placement=plate.placement.but(still_at_mm=None))
    square = tuple(
        Corner(at_mm=at)
        for at in ((-_FAR_MM, -_FAR_MM), (_FAR_MM, -_FAR_MM), (_FAR_MM, _FAR_MM), (-_FAR_MM, _FAR_MM))
    )
    unlimited = bare.but(outline=square)
    placed = unlimited.placement.but(x_axis=(1.0, 0.0, 0.0), y_axis=(0.0, 1.0, 0.0))
    for tried in (plate, plate.but(openings=()), bare, unlimited):
        try:
            return fold_map_of(tried)
        except ShapeError:
            continue
    return FoldMap(unlimited.but(placement=placed))  # its axes span no plane, which a finding tells


def _meeting(frame: PanelFrame, at: Floats, toward: Floats) -> tuple[float, FlatPlace, float] | None:
    """Return (how far away, flat place, off) where a line square to a panel meets it; None if not square."""
    cosine = float(frame.way(toward)[2])
    if abs(cosine) < math.cos(math.radians(TILT_DEG)):
        return None
    place, height = frame.flat(at)
    spot = Point(place)
    if frame.shape.distance(spot) > 1e-6 and frame.elsewhere.distance(spot) < 1e-6:
        return None
    off = -height if cosine > 0.0 else height - frame.thickness_mm
    x, y = (round(value, 9) + 0.0 for value in place)
    return frame.shape.distance(spot) + abs(off), (x, y), round(off, 9) + 0.0


def _strips(frame: PanelFrame, bar: DashBar) -> Iterator[tuple[float, BarOnSheet]]:
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    along = (end - start) / np.linalg.norm(end - start)
    local = frame.way(along)
    if abs(float(local[2])) > math.sin(math.radians(TILT_DEG)):
        return
    (x0, y0), height = frame.flat(start)
    (x1, y1), _ = frame.flat(end)
    front = height > frame.thickness_mm / 2.0
    normal = frame.axes[:, 2] if front else -frame.axes[:, 2]
    aside = np.cross(normal, along)
    deep, half = _half_mm(bar, along, normal), _half_mm(bar, along, aside)
    off = round((height - frame.thickness_mm if front else -height) - deep, 9) + 0.0
    middle = LineString([(x0, y0), (x1, y1)])
    low_x, low_y, high_x, high_y = frame.shape.bounds
    reach = half + _BEYOND_MM
    seen = middle.intersection(shapely.box(low_x - reach, low_y - reach, high_x + reach, high_y + reach))
    if seen.geom_type != "LineString" or seen.is_empty:
        return
    (ax, ay), (bx, by) = (tuple(float(v) for v in place) for place in seen.coords)
    length = math.hypot(bx - ax, by - ay)
    if length < 1e-6:
        return
    dx, dy = -(by - ay) / length * half, (bx - ax) / length * half
    edges = (((ax + dx, ay + dy), (bx + dx, by + dy)), ((ax - dx, ay - dy), (bx - dx, by - dy)))
    tilt = float(-bar_normal(bar, along, normal) @ normal)
    flat = not isinstance(bar.section, Round) and tilt > math.cos(math.radians(TILT_DEG))
    away = max(frame.shape.distance(seen) - half, 0.0) + abs(off)
    yield away, BarOnSheet(bar.name, edges, ((ax, ay), (bx, by)), off, flat)


def _half_mm(bar: DashBar, along: Floats, way: Floats) -> float:
    """Return how far the bar's surface lies from its axis in a direction square to it."""
    depth = depth_to_bar(bar, along, -_OUT_MM * way, way)
    return 0.0 if depth is None else round(float(_OUT_MM - depth), 9)
