"""Places and figures an edit is given, looked at before a part is made of them."""

from __future__ import annotations

import math
from typing import Final

from app.editing.refused import EditRefused
from geometry.part import FlatPlace

FARTHEST_MM: Final = 10_000.0
"""No sheet of a bracket reaches farther from its origin."""


def checked_place(at: FlatPlace, what: str) -> FlatPlace:
    """Return the flat place as two plain numbers; EditRefused, naming `what`, if it lies on no sheet."""
    x, y = float(at[0]), float(at[1])
    if not (math.isfinite(x) and math.isfinite(y)) or max(abs(x), abs(y)) > FARTHEST_MM:
        raise EditRefused(
            f"{what} at ({x:g}, {y:g}) mm would lie off any sheet; choose a place within"
            f" {FARTHEST_MM:g} mm of the origin"
        )
    return (x, y)


def moved_place(at: FlatPlace, by: FlatPlace, what: str) -> FlatPlace:
    """Return the flat place moved by a step in mm; EditRefused, naming `what`, if it lies on no sheet."""
    return checked_place((at[0] + by[0], at[1] + by[1]), what)


def checked_length(value_mm: float, what: str) -> float:
    """Return a length above zero; EditRefused, naming `what`, if it is none."""
    value = float(value_mm)
    if not math.isfinite(value) or value > FARTHEST_MM:
        raise EditRefused(f"{what} of {value:g} mm is longer than any sheet; give at most {FARTHEST_MM:g} mm")
    if value <= 0.0:
        raise EditRefused(f"{what} of {value:g} mm cannot be made; give a length above 0")
    return value


def checked_radius(value_mm: float, what: str) -> float:
    """Return a radius of 0 or more; EditRefused, naming `what`, if it is none."""
    return 0.0 if value_mm == 0.0 else checked_length(value_mm, what)
