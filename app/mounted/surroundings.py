"""What the bracket holds and what holds it: casing, shaft, bearings, wheel, anchors."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import product
from typing import Final

import numpy as np

from app.mounted.around_shapes import around_shapes
from app.mounted.shapes import CASING, FIXED, Floats, Ints, Kind, Lines, Shapes, Surface, solid_shapes
from app.mounted.solids import circle, closed, hatch_ticks, prism, rectangle, tube
from geometry.bracket import Bracket
from geometry.casing import Boss, Casing, Column
from geometry.casing_in_space import boss_in_space, casing_to_space
from geometry.placing import BoltPlace
from solver.rigid import axes_along

SHAFT_Z: Final = np.array([0.0, 0.0, 1.0])
_ACROSS: Final = tuple(sign * np.eye(3)[i] for i in (0, 1) for sign in (1.0, -1.0))
BEARING_MM: Final = 16.0
"""Radius a bearing is drawn with."""
BEYOND_MM: Final = 30.0
"""How far the shaft axis is drawn past the last thing on it."""
BOSS_MM: Final = 20.0
"""Most of a boss's length that is drawn."""
_BOX_SIDES: Final = (
    (0, 1),
    (2, 3),
    (4, 5),
    (6, 7),
    (0, 2),
    (1, 3),
    (4, 6),
    (5, 7),
    (0, 4),
    (1, 5),
    (2, 6),
    (3, 7),
)
_BOX_FACES: Final = ((0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3))


def surroundings(bracket: Bracket, places: Sequence[BoltPlace]) -> Shapes:
    """Return everything of a bracket but its plates, bolts and dash bar."""
    shapes = _shaft(bracket) + _bearings(bracket.column) + _wheel(bracket)
    shapes += around_shapes(bracket.installation)
    if bracket.casing is not None:
        shapes += _casing(bracket.casing)
    return shapes + _anchors(bracket, places)


@lru_cache(maxsize=8)
def _casing(casing: Casing) -> Shapes:
    low, high = casing.envelope.low_mm, casing.envelope.high_mm
    corners = np.array(
        [casing_to_space(casing, (x, y, z)) for x, y, z in product(*zip(low, high, strict=True))]
    )
    faces = np.array([t for a, b, c, d in _BOX_FACES for t in ((a, b, c), (a, c, d))], dtype=np.int64)
    block = Surface("casing", casing.name, CASING, corners, faces, "casing")
    outline = Lines("casing", casing.name, CASING, corners[np.array(_BOX_SIDES)], "adjacent")
    shapes = Shapes((block,), (outline,))
    for boss in casing.bosses:
        shapes += _boss(casing, boss)
    return shapes


def _boss(casing: Casing, boss: Boss) -> Shapes:
    try:
        face, out = boss_in_space(casing, boss)
    except ValueError:
        return Shapes()
    length = min(boss.depth_mm or BOSS_MM, BOSS_MM)
    ring = circle(face, -out, boss.face_diameter_mm / 2.0)
    points, triangles = prism(ring, -length * out)
    thread = closed(circle(face + 0.1 * out, out, 0.28 * boss.face_diameter_mm))
    return solid_shapes(Surface("boss", boss.name, CASING, points, triangles, "metal"), pen="thin") + Shapes(
        lines=(Lines("boss", boss.name, CASING, thread, "thin"),)
    )


def _shaft(bracket: Bracket) -> Shapes:
    stations = [0.0]
    if bracket.casing is not None:
        station = bracket.casing.station_mm
        stations += [
            station + bracket.casing.envelope.low_mm[2],
            station + bracket.casing.envelope.high_mm[2],
        ]
    stations += [bearing.station_mm for bearing in bracket.column.bearings]
    stations += [joint.station_mm for joint in bracket.shaft_joints]
    if bracket.column.mount is not None:
        stations.append(bracket.column.mount.station_mm)
    if bracket.wheel is not None:
        stations.append(bracket.wheel.station_mm)
    ends = np.outer([min(stations) - BEYOND_MM, max(stations) + BEYOND_MM], SHAFT_Z)
    return Shapes(lines=(Lines("shaft", "shaft axis", FIXED, ends[None], "chain"),))


@lru_cache(maxsize=8)
def _bearings(column: Column) -> Shapes:
    held = [] if column.held_by != "bearings" else list(column.bearings)
    places = [(bearing.name, bearing.station_mm) for bearing in held]
    mount = column.mount
    if column.held_by == "donor mount" and mount is not None:
        places.append((mount.name, mount.station_mm))
    shapes = Shapes()
    for name, station in places:
        ring = circle(station * SHAFT_Z, SHAFT_Z, BEARING_MM)
        points, triangles = tube(
            ring - 4.0 * SHAFT_Z, 0.55 * (ring - station * SHAFT_Z) + (station - 4.0) * SHAFT_Z, 8.0 * SHAFT_Z
        )
        shapes += solid_shapes(Surface("bearing", name, FIXED, points, triangles, "ground"))
        ground = np.concatenate([_rail(station, out) for out in _ACROSS])
        shapes += Shapes(lines=(Lines("bearing", name, FIXED, ground, "ground"),))
    return shapes


def _rail(station_mm: float, out: Floats) -> Floats:
    """Return ground beside a bearing (k, 2, 3): a short line along the shaft, hatched away from it."""
    half = 0.75 * BEARING_MM
    middle = station_mm * SHAFT_Z + (BEARING_MM + 2.0) * out
    feet = middle + np.outer(np.linspace(-1.0, 0.6, 5) * half, SHAFT_Z)
    strokes = np.stack([feet, feet + 0.4 * half * (out + SHAFT_Z)], axis=1)
    rail = np.stack([middle - half * SHAFT_Z, middle + half * SHAFT_Z])
    return np.concatenate([rail[None], strokes])


def _wheel(bracket: Bracket) -> Shapes:
    wheel = bracket.wheel
    if wheel is None:
        return Shapes()
    return Shapes(
        lines=(
            Lines(
                "wheel", "wheel", FIXED, wheel_lines(wheel.diameter_mm) + wheel.station_mm * SHAFT_Z, "wheel"
            ),
        )
    )


def wheel_lines(diameter_mm: float) -> Floats:
    """Return (k, 2, 3) rim, hub and three spokes of a wheel about the origin."""
    rim, hub = diameter_mm / 2.0, diameter_mm / 12.0
    rings = [closed(circle(np.zeros(3), SHAFT_Z, r, 64)) for r in (rim, 0.92 * rim, hub)]
    spokes = []
    for degrees in (0.0, 180.0, 270.0):
        angle = np.radians(degrees)
        way = np.array([np.cos(angle), np.sin(angle), 0.0])
        side = 0.035 * diameter_mm * np.array([-way[1], way[0], 0.0])
        for sign in (-1.0, 1.0):
            reach = np.sqrt(np.array([hub, 0.92 * rim]) ** 2 - float(side @ side))
            spokes.append(np.outer(reach, way) + sign * side)
    return np.concatenate([*rings, np.array(spokes)])


def _anchors(bracket: Bracket, places: Sequence[BoltPlace]) -> Shapes:
    shapes = Shapes()
    bolted = {place.partner_name: place for place in places if place.partner == "anchor"}
    for anchor in bracket.anchors:
        place = bolted.get(anchor.name)
        if place is None and anchor.at_mm is None:
            continue
        at = place.partner_mm if place is not None else np.asarray(anchor.at_mm, dtype=float)
        away = place.axis if place is not None else -SHAFT_Z
        radius = place.mating_outer_mm if place is not None else 12.0
        points, triangles = _pad(at, away, radius)
        shapes += solid_shapes(Surface("anchor", anchor.name, FIXED, points, triangles, "ground"))
        ring = rectangle(at + 5.0 * away, *_half_ground(away, 1.5 * radius))
        ground = np.concatenate([closed(ring), hatch_ticks(ring, away, 0.6 * radius, radius / 3.0)])
        shapes += Shapes(lines=(Lines("anchor", anchor.name, FIXED, ground, "ground"),))
    return shapes


def _pad(at: Floats, away: Floats, radius_mm: float) -> tuple[Floats, Ints]:
    return prism(circle(at, away, radius_mm), 5.0 * away)


def _half_ground(away: Floats, half_mm: float) -> tuple[Floats, Floats]:
    first, second, _ = axes_along(away).T
    return half_mm * first, half_mm * second


def places_of(kinds: Sequence[Kind], shapes: Shapes) -> Floats:
    """Return the ends (n, 3) of all lines of those kinds."""
    found = [line.ends.reshape(-1, 3) for line in shapes.lines if line.kind in kinds]
    return np.concatenate(found) if found else np.zeros((0, 3))
