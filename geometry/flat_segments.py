"""The two shapes an edge of a flat pattern can have: a straight line or an arc, exactly.

Glossary
--------
share   how far along an edge a place lies: 0 at its start, 1 at its end
loop    edges end to end, closed
turn    signed angle an arc runs through, radians, positive from x toward y
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.one_line import on_one_line

Floats = NDArray[np.float64]
Flat = tuple[float, float]

FULL_TURN: Final = 2.0 * math.pi


class ShapeError(ValueError):
    """A plate whose shape cannot be made: `where` names the thing, `found` the value, `next_step` what to do.

    `code` is a short fixed name of the kind of fault, `at_mm` the flat place if there is one.
    """

    def __init__(self, code: str, where: str, found: str, next_step: str, at_mm: Flat | None = None) -> None:
        super().__init__(on_one_line(f"{where}: {found}; {next_step}"))
        self.code = code
        self.where = where
        self.found = found
        self.next_step = next_step
        self.at_mm = at_mm


@dataclass(frozen=True)
class Line:
    """A straight edge, mm."""

    start: Flat
    end: Flat

    @property
    def length_mm(self) -> float:
        """Length."""
        return math.dist(self.start, self.end)

    def at(self, share: Floats) -> Floats:
        """Return the places (n, 2) at the shares (n,)."""
        a, b = np.asarray(self.start), np.asarray(self.end)
        places: Floats = a + np.asarray(share)[:, None] * (b - a)
        return places

    def direction(self, share: float) -> Flat:
        """Return the unit vector along the edge."""
        return _unit(self.end[0] - self.start[0], self.end[1] - self.start[1])

    def swept_area_mm2(self) -> float:
        """Return half the cross product of the ends: the edge's part of its loop's area (Green)."""
        return 0.5 * (self.start[0] * self.end[1] - self.end[0] * self.start[1])


@dataclass(frozen=True)
class Arc:
    """An arc edge, mm and radians."""

    centre: Flat
    radius_mm: float
    from_rad: float
    turn_rad: float

    @property
    def start(self) -> Flat:
        """Place at share 0."""
        return self._place(self.from_rad)

    @property
    def end(self) -> Flat:
        """Place at share 1."""
        return self._place(self.from_rad + self.turn_rad)

    @property
    def length_mm(self) -> float:
        """Length along the arc."""
        return self.radius_mm * abs(self.turn_rad)

    @property
    def is_circle(self) -> bool:
        """Whether it is a whole circle."""
        return abs(self.turn_rad) >= FULL_TURN * (1.0 - 1e-12)

    def at(self, share: Floats) -> Floats:
        """Return the places (n, 2) at the shares (n,)."""
        angle = self.from_rad + np.asarray(share) * self.turn_rad
        places: Floats = np.asarray(self.centre) + self.radius_mm * np.stack(
            [np.cos(angle), np.sin(angle)], axis=1
        )
        return places

    def direction(self, share: float) -> Flat:
        """Return the unit vector along the edge at a share."""
        angle = self.from_rad + share * self.turn_rad
        sign = math.copysign(1.0, self.turn_rad)
        return (-sign * math.sin(angle), sign * math.cos(angle))

    def swept_area_mm2(self) -> float:
        """Return the edge's part of its loop's area: 1/2 integral of x dy - y dx (Green)."""
        (x0, y0), (x1, y1) = self.start, self.end
        cx, cy = self.centre
        return 0.5 * (self.radius_mm**2 * self.turn_rad + cx * (y1 - y0) - cy * (x1 - x0))

    def _place(self, angle: float) -> Flat:
        return (
            self.centre[0] + self.radius_mm * math.cos(angle),
            self.centre[1] + self.radius_mm * math.sin(angle),
        )


Edge = Line | Arc
Loop = tuple[Edge, ...]


def arc_through(start: Flat, via: Flat, end: Flat, where: str) -> Arc:
    """Return the arc from start through via to end; ShapeError, naming `where`, if they lie in one line."""
    ax, ay = start[0] - via[0], start[1] - via[1]
    bx, by = end[0] - via[0], end[1] - via[1]
    cross = ax * by - ay * bx
    reach = max(math.hypot(ax, ay), math.hypot(bx, by))
    if abs(cross) <= 1e-9 * reach * reach:
        raise ShapeError(
            "arc_in_line",
            where,
            f"the arc's points {_text(start)}, {_text(via)} and {_text(end)} lie in one line",
            "move the middle point off the line, or leave it out for a straight edge",
            via,
        )
    a2, b2 = ax * ax + ay * ay, bx * bx + by * by
    ux, uy = (by * a2 - ay * b2) / (2.0 * cross), (ax * b2 - bx * a2) / (2.0 * cross)
    centre = (via[0] + ux, via[1] + uy)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    middle = math.atan2(via[1] - centre[1], via[0] - centre[0])
    last = math.atan2(end[1] - centre[1], end[0] - centre[0])
    turn = (last - first) % FULL_TURN
    if (middle - first) % FULL_TURN > turn:
        turn -= FULL_TURN
    return Arc(centre, math.hypot(ux, uy), first, turn)


def loop_area_mm2(loop: Loop) -> float:
    """Return the signed area of a loop: positive when it runs from x toward y."""
    return math.fsum(edge.swept_area_mm2() for edge in loop)


def _unit(x: float, y: float) -> Flat:
    length = math.hypot(x, y)
    return (x / length, y / length)


def _text(place: Flat) -> str:
    return f"({place[0]:g}, {place[1]:g})"
