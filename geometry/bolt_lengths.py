"""Lengths bolts are sold in: those of ISO 4014 and ISO 4017, inch ones by the eighth and the quarter.

All from memory, to be verified.
"""

from __future__ import annotations

from typing import Final

from geometry.bolt_tables import BoltSize

_LENGTHS_MM: Final = (
    8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160,
    180, 200,
)  # fmt: skip
_EIGHTHS: Final = (*range(3, 9), *range(10, 49, 2))
_EIGHTH_MM: Final = 25.4 / 8.0


def sold_mm(least_mm: float, size: BoltSize, *, down: bool = False) -> float | None:
    """Return the nearest length sold that is no shorter, or with `down` no longer; None if there is none."""
    metric = size.system == "metric"
    lengths = [float(mm) for mm in _LENGTHS_MM] if metric else [n * _EIGHTH_MM for n in _EIGHTHS]
    fitting = [mm for mm in lengths if (mm <= least_mm + 1e-6 if down else mm >= least_mm - 1e-6)]
    return (max(fitting) if down else min(fitting)) if fitting else None
