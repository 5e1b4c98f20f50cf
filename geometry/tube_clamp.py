"""A clamp round the column's tube: it holds by friction alone."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import Field

from geometry.part import Name, Part, Positive, Range


class TubeClamp(Part):
    """Two halves, or a split ring, that bolts draw round the tube; casing or bracket hangs on it too."""

    name: Name
    stations_mm: tuple[float, float]
    """Both of its edges along the shaft, in any order."""
    tube_mm: Positive | None = None
    """Outer diameter of the tube; None is a blank."""
    bolts: Annotated[int, Field(ge=1, le=12)] | None = None
    """How many draw it together, on both sides counted; None is a blank."""
    preload_n: Range | None = None
    """Of each bolt, least and most; None is a blank."""
    friction: Range = (0.1, 0.2)
    """Between clamp and tube, least and most: bare or painted steel (common practice, no source)."""

    @property
    def width_mm(self) -> float:
        """Return how much of the tube it grips."""
        return abs(self.stations_mm[1] - self.stations_mm[0])

    @property
    def drawn_n(self) -> tuple[float, float] | None:
        """Return what draws the two halves together, least and most; None while blank.

        All bolts; a ring split on one side only draws itself on by up to as much again, which is left out.
        """
        if self.bolts is None or self.preload_n is None:
            return None
        return self.bolts * self.preload_n[0], self.bolts * self.preload_n[1]

    @property
    def slip_nm(self) -> tuple[float, float] | None:
        """Return the couple in N.m at which it slips, least and most; None while blank.

        Least: it bears on two lines, so 2 F mu D / 2. Most: it presses evenly all round, so pi F mu D / 2.
        """
        drawn = self.drawn_n
        if drawn is None or self.tube_mm is None:
            return None
        low, high = (f * mu * self.tube_mm / 2000.0 for f, mu in zip(drawn, self.friction, strict=True))
        return 2.0 * low, math.pi * high

    @property
    def missing(self) -> tuple[str, ...]:
        """Return in words what is blank."""
        parts = {"tube": self.tube_mm, "number of bolts": self.bolts, "preload": self.preload_n}
        return tuple(words for words, value in parts.items() if value is None)
