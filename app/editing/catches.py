"""What the pointer is caught by in a flat pattern, and the sentence that says so.

Glossary
--------
place    what can be caught exactly: a boss, the shaft axis, a hole's centre, a corner, the middle of an edge
in line  straight above, below or beside a place
begun    where the present line or drag began
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.editing.catch_places import CatchPlace, catch_places, edges_at
from app.editing.names import plate_of
from app.editing.selected import Selected
from geometry.bracket import Bracket
from geometry.part import FlatPlace

_SAME_MM: Final = 1e-9
_RANK_SHARE: Final = 1e-3
"""Of the reach: what an earlier rank is ahead by, so that it wins where two places are one."""


@dataclass(frozen=True)
class Catch:
    """Where the pointer is taken to be, and why; no words where nothing caught it."""

    at_mm: FlatPlace
    words: str = ""


@dataclass(frozen=True)
class _Line:
    """A place in line with another, with how far it is off the pointer."""

    off_mm: float
    at_mm: FlatPlace
    words: str


def catch(
    bracket: Bracket,
    plate_name: str,
    point: FlatPlace,
    reach_mm: float,
    *,
    grid_mm: float | None,
    from_mm: FlatPlace | None = None,
    ignore: Iterable[Selected | str] = (),
) -> Catch:
    """Return what catches a point; a gesture makes one Catcher and asks that."""
    return Catcher(bracket, plate_name, ignore).catch(point, reach_mm, grid_mm=grid_mm, from_mm=from_mm)


class Catcher:
    """Finds what catches the pointer on one plate, as the plate is when it is made."""

    def __init__(
        self,
        bracket: Bracket,
        plate_name: str,
        ignore: Iterable[Selected | str] = (),
        length: Callable[[float], str] | None = None,
    ) -> None:
        """Prepare it.

        `ignore` is what the gesture moves, as selected or by the name of an opening: it catches nothing.
        `length` words a length in mm, such as `36 mm`. EditRefused if there is no such plate.
        """
        self._plate = plate_of(bracket, plate_name)
        self._length = length or _length
        self._places: tuple[CatchPlace, ...] = catch_places(bracket, self._plate, tuple(ignore))
        at = np.array([place.at_mm for place in self._places], dtype=np.float64).reshape(-1, 2)
        self._x, self._y = at[:, 0].copy(), at[:, 1].copy()
        self._rank = np.array([place.rank for place in self._places], dtype=np.float64)
        self._lines_up = np.array([place.lines_up for place in self._places], dtype=bool)

    def catch(
        self,
        point: FlatPlace,
        reach_mm: float,
        *,
        grid_mm: float | None,
        from_mm: FlatPlace | None = None,
        before_mm: FlatPlace | None = None,
    ) -> Catch:
        """Return what catches a point within reach: a place, else a line, else the grid, else nothing.

        `from_mm` is where the present line began, `before_mm` where the line before that did, so that the one
        can be drawn square to the other. A `grid_mm` of None or 0 is no grid.
        """
        grid = grid_mm or 0.0
        return (
            self._place(point, reach_mm)
            or self._straight(point, reach_mm, grid, from_mm)
            or self._along_edges(point, reach_mm, grid, from_mm, before_mm)
            or self._grid(point, reach_mm, grid)
            or Catch((float(point[0]), float(point[1])))
        )

    def _place(self, point: FlatPlace, reach: float) -> Catch | None:
        if not len(self._x):
            return None
        away = np.hypot(self._x - point[0], self._y - point[1])
        best = int(np.argmin(away + self._rank * _RANK_SHARE * reach + np.where(away > reach, np.inf, 0.0)))
        if away[best] > reach:
            return None
        return Catch(self._places[best].at_mm, self._places[best].words)

    def _straight(self, point: FlatPlace, reach: float, grid: float, begun: FlatPlace | None) -> Catch | None:
        up, level = self._in_line(point, reach, 0, begun), self._in_line(point, reach, 1, begun)
        if up is not None and level is not None and up[1] != level[1]:
            words = f"in line with {up[1]} and {level[1]}"
            return Catch((up[0][0], level[0][1]), words)
        choices = []
        for found, axis in ((up, 0), (level, 1)):
            if found is not None:
                at, name = found
                other = _rounded(point[1 - axis] - at[1 - axis], grid)
                place = (at[0], at[1] + other) if axis == 0 else (at[0] + other, at[1])
                choices.append(_Line(abs(point[axis] - at[axis]), place, self._words(name, at, place, begun)))
        if not choices:
            return None
        best = min(choices, key=lambda line: line.off_mm)
        return Catch(best.at_mm, best.words)

    def _in_line(
        self, point: FlatPlace, reach: float, axis: int, begun: FlatPlace | None
    ) -> tuple[FlatPlace, str] | None:
        """Return the place that lies straight above or below (0), or beside (1), and what it is called."""
        best, found = math.inf, None
        mine, others = (self._x, self._y) if axis == 0 else (self._y, self._x)
        if len(mine):
            off = np.abs(mine - point[axis])
            cost = off + _RANK_SHARE * np.abs(others - point[1 - axis])
            cost[(off > reach) | ~self._lines_up] = math.inf
            nearest = int(np.argmin(cost))
            if math.isfinite(cost[nearest]):
                best = float(cost[nearest])
                found = (self._places[nearest].at_mm, self._places[nearest].name)
        if begun is not None and abs(begun[axis] - point[axis]) <= reach:
            cost_begun = abs(begun[axis] - point[axis]) + _RANK_SHARE * abs(begun[1 - axis] - point[1 - axis])
            if cost_begun <= best + _SAME_MM:
                found = (begun, "where it began")
        return found

    def _words(self, name: str, at: FlatPlace, place: FlatPlace, begun: FlatPlace | None) -> str:
        distance = self._length(math.dist(at, place))
        if at is begun:
            dx, dy = place[0] - at[0], place[1] - at[1]
            way = ("right" if dx > 0.0 else "left") if abs(dx) > abs(dy) else ("up" if dy > 0.0 else "down")
            return f"straight {way}, {distance}"
        round_one = name.startswith(("boss", "hole", "slot"))
        return f"in line with {name}, {distance} from {'its centre' if round_one else 'it'}"

    def _along_edges(
        self,
        point: FlatPlace,
        reach: float,
        grid: float,
        begun: FlatPlace | None,
        before: FlatPlace | None,
    ) -> Catch | None:
        if begun is None:
            return None
        ways = [(name, way) for name, way in edges_at(self._plate, begun)]
        if before is not None and math.dist(before, begun) > _SAME_MM:
            length = math.dist(before, begun)
            ways.append(
                ("the line before", ((begun[0] - before[0]) / length, (begun[1] - before[1]) / length))
            )
        px, py = point[0] - begun[0], point[1] - begun[1]
        best: _Line | None = None
        for name, (ux, uy) in ways:
            for how, vx, vy in (("square to", -uy, ux), ("in line with", ux, uy)):
                along, off = px * vx + py * vy, abs(px * vy - py * vx)
                if off > reach or abs(along) < reach or (best is not None and off >= best.off_mm):
                    continue
                to = _rounded(along, grid)
                place = (begun[0] + to * vx, begun[1] + to * vy)
                best = _Line(off, place, f"{how} {name}, {self._length(abs(to))} long")
        return None if best is None else Catch(best.at_mm, best.words)

    def _grid(self, point: FlatPlace, reach: float, grid: float) -> Catch | None:
        if grid <= 0.0:
            return None
        at = (_rounded(point[0], grid), _rounded(point[1], grid))
        if math.dist(at, point) > reach:
            return None
        return Catch(at, f"on the {self._length(grid)} grid")


def _rounded(value: float, grid: float) -> float:
    return round(round(value / grid) * grid, 9) + 0.0 if grid > 0.0 else float(value)


def _length(value_mm: float) -> str:
    return f"{round(value_mm, 1) + 0.0:g} mm"
