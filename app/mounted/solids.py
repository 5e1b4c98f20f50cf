"""Plain solids the drawing is put together from: prisms, tubes, boxes, circles, ground hatching."""

from __future__ import annotations

from typing import Final

import numpy as np

from app.mounted.shapes import Floats, Ints

ROUND_SIDES: Final = 32


def circle(centre: Floats, axis: Floats, radius_mm: float, sides: int = ROUND_SIDES) -> Floats:
    """Return (sides, 3) places round an axis."""
    first, second = across(axis)
    angle = 2.0 * np.pi * np.arange(sides) / sides
    places: Floats = centre + radius_mm * (np.outer(np.cos(angle), first) + np.outer(np.sin(angle), second))
    return places


def prism(base: Floats, shift: Floats) -> tuple[Floats, Ints]:
    """Return points and triangles of a convex base (k, 3), turning left seen from where it is shifted to."""
    count = len(base)
    here = np.arange(count, dtype=np.int64)
    after = np.roll(here, -1)
    fan = np.stack([np.zeros(count - 2, dtype=np.int64), here[1:-1], here[2:]], axis=1)
    walls = np.concatenate(
        [
            np.stack([here, after, after + count], axis=1),
            np.stack([here, after + count, here + count], axis=1),
        ]
    )
    return np.concatenate([base, base + shift]), np.concatenate([fan[:, ::-1], fan + count, walls])


def tube(outer: Floats, inner: Floats, shift: Floats) -> tuple[Floats, Ints]:
    """Return points and triangles of a tube between two rings (k, 3) that turn left seen from its far end."""
    count = len(outer)
    points = np.concatenate([outer, outer + shift, inner, inner + shift])
    here = np.arange(count, dtype=np.int64)
    after = np.roll(here, -1)

    def between(low: int, high: int) -> Ints:
        a, b = here + low * count, after + low * count
        c, d = after + high * count, here + high * count
        return np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)])

    return points, np.concatenate([between(0, 1), between(3, 2), between(1, 3), between(2, 0)])


def rectangle(centre: Floats, first: Floats, second: Floats) -> Floats:
    """Return (4, 3) corners centre +- first +- second, turning from first toward second."""
    return np.array([centre + a * first + b * second for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))])


def closed(ring: Floats) -> Floats:
    """Return the pieces (k, 2, 3) of a ring (k, 3)."""
    return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


def across(axis: Floats) -> tuple[Floats, Floats]:
    """Return two unit vectors (3,) square to a unit axis (3,) and each other, right-handed with it."""
    least = np.eye(3)[int(np.argmin(np.abs(axis)))]
    first = np.cross(least, axis)
    first = first / np.linalg.norm(first)
    return first, np.cross(axis, first)


def hatch_ticks(ring: Floats, away: Floats, length_mm: float, apart_mm: float) -> Floats:
    """Return the strokes (k, 2, 3) of ground hatching along a ring, slanting away from what it holds."""
    pieces = closed(ring)
    ticks = []
    for start, end in pieces:
        side = float(np.linalg.norm(end - start))
        count = max(1, round(side / apart_mm))
        along = (end - start) / max(side, 1e-12)
        feet = start + np.outer((np.arange(count) + 0.5) / count, end - start)
        slant = (away + along) / np.sqrt(2.0) * length_mm
        ticks.append(np.stack([feet, feet + slant], axis=1))
    return np.concatenate(ticks)
