"""How high nuts are, which a bolt must reach past what it clamps, and what locking ones take of the torque.

Nuts of ISO 4032 and, with a locking ring, ISO 7040, at their largest; inch nuts about as ASME B18.2.2 has
them. All from memory, to be verified.

A locking nut turns hard before it clamps anything: its prevailing torque. Of the torque on the wrench that
much is lost. Standards bound it from above, at the first fitting: ISO 2320 for metric nuts, IFI 100/107 for
inch ones (from memory, to be verified).
"""

from __future__ import annotations

from typing import Final

from geometry.bolt_tables import BoltSize, System, UnknownBoltError, bolt_grade, bolt_size
from geometry.fixing import AtBoss, Bolt

NUT_SOURCES: Final[dict[System, str]] = {
    "metric": "nuts of ISO 4032 and ISO 7040",
    "inch": "nuts of ASME B18.2.2",
}
_NUT_MM: Final = {5: 4.7, 6: 5.2, 8: 6.8, 10: 8.4, 12: 10.8, 14: 12.8, 16: 14.8}
_LOCKING_NUT_MM: Final = {5: 6.8, 6: 8.0, 8: 9.5, 10: 11.9, 12: 14.9, 14: 17.0, 16: 19.1}
_NUT_OVER_D: Final = 0.9
_LOCKING_NUT_OVER_D: Final = 1.25
PREVAILING_SOURCES: Final[dict[System, str]] = {
    "metric": "ISO 2320, first fitting, from memory",
    "inch": "IFI 100/107, first fitting, from memory",
}
_PREVAILING_NM: Final = {5: 1.6, 6: 3.0, 8: 6.0, 10: 10.5, 12: 15.5, 14: 24.0, 16: 32.0}
"""Of nuts of class 8, by thread diameter in mm."""
_PREVAILING_STRONG_NM: Final = {5: 2.1, 6: 4.0, 8: 8.0, 10: 14.0, 12: 21.0, 14: 31.0, 16: 42.0}
"""Of nuts of class 10, which go with bolts of 10.9 and stronger."""
_PREVAILING_INCH_NM: Final = ((6.5, 3.4), (8.0, 6.8), (9.6, 9.0), (11.2, 11.3), (12.8, 16.9))
"""(up to this thread diameter in mm, N.m)."""
_STRONG_MPA: Final = 1000.0
_LOCKING: Final = ("nut", "prevailing", "nyl", "self-locking", "all-metal", "all metal", "deformed")
"""What people write of a nut that locks, whether or not they say that it is one."""
_PINNED: Final = ("castle", "slotted", "split pin", "cotter")
"""Nuts that something through them keeps, and that turn freely."""


def has_locking_nut(bolt: Bolt) -> bool:
    """Return whether what keeps the bolt from turning loose is its nut."""
    return any(word in (bolt.locking or "").casefold() for word in _LOCKING)


def nut_height_mm(size: BoltSize, bolt: Bolt) -> float:
    """Return the height of the nut that goes on a bolt of that size."""
    locking = has_locking_nut(bolt)
    if size.system == "metric":
        return (_LOCKING_NUT_MM if locking else _NUT_MM)[round(size.diameter_mm)]
    return (_LOCKING_NUT_OVER_D if locking else _NUT_OVER_D) * size.diameter_mm


def prevailing_nm(bolt: Bolt) -> float:
    """Return what a bolt's nut takes of its tightening torque, N.m: as measured, else the most it may."""
    return most_prevailing_nm(bolt) if bolt.prevailing_nm is None else bolt.prevailing_nm


def most_prevailing_nm(bolt: Bolt) -> float:
    """Return the most that a new nut of a bolt's size may take, N.m.

    0 of one that turns freely, of a bolt in a boss, and of a size that nobody knows.
    """
    free = isinstance(bolt.joins, AtBoss) or any(word in (bolt.locking or "").casefold() for word in _PINNED)
    if free or not has_locking_nut(bolt):
        return 0.0
    try:
        size = bolt_size(bolt.size)
        strong = bolt_grade(bolt.grade or "8.8").tensile_mpa >= _STRONG_MPA
    except UnknownBoltError:
        return 0.0
    if size.system == "metric":
        return (_PREVAILING_STRONG_NM if strong else _PREVAILING_NM)[round(size.diameter_mm)]
    return next(takes for up_to, takes in _PREVAILING_INCH_NM if size.diameter_mm <= up_to)
