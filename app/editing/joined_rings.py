"""The rings two outlines leave when the stretches of edge that run against each other are taken out."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from app.editing.edge_ring import Ring, Station, edge_of
from geometry.flat_segments import Line

TOUCH_MM: Final = 0.01
"""Edges this near each other lie on each other."""
_LEAST_SHARED_MM: Final = 0.1


def sewn_rings(a: Ring, b: Ring) -> list[Ring] | None:
    """Return the rings left of two outlines, material on their left, without the edges they share.

    None if they share none. A ring that runs the other way is an opening they enclose. Where one outline
    goes on into the other the station is a joint.
    """
    a, b = _split_at_places(a, b), _split_at_places(b, a)
    gone: dict[int, int] = {}
    for i in range(len(a)):
        for j in range(len(b)):
            if i not in gone and j not in gone.values() and _run_against(a, i, b, j):
                gone[i] = j
    shared = math.fsum(math.dist(a[i].at, a[(i + 1) % len(a)].at) for i in gone)
    if shared < _LEAST_SHARED_MM:
        return None
    steps: dict[tuple[int, int], tuple[int, int]] = {}
    taken = {(0, i) for i in gone} | {(1, j) for j in gone.values()}
    across = {(0, i): (1, j) for i, j in gone.items()} | {(1, j): (0, i) for i, j in gone.items()}
    rings = (a, b)
    for side, ring in enumerate(rings):
        for i in range(len(ring)):
            if (side, i) in taken:
                continue
            following = (side, (i + 1) % len(ring))
            while following in taken:
                other, k = across[following]
                following = (other, (k + 1) % len(rings[other]))
            steps[side, i] = following
    return _walked(rings, steps)


def _walked(rings: tuple[Ring, Ring], steps: dict[tuple[int, int], tuple[int, int]]) -> list[Ring]:
    found: list[Ring] = []
    while steps:
        here = first = next(iter(steps))
        stations: list[Station] = []
        joint = False
        while True:
            side, i = here
            stations.append(replace(rings[side][i], joint=joint or rings[side][i].joint))
            after = steps.pop(here)
            joint = after != (side, (i + 1) % len(rings[side]))
            here = after
            if here == first:
                break
        stations[0] = replace(stations[0], joint=joint or stations[0].joint)
        found.append(tuple(stations))
    return found


def _run_against(a: Ring, i: int, b: Ring, j: int) -> bool:
    here, there = edge_of(a, i), edge_of(b, j)
    if not isinstance(here, Line) or not isinstance(there, Line):
        return False
    return math.dist(here.start, there.end) < TOUCH_MM and math.dist(here.end, there.start) < TOUCH_MM


def _split_at_places(ring: Ring, other: Ring) -> Ring:
    """Return the ring with its straight edges divided where a corner of the other lies on them."""
    stations: list[Station] = []
    for i, station in enumerate(ring):
        stations.append(station)
        edge = edge_of(ring, i)
        if not isinstance(edge, Line):
            continue
        (x, y), (ux, uy) = edge.start, edge.direction(0.0)
        on = []
        for px, py in (s.at for s in other):
            along, aside = (px - x) * ux + (py - y) * uy, (py - y) * ux - (px - x) * uy
            if abs(aside) < TOUCH_MM and TOUCH_MM < along < edge.length_mm - TOUCH_MM:
                on.append((along, (px, py)))
        stations += [Station(at, None, "edge", joint=True) for _, at in sorted(on)]
    return tuple(stations)
