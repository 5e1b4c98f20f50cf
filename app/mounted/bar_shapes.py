"""The dash bar: a tube with its section, bent as it was solved, and the ground at its ends."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from app.mounted.shapes import (
    FIXED,
    Bools,
    Edges,
    Floats,
    Ints,
    Lines,
    Shapes,
    Surface,
    skin_edges,
    solid_shapes,
)
from app.mounted.solids import circle, closed, hatch_ticks, rectangle
from geometry.bar_section import Angle, Channel, Round, Solid
from geometry.fixing import BarEnd, BarStay, DashBar
from solver.results import CaseResult
from solver.rigid import axes_along

PIECES: Final = 40
"""The tube is drawn in this many pieces, so that it can be seen to bend."""


def bar_shapes(bar: DashBar, case: CaseResult | None = None) -> Shapes:
    """Return the bar, with its movement in a load case if there is one."""
    return _still(bar) if case is None else _shapes(bar, case)


@lru_cache(maxsize=8)
def _still(bar: DashBar) -> Shapes:
    """Return the bar at rest, kept: a gesture elsewhere does not change it."""
    return _shapes(bar, None)


def _shapes(bar: DashBar, case: CaseResult | None) -> Shapes:
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    length = float(np.linalg.norm(end - start))
    if not length > 0.0:
        return Shapes()
    width, height, along = axes_along(end - start, bar.up).T
    outer, inner, reach = _section(bar, start, width, height)
    count = len(outer)
    steps = np.linspace(0.0, length, PIECES + 1)
    rings = [ring + step * along for ring in (outer, inner) for step in steps]
    points = np.concatenate(rings)
    triangles = _walls(count)
    moved = None if case is None else _bent(case, points, start, along)
    solid = Surface("dash bar", bar.name, FIXED, points, triangles, "bar", moved)
    shapes = solid_shapes(solid, _without_seams(skin_edges(points, triangles), points, along, length, start))
    for place, away, held in ((start, -along, bar.ends[0]), (end, along, bar.ends[1])):
        shapes += _bar_end(bar.name, place, away, held, (reach * width, reach * height))
    for stay in bar.stays:
        shapes += _stay(bar.name, start + min(stay.station_mm, length) * along, stay, 3.0 * reach)
    return shapes


def _stay(name: str, foot: Floats, stay: BarStay, long_mm: float) -> Shapes:
    """Return the strut of one stay, from the bar to the ground it stands on; none without a direction."""
    away = np.asarray(stay.direction, dtype=float)
    size = float(np.linalg.norm(away))
    if not size > 0.0:
        return Shapes()
    frame = axes_along(away)
    half = 0.15 * long_mm
    end = foot + long_mm * frame[:, 2]
    ring = rectangle(end, half * frame[:, 0], half * frame[:, 1])
    strut = np.array([[foot, end]])
    drawn = [strut, closed(ring), hatch_ticks(ring, frame[:, 2], 0.5 * half, half / 4.0)]
    return Shapes(lines=(Lines("dash bar", name, FIXED, np.concatenate(drawn), "ground"),))


def _walls(count: int) -> Ints:
    """Return the triangles between rings: outside, inside and the two end faces."""
    here = np.arange(count, dtype=np.int64)
    after = np.roll(here, -1)
    within = PIECES + 1

    def between(low: int, high: int) -> Ints:
        a, b = here + low * count, after + low * count
        c, d = after + high * count, here + high * count
        return np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])

    outside = [between(k, k + 1) for k in range(PIECES)]
    inside = [between(within + k + 1, within + k) for k in range(PIECES)]
    return np.concatenate([*outside, *inside, between(PIECES, within + PIECES), between(within, 0)])


def _without_seams(edges: Edges, points: Floats, along: Floats, length: float, start: Floats) -> Edges:
    """Return the edges without those round the tube between its pieces, should rounding make any."""

    def kept(pairs: Ints) -> Bools:
        stations = (points[pairs] - start) @ along
        level = np.abs(stations[:, 0] - stations[:, 1]) < 1e-6 * length
        at_end = (stations[:, 0] < 1e-6 * length) | (stations[:, 0] > (1.0 - 1e-6) * length)
        return np.asarray(~level | at_end)

    sharp, rounds = kept(edges.sharp), kept(edges.rounds)
    return replace(
        edges, sharp=edges.sharp[sharp], rounds=edges.rounds[rounds], normals=edges.normals[rounds]
    )


def _bent(case: CaseResult, points: Floats, start: Floats, along: Floats) -> Floats | None:
    """Return the movement (n, 3) of the tube's points.

    Between the solved places the bar runs as a beam does: its slope there joins smoothly.
    """
    if len(case.bar_stations_mm) < 2:
        return None
    stations = (points - start) @ along
    motions = _beam_like(case.bar_stations_mm, case.bar_motions, stations, along)
    arms = points - start - stations[:, None] * along
    moved: Floats = motions[:, :3] + np.cross(motions[:, 3:], arms)
    return moved


def _beam_like(stations: Floats, motions: Floats, wanted: Floats, along: Floats) -> Floats:
    """Return motions (n, 6) at the wanted stations: shifts by cubics, turns linearly."""
    after = np.clip(np.searchsorted(stations, wanted, side="right"), 1, len(stations) - 1)
    low, high = stations[after - 1], stations[after]
    span = (high - low)[:, None]
    share = np.clip((wanted - low) / (high - low), 0.0, 1.0)[:, None]
    first, last = motions[after - 1], motions[after]
    # The slope of the axis is the turn crossed with its direction.
    slopes = [np.cross(motion[:, 3:], along) * span for motion in (first, last)]
    stretch = ((last[:, :3] - first[:, :3]) @ along)[:, None] * along
    slopes = [slope + stretch for slope in slopes]
    square, cube = share**2, share**3
    shift = (
        (2.0 * cube - 3.0 * square + 1.0) * first[:, :3]
        + (cube - 2.0 * square + share) * slopes[0]
        + (3.0 * square - 2.0 * cube) * last[:, :3]
        + (cube - square) * slopes[1]
    )
    return np.hstack([shift, (1.0 - share) * first[:, 3:] + share * last[:, 3:]])


def _section(bar: DashBar, start: Floats, width: Floats, height: Floats) -> tuple[Floats, Floats, float]:
    """Return outer and inner ring at the start, and half the size of the ground drawn at its ends.

    A section without a bore has its inner ring within the metal, so that its end faces are closed.
    """
    section = bar.section
    hidden = 0.45 * section.wall_mm
    if isinstance(section, Round):
        axis = np.cross(width, height)
        outer = section.outer_mm / 2.0
        inner = outer - (hidden if isinstance(section, Solid) else section.wall_mm)
        return circle(start, axis, outer), circle(start, axis, max(inner, 0.1)), 1.5 * outer
    half = np.array([section.width_mm, section.height_mm]) / 2.0
    reach = 1.5 * float(half.max())
    if isinstance(section, Angle | Channel):
        outline = _angle_outline if isinstance(section, Angle) else _channel_outline
        both = [outline(half, section.wall_mm, inset) for inset in (0.0, hidden)]
        rings = [start + np.outer(ring[:, 0], width) + np.outer(ring[:, 1], height) for ring in both]
        return rings[0], rings[1], reach
    hollow = np.maximum(half - (hidden if isinstance(section, Solid) else section.wall_mm), 0.1)
    rings = [rectangle(start, w * width, h * height) for w, h in (half, hollow)]
    return rings[0], rings[1], reach


def _angle_outline(half: Floats, wall: float, inset: float) -> Floats:
    """Return the (6, 2) corners of an angle's outline, drawn in by `inset`; the heel is at low, low."""
    (right, top), thick = half - inset, wall - 2.0 * inset
    left, foot = -right, -top
    return np.array(
        [
            (left, foot),
            (right, foot),
            (right, foot + thick),
            (left + thick, foot + thick),
            (left + thick, top),
            (left, top),
        ]
    )


def _channel_outline(half: Floats, wall: float, inset: float) -> Floats:
    """Return the (8, 2) corners of a channel's outline, drawn in by `inset`; the web is at low width."""
    (right, top), thick = half - inset, wall - 2.0 * inset
    left, foot = -right, -top
    return np.array(
        [
            (left, foot),
            (right, foot),
            (right, foot + thick),
            (left + thick, foot + thick),
            (left + thick, top - thick),
            (right, top - thick),
            (right, top),
            (left, top),
        ]
    )


def _bar_end(name: str, place: Floats, away: Floats, held: BarEnd, half: tuple[Floats, Floats]) -> Shapes:
    """Return the ground at one end: welded or flanged on it, on a pin before it, or none."""
    if held.kind == "free":
        return Shapes()
    size = float(np.linalg.norm(half[0]))
    face = place
    lines: list[Floats] = []
    if held.kind in ("pinned", "stiffness"):
        face = place + 0.8 * size * away
        lines.append(closed(circle(place + 0.4 * size * away, half[0] / size, 0.4 * size)))
    ring = rectangle(face, half[0], half[1])
    lines += [closed(ring), hatch_ticks(ring, away, 0.5 * size, size / 4.0)]
    if held.kind == "bolted flange":
        lines.append(closed(rectangle(face - 0.25 * size * away, 0.9 * half[0], 0.9 * half[1])))
    return Shapes(lines=(Lines("dash bar", name, FIXED, np.concatenate(lines), "ground"),))
