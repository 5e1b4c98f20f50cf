"""How high nuts are: what a bolt must reach past what it clamps.

Nuts of ISO 4032 and, with a locking ring, ISO 7040, at their largest; inch nuts about as ASME B18.2.2 has
them. All from memory, to be verified.
"""

from __future__ import annotations

from typing import Final

from geometry.bolt_tables import BoltSize, System
from geometry.fixing import Bolt

NUT_SOURCES: Final[dict[System, str]] = {
    "metric": "nuts of ISO 4032 and ISO 7040",
    "inch": "nuts of ASME B18.2.2",
}
_NUT_MM: Final = {5: 4.7, 6: 5.2, 8: 6.8, 10: 8.4, 12: 10.8, 14: 12.8, 16: 14.8}
_LOCKING_NUT_MM: Final = {5: 6.8, 6: 8.0, 8: 9.5, 10: 11.9, 12: 14.9, 14: 17.0, 16: 19.1}
_NUT_OVER_D: Final = 0.9
_LOCKING_NUT_OVER_D: Final = 1.25


def has_locking_nut(bolt: Bolt) -> bool:
    """Return whether what keeps the bolt from turning loose is its nut."""
    return bolt.locking is not None and "nut" in bolt.locking.casefold()


def nut_height_mm(size: BoltSize, bolt: Bolt) -> float:
    """Return the height of the nut that goes on a bolt of that size."""
    locking = has_locking_nut(bolt)
    if size.system == "metric":
        return (_LOCKING_NUT_MM if locking else _NUT_MM)[round(size.diameter_mm)]
    return (_LOCKING_NUT_OVER_D if locking else _NUT_OVER_D) * size.diameter_mm
