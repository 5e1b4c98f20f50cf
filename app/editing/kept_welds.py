"""Welds that stay on the edges they are on while a plate's outline changes."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from geometry.bracket import Bracket
from geometry.flat_segments import Flat
from geometry.plate import Corner, Plate
from geometry.weld import Weld

_SAME_MM: Final = 1e-6
_ON_LINE_MM: Final = 1e-3


def kept_to_edges(bracket: Bracket, before: Plate, after: Plate) -> Bracket:
    """Return the bracket with a plate's welds on the edges they were on, while it has as many corners.

    A weld keeps its share of its edge.
    """
    if before.outline == after.outline or len(before.outline) != len(after.outline):
        return bracket
    return bracket.but(
        welds=tuple(
            _moved(weld, before.outline, after.outline) if weld.plate == before.name else weld
            for weld in bracket.welds
        )
    )


def _moved(weld: Weld, before: tuple[Corner, ...], after: tuple[Corner, ...]) -> Weld:
    for index, corner in enumerate(before):
        following = (index + 1) % len(before)
        shares = shares_of_line(corner.at_mm, before[following].at_mm, weld)
        if shares is None or corner.arc_via_mm is not None:
            continue
        a, b = np.asarray(after[index].at_mm), np.asarray(after[following].at_mm)
        start, end = (a + share * (b - a) for share in shares)
        return weld.but(from_mm=(float(start[0]), float(start[1])), to_mm=(float(end[0]), float(end[1])))
    return weld


def shares_of_line(start: Flat, end: Flat, weld: Weld) -> tuple[float, float] | None:
    """Return where along a straight line a weld begins and ends; None if it is not on it."""
    length = math.dist(start, end)
    if length < _SAME_MM:
        return None
    way = np.subtract(end, start) / length
    found = []
    for at in (weld.from_mm, weld.to_mm):
        reach = np.subtract(at, start)
        share = float(reach @ way) / length
        if abs(float(reach @ np.array([-way[1], way[0]]))) > _ON_LINE_MM or not -1e-6 <= share <= 1.0 + 1e-6:
            return None
        found.append(share)
    return found[0], found[1]
