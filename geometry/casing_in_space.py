"""Where the casing and its bosses stand in space: turned about the shaft, moved along it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from geometry.casing import Boss, Casing

Floats = NDArray[np.float64]


def casing_to_space(casing: Casing, place_mm: tuple[float, float, float]) -> Floats:
    """Return where a place given in the casing's axes stands in space."""
    return np.asarray(
        _clocked(casing) @ np.asarray(place_mm, dtype=float) + np.array([0.0, 0.0, casing.station_mm])
    )


def boss_in_space(casing: Casing, boss: Boss) -> tuple[Floats, Floats]:
    """Return the centre of a boss's face in space and the unit vector out of it.

    ValueError for a direction of no length.
    """
    direction = np.asarray(boss.direction, dtype=float)
    length = float(np.linalg.norm(direction))
    if not length > 0.0:
        raise ValueError(f"boss {boss.name} has a direction of no length: say which way its face looks")
    return casing_to_space(casing, boss.at_mm), np.asarray(_clocked(casing) @ direction / length)


def _clocked(casing: Casing) -> Floats:
    angle = math.radians(casing.clocking_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    return np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
