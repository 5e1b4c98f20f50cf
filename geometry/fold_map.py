"""From the flat pattern to the folded plate in space, and back.

The still panel stays where the placement puts it. From panel to panel, across a bend zone, the position
turns in proportion to the flat distance about the bend's axis, which lies the inside radius off the inner
face; beyond the zone it moves rigidly. Lengths are kept on the neutral line, K t from the inner face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from geometry.bend_zones import BendZone, FoldedPattern, folded_pattern
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.plate import Placement, Plate
from geometry.solid_mesh import Floats, Ints

LEAST_AXIS_MM: Final = 1e-9
NEAR_ZONE_MM: Final = 1e-6
"""A place this near a bend zone moves with the bend."""
_ELSEWHERE: Final = 1e3


@lru_cache(maxsize=32)
def fold_map_of(plate: Plate) -> FoldMap:
    """Return the map of a plate, kept for those seen lately; ShapeError if it cannot be folded or placed."""
    return FoldMap(plate)


class FoldMap:
    """The map of one plate; flat points are x, y in the pattern and z from 0 (back) to thickness (front)."""

    def __init__(self, plate: Plate, folded: FoldedPattern | None = None) -> None:
        """Make the map; ShapeError if the plate cannot be folded or placed."""
        self.plate = plate
        self.folded = folded_pattern(plate, flat_pattern(plate)) if folded is None else folded
        self.axes, self.origin = _placed(plate)
        self.still_panel = _still_panel(plate, self.folded)
        self._panels, self._bends = _tree(self.folded, self.still_panel)
        self._shapes = [*self.folded.panels, *(bend.zone.polygon for bend in self._bends)]

    def to_space(self, points: Floats, over: Ints | None = None) -> Floats:
        """Return where flat points (n, 3) are in space (n, 3), mm.

        A point off the plate moves with the nearest part. `over` (n,) tells, where it is known, the first of
        the points that lie at the same x and y as each.
        """
        placed: Floats = self.origin + self._folded(np.asarray(points, dtype=np.float64), over) @ self.axes.T
        return placed

    def to_flat(self, points: Floats) -> Floats:
        """Return the flat points (n, 3) that go to places in space (n, 3).

        The inverse of to_space on the plate's material.
        """
        local = (np.asarray(points, dtype=np.float64) - self.origin) @ self.axes
        if not self._bends:
            return local
        best = np.full(len(local), np.inf)
        flat = local.copy()
        for number, shape in enumerate(self._shapes):
            tried = self._unfold(number, local)
            off = shapely.distance(shape, shapely.points(tried[:, :2]))
            off += np.maximum(np.maximum(-tried[:, 2], tried[:, 2] - self.plate.thickness_mm), 0.0)
            # A region that is not this point's own sends it elsewhere: worse than a hair off an edge.
            off += _ELSEWHERE * np.linalg.norm(self._folded(tried) - local, axis=1)
            nearer = off < best
            best[nearer] = off[nearer]
            flat[nearer] = tried[nearer]
        return flat

    def frame_at(self, x_mm: float, y_mm: float) -> Floats:
        """Return (3, 3), in columns where x, y and the front's normal point in space at a flat place."""
        frame: Floats = self.axes @ self._turn_at(np.array([[x_mm, y_mm]]))
        return frame

    def _folded(self, points: Floats, over: Ints | None = None) -> Floats:
        """Where flat points are after folding, in the plate's own axes."""
        local = points.copy()
        if self._bends:
            if over is None:
                distinct, back = np.unique(points[:, :2], axis=0, return_inverse=True)
                region = self._region(distinct)[back.ravel()]
            else:
                first, back = np.unique(over, return_inverse=True)
                region = self._region(points[first, :2])[back]
            for number in range(len(self._shapes)):
                mine = np.flatnonzero(region == number)
                if len(mine):
                    local[mine] = self._fold(number, points[mine])
        return local

    def _turn_at(self, place: Floats) -> Floats:
        if not self._bends:
            return np.eye(3)
        region = int(self._region(place)[0])
        if region < len(self._panels):
            return self._panels[region].turn
        bend = self._bends[region - len(self._panels)]
        angle = float(bend.angle(bend.across(np.column_stack([place, [0.0]])))[0])
        turned: Floats = self._panels[bend.parent].turn @ bend.rotation(np.array([angle]))[0]
        return turned

    def _region(self, places: Floats) -> Ints:
        """Return which panel, or panels + bend, each flat place (n, 2) belongs to."""
        region = np.full(len(places), -1, dtype=np.int64)
        # Bends first: where an edge crosses a bend zone at a slant, cutting the zone out leaves the panel
        # a spike of no width along it. A bend's move runs on rigidly beyond both its tangent lines, so a
        # panel's place a hair off the zone comes out right by the bend too.
        for number in [*range(len(self._panels), len(self._shapes)), *range(len(self._panels))]:
            shape, reach = self._shapes[number], NEAR_ZONE_MM if number >= len(self._panels) else 0.0
            shapely.prepare(shape)
            low, high = np.reshape(shape.bounds, (2, 2))
            there = ((places >= low - reach) & (places <= high + reach)).all(axis=1)
            near = np.flatnonzero((region < 0) & there)
            region[near[shapely.dwithin(shape, shapely.points(places[near]), reach)]] = number
        # Left over: places just off a chord of an arc.
        left = np.flatnonzero(region < 0)
        if len(left):
            spots = shapely.points(places[left])
            off = np.stack([shapely.distance(shape, spots) for shape in self._shapes])
            region[left] = off.argmin(axis=0)
        return region

    def _fold(self, number: int, points: Floats) -> Floats:
        if number < len(self._panels):
            return self._panels[number].of(points)
        bend = self._bends[number - len(self._panels)]
        return self._panels[bend.parent].of(bend.fold(points))

    def _unfold(self, number: int, local: Floats) -> Floats:
        if number < len(self._panels):
            return self._panels[number].back(local)
        bend = self._bends[number - len(self._panels)]
        return bend.unfold(self._panels[bend.parent].back(local))


@dataclass(frozen=True)
class _Rigid:
    """A rigid move: turn, then shift."""

    turn: Floats
    shift: Floats

    def of(self, points: Floats) -> Floats:
        moved: Floats = points @ self.turn.T + self.shift
        return moved

    def back(self, points: Floats) -> Floats:
        moved: Floats = (points - self.shift) @ self.turn
        return moved


@dataclass(frozen=True)
class _Bend:
    """One bend from its parent panel: `across` runs from the parent's tangent line (0) to the child's."""

    zone: BendZone
    parent: int
    child: int
    out: Floats
    """(3,) unit vector from parent to child, in the flat."""
    start: Floats
    """(3,) a place on the parent's tangent line, at the height of the bend's axis."""
    sense: float
    """1 for a fold up, -1 for one down."""

    @property
    def turned_rad(self) -> float:
        return math.radians(self.zone.fold.angle_deg)

    def across(self, points: Floats) -> Floats:
        off: Floats = (points - self.start) @ self.out
        return off

    def angle(self, across: Floats) -> Floats:
        share: Floats = np.clip(across / self.zone.width_mm, 0.0, 1.0)
        return share * self.turned_rad

    def rotation(self, angle: Floats) -> Floats:
        """Return (n, 3, 3) turns from out toward the inner side by the angles."""
        up = np.array([0.0, 0.0, self.sense])
        axis = np.cross(self.out, up)
        plane = np.outer(up, self.out) - np.outer(self.out, up)
        flat = np.eye(3) - np.outer(axis, axis)
        c, s = np.cos(angle)[:, None, None], np.sin(angle)[:, None, None]
        turned: Floats = np.outer(axis, axis) + c * flat + s * plane
        return turned

    def fold(self, points: Floats) -> Floats:
        across = self.across(points)
        angle = self.angle(across)
        used = angle * (self.zone.width_mm / self.turned_rad)
        moved: Floats = self.start + np.einsum(
            "nij,nj->ni", self.rotation(angle), points - self.start - used[:, None] * self.out
        )
        return moved

    def unfold(self, points: Floats) -> Floats:
        off = points - self.start
        along_out, along_up = off @ self.out, off[:, 2] * self.sense
        # Seen from the axis the material hangs below: its angle is 0 straight down and grows toward `out`.
        half = 0.5 * self.turned_rad
        angle = np.arctan2(along_out, -along_up)
        angle = half + (angle - half + math.pi) % (2.0 * math.pi) - math.pi
        radius = np.hypot(along_out, along_up)
        flat = points.copy()
        across = angle * (self.zone.width_mm / self.turned_rad)
        flat[:, :2] += ((across - along_out)[:, None] * self.out)[:, :2]
        flat[:, 2] = self.start[2] - self.sense * radius
        return flat


def _tree(folded: FoldedPattern, root: int) -> tuple[list[_Rigid], list[_Bend]]:
    """Return the move of each panel and the bends between them, walking out from the still panel."""
    moves: dict[int, _Rigid] = {root: _Rigid(np.eye(3), np.zeros(3))}
    bends: list[_Bend] = []
    waiting = list(folded.zones)
    while waiting:
        reached = [zone for zone in waiting if moves.keys() & set(zone.panels)]
        for zone in reached:
            parent, child = zone.panels if zone.panels[0] in moves else zone.panels[::-1]
            bend = _bend(zone, parent, child)
            shift = np.array([bend.zone.width_mm * bend.out[k] for k in range(3)])
            turn = bend.rotation(np.array([bend.turned_rad]))[0]
            before = moves[parent]
            # start + turn (p - start - shift), then the parent's own move.
            own = bend.start - turn @ (bend.start + shift)
            moves[child] = _Rigid(before.turn @ turn, before.turn @ own + before.shift)
            bends.append(bend)
        waiting = [zone for zone in waiting if zone not in reached]
    return [moves[number] for number in range(len(folded.panels))], bends


def _bend(zone: BendZone, parent: int, child: int) -> _Bend:
    side = 1.0 if zone.panels == (parent, child) else -1.0
    out = np.array([side * zone.aside[0], side * zone.aside[1], 0.0])
    up = zone.fold.direction == "up"
    radius, thickness = zone.fold.inside_radius_mm, zone.allowance.thickness_mm
    height = thickness + radius if up else -radius
    start = np.array([*zone.middle, height]) - 0.5 * zone.width_mm * out
    return _Bend(zone, parent, child, out, start, 1.0 if up else -1.0)


def _placed(plate: Plate) -> tuple[Floats, Floats]:
    """Return the axes in columns (3, 3) and where the flat origin of the back face stands (3,)."""
    placement: Placement = plate.placement
    x = np.array(placement.x_axis, dtype=np.float64)
    y = np.array(placement.y_axis, dtype=np.float64)
    lengths = (np.linalg.norm(x), np.linalg.norm(y))
    if min(lengths) > LEAST_AXIS_MM:
        x, y = x / lengths[0], y / lengths[1]
        y = y - (y @ x) * x
    if min(lengths) <= LEAST_AXIS_MM or np.linalg.norm(y) < 1e-6:
        raise ShapeError(
            "placement_axes",
            f"plate {plate.name}, placement",
            f"its axes {placement.x_axis} and {placement.y_axis} do not span a plane",
            "give two axes of some length that point in different directions",
        )
    y = y / np.linalg.norm(y)
    axes = np.column_stack([x, y, np.cross(x, y)])
    height = {"back": 0.0, "middle": 0.5, "front": 1.0}[placement.origin_on] * plate.thickness_mm
    return axes, np.array(placement.origin_mm, dtype=np.float64) - height * axes[:, 2]


def _still_panel(plate: Plate, folded: FoldedPattern) -> int:
    place = plate.placement.still_at_mm
    if place is None or not folded.zones:
        return int(np.argmax([panel.area for panel in folded.panels]))
    number = folded.panel_number(place)
    if number is None:
        raise ShapeError(
            "still_off_panel",
            f"plate {plate.name}, placement",
            f"the place ({place[0]:g}, {place[1]:g}) that should stay still lies on no panel",
            "give a place on a flat part of the plate, off bends and openings",
            place,
        )
    return number
