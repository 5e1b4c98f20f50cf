"""Stretches that cross although their lines do not: chords of two arcs that run close to each other.

A mesher given such stretches may never end, so they are halved until they are clear.
"""

from __future__ import annotations

import dataclasses
from typing import Final

import numpy as np
import shapely

from geometry.mesh_lines import DividedLines, Ints

HALVINGS: Final = 5
"""Each takes three quarters off the bulge between a chord and its arc."""

_Stretch = tuple[int, int]


def uncrossed(lines: DividedLines) -> DividedLines | None:
    """Return the lines with stretches of arcs halved where they cross others; None if they still cross."""
    for _ in range(HALVINGS):
        crossing = _crossing(lines)
        if not crossing:
            return lines
        on_arcs = crossing & lines.arcs.keys()
        if not on_arcs:
            return None
        lines = _halved(lines, on_arcs)
    return None if _crossing(lines) else lines


def _crossing(lines: DividedLines) -> set[_Stretch]:
    """Return every stretch, lower point first, that crosses another."""
    rings = [np.stack([ring, np.roll(ring, -1)], axis=1) for ring in lines.loops]
    stretches = np.sort(np.concatenate([*rings, lines.inner.reshape(-1, 2)]), axis=1)
    drawn = shapely.linestrings(lines.points[stretches])
    pairs = shapely.STRtree(drawn).query(drawn, predicate="crosses")
    return {(int(a), int(b)) for a, b in stretches[np.unique(pairs)]}


def _halved(lines: DividedLines, chosen: set[_Stretch]) -> DividedLines:
    points, arcs, middle = list(lines.points), dict(lines.arcs), {}
    for stretch in sorted(chosen):
        arc = arcs.pop(stretch)
        outward = lines.points[stretch[0]] + lines.points[stretch[1]] - 2.0 * np.asarray(arc.centre)
        length = float(np.hypot(*outward))
        # half a turn or more in one stretch has no clear side; no line is divided so coarsely
        number = middle[stretch] = len(points)
        points.append(np.asarray(arc.centre) + arc.radius_mm * outward / max(length, 1e-300))
        for end in stretch:
            arcs[end, number] = arc
    return dataclasses.replace(
        lines,
        points=np.array(points),
        loops=tuple(_ring(ring, middle) for ring in lines.loops),
        inner=_pairs(lines.inner, middle),
        arcs=arcs,
        named={name: _pairs(pairs, middle) for name, pairs in lines.named.items()},
    )


def _ring(ring: Ints, middle: dict[_Stretch, int]) -> Ints:
    found: list[int] = []
    for a, b in zip(ring.tolist(), np.roll(ring, -1).tolist(), strict=True):
        found.append(a)
        number = middle.get((min(a, b), max(a, b)))
        if number is not None:
            found.append(number)
    return np.array(found, dtype=np.int64)


def _pairs(pairs: Ints, middle: dict[_Stretch, int]) -> Ints:
    found: list[_Stretch] = []
    for a, b in pairs.tolist():
        number = middle.get((min(a, b), max(a, b)))
        found += [(a, b)] if number is None else [(a, number), (number, b)]
    return np.array(found, dtype=np.int64).reshape(-1, 2)
