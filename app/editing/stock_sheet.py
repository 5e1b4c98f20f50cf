"""The sheet and bolts that stock shapes are made of."""

from __future__ import annotations

from typing import Final

from geometry.bolt_tables import BoltSize

THICKNESS_MM: Final = 6.0
MATERIAL: Final = "S275"
INSIDE_RADIUS_MM: Final = 10.0
"""The least that EN 10025-2 gives S275 of 6 mm."""
BAR_BOLT: Final = "M8"
SHAFT_HOLE_MM: Final = 46.0
LEAST_SHAFT_HOLE_MM: Final = 24.0
TIGHTENING_NM: Final[dict[str, float]] = {
    "M5": 4.5, "M6": 8.0, "M8": 19.0, "M10": 38.0, "M12": 65.0, "M14": 105.0, "M16": 160.0,
}  # fmt: skip
"""A usual torque for a bolt of grade 8.8 (0.16 x diameter x 0.7 of proof stress); for other sizes a blank."""
EDGE_MM: Final = 6.0
"""From a footprint to the plate's edge, at least."""


def reach_mm(size: BoltSize) -> float:
    """Return how far from its middle a bolt needs the plate: footprint, judged circle and a margin."""
    return max(size.washer_outer_mm / 2.0 + THICKNESS_MM / 3.0 + 2.0, 1.3 * size.hole_medium_mm)
