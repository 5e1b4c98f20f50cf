"""How many reversals a detail of steel bears: EN 1993-1-9.

Glossary
--------
category    stress range in MPa that a detail bears two million times
range       whole swing of the stress, from its least to its greatest
effective   range of what is not welded: what compresses counts for six tenths (7.2.1)
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

SOURCE = "EN 1993-1-9:2005, slopes 3 and 5 with cut-off (from memory, to be verified)"
GAMMA_MF = 1.35
"""Safe life, high consequence: EN 1993-1-9 table 3.1 (from memory, to be verified)."""
COMPRESSED = 0.6
_AT = 2.0e6
_KNEE = 5.0e6
_END = 1.0e8
_KNEE_SHARE = (_AT / _KNEE) ** (1.0 / 3.0)
_END_SHARE = _KNEE_SHARE * (_KNEE / _END) ** 0.2
_SHEAR_END_SHARE = (_AT / _END) ** 0.2


def effective_range(lowest: ArrayLike, highest: ArrayLike) -> Floats:
    """Return tension and six tenths of compression of a swing between two stresses, any shape."""
    low, high = np.asarray(lowest, dtype=float), np.asarray(highest, dtype=float)
    tension = np.maximum(high, 0.0) - np.maximum(low, 0.0)
    compression = np.minimum(high, 0.0) - np.minimum(low, 0.0)
    return np.asarray(tension + COMPRESSED * compression)


def cycles_borne(category_mpa: float, range_mpa: ArrayLike, *, shear: bool = False) -> Floats:
    """Return how often a range is borne, as one of several; inf below the cut-off.

    A range of shear has slope 5 throughout (7.1).
    """
    span = np.asarray(range_mpa, dtype=float)
    if shear:
        with np.errstate(divide="ignore"):
            borne = _AT * (category_mpa / span) ** 5
        return np.asarray(np.where(span >= _SHEAR_END_SHARE * category_mpa, borne, np.inf))
    with np.errstate(divide="ignore"):
        steep = _AT * (category_mpa / span) ** 3
        flat = _KNEE * (_KNEE_SHARE * category_mpa / span) ** 5
    knee, end = _KNEE_SHARE * category_mpa, _END_SHARE * category_mpa
    return np.asarray(np.where(span >= knee, steep, np.where(span >= end, flat, np.inf)))


def range_borne(category_mpa: float, cycles: float, *, shear: bool = False) -> float:
    """Return the range that is borne so often; never less than the cut-off."""
    if shear:
        return float(category_mpa * (_AT / min(cycles, _END)) ** 0.2)
    if cycles <= _KNEE:
        return float(category_mpa * (_AT / cycles) ** (1.0 / 3.0))
    return float(_KNEE_SHARE * category_mpa * (_KNEE / min(cycles, _END)) ** 0.2)


def damage(category_mpa: float, ranges_mpa: ArrayLike, counts: ArrayLike, *, shear: bool = False) -> float:
    """Return the damage sum of ranges with their counts; 1 is the end (Palmgren and Miner)."""
    counted = np.asarray(counts, dtype=float)
    return float((counted / cycles_borne(category_mpa, ranges_mpa, shear=shear)).sum())
