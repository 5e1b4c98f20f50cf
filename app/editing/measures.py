"""A dimension of what is selected, and what typing over it does.

Glossary
--------
datum   where the shaft axis meets the flat pattern: the casing's centre; the flat origin where it meets none
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from app.editing.refused import EditRefused
from geometry.part import FlatPlace
from geometry.plate import Plate


@dataclass(frozen=True)
class Dimension:
    """One dimension of what is selected."""

    name: str
    """Such as `x`, `length`, `diameter`, `edge 3`; unique for what is selected."""
    value_mm: float
    """In `unit`; never below 0."""
    from_mm: FlatPlace
    to_mm: FlatPlace
    offset_side: int
    """The side its line is best set off to, looking from `from_mm` to `to_mm`: 1 left, -1 right."""
    unit: Literal["mm", "deg"] = "mm"


Put = Callable[[Plate, float], Plate]


@dataclass(frozen=True, eq=False)
class Measure:
    """A dimension with what makes the plate have another value of it."""

    dimension: Dimension
    put: Put


@dataclass(frozen=True)
class Ground:
    """What dimensions are taken from: a plate, its middle and its datum."""

    plate: Plate
    middle: FlatPlace
    datum: FlatPlace

    def measure(
        self,
        name: str,
        value_mm: float,
        ends: tuple[FlatPlace, FlatPlace],
        put: Put,
        unit: Literal["mm", "deg"] = "mm",
    ) -> Measure:
        """Return a measure whose line is set off away from the plate's middle."""
        (ax, ay), (bx, by) = ends
        mx, my = self.middle
        left = (bx - ax) * (my - ay) - (by - ay) * (mx - ax) > 0.0
        return Measure(Dimension(name, value_mm, ends[0], ends[1], -1 if left else 1, unit), put)

    def from_datum(self, at: FlatPlace, move: Callable[[Plate, FlatPlace], Plate]) -> list[Measure]:
        """Return the measures `x` and `y` of a place from the datum; `move` moves what is there by a step.

        A value below 0 puts it to the other side of the datum.
        """
        dx, dy = at[0] - self.datum[0], at[1] - self.datum[1]
        sx, sy = math.copysign(1.0, dx), math.copysign(1.0, dy)
        return [
            self.measure(
                "x",
                abs(dx),
                ((self.datum[0], at[1]), at),
                lambda plate, value: move(plate, (sx * value - dx, 0.0)),
            ),
            self.measure(
                "y",
                abs(dy),
                ((at[0], self.datum[1]), at),
                lambda plate, value: move(plate, (0.0, sy * value - dy)),
            ),
        ]

    def from_place(
        self, name: str, start: FlatPlace, at: FlatPlace, move: Callable[[Plate, FlatPlace], Plate]
    ) -> list[Measure]:
        """Return the distance of a place from another, if it has any, as a measure that moves it straight."""
        distance = math.dist(start, at)
        if distance < 1e-6:
            return []
        ux, uy = (at[0] - start[0]) / distance, (at[1] - start[1]) / distance

        def put(plate: Plate, value: float) -> Plate:
            above_nought(value, name)
            return move(plate, ((value - distance) * ux, (value - distance) * uy))

        return [self.measure(name, distance, (start, at), put)]


def above_nought(value: float, name: str) -> None:
    """Raise EditRefused if a value that has to be above 0 is not."""
    if not value > 0.0:
        raise EditRefused(f"{name} cannot be {value:g}; give more than 0")
