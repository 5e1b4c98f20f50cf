"""Points of a mesh's lines: those that all but coincide are one."""

from __future__ import annotations

import math

from geometry.flat_segments import Flat


class MergedPoints:
    """Numbered points; one nearer than the merge distance to a known one takes its number."""

    def __init__(self, merge_mm: float) -> None:
        """Take the distance below which two points are one, mm."""
        self.merge_mm = merge_mm
        self.places: list[Flat] = []
        self._cells: dict[tuple[int, int], list[int]] = {}

    def number(self, place: Flat, *, exact: bool = False) -> int:
        """Return the number of a place, a new one if none is near; `exact` merges what is the same alone."""
        reach = 1e-7 if exact else self.merge_mm
        column, row = math.floor(place[0] / self.merge_mm), math.floor(place[1] / self.merge_mm)
        best, nearest = -1, reach
        for i in (column - 1, column, column + 1):
            for j in (row - 1, row, row + 1):
                for known in self._cells.get((i, j), ()):
                    apart = math.dist(self.places[known], place)
                    if apart <= nearest:
                        best, nearest = known, apart
        return best if best >= 0 else self.add(place)

    def add(self, place: Flat) -> int:
        """Return a new number for a place, whatever is near."""
        number = len(self.places)
        self.places.append(place)
        cell = (math.floor(place[0] / self.merge_mm), math.floor(place[1] / self.merge_mm))
        self._cells.setdefault(cell, []).append(number)
        return number
