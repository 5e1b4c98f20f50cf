"""Conductors by cross-section and by gauge, each column with its source.

Glossary
--------
section      nominal cross-section of the copper, mm2
resistance   greatest at 20 C of a metre, milliohm, bare copper strands
rating       current a single cable bears in free air at 30 C with insulation for 70 C, A
"""

from __future__ import annotations

import math
from typing import Final

RESISTANCE_SOURCE: Final = "ISO 6722-1 table of conductors (from memory, to be verified)"
RATING_SOURCE: Final = "DIN VDE 0298-4, single flexible cables in air at 30 C (from memory, to be verified)"
BUNDLE_SOURCE: Final = "DIN VDE 0298-4, bundled cables (from memory, to be verified)"
GAUGE_SOURCE: Final = "ASTM B258: 0.127 mm x 92^((36 - n)/39)"
COPPER_SOURCE: Final = "IEC 60028, annealed copper: 0.017241 ohm mm2/m at 20 C, 0.00393 per K"

COPPER_OHM_MM2_PER_M: Final = 0.017241
PER_KELVIN: Final = 0.00393
AT_C: Final = 20.0
RATED_AIR_C: Final = 30.0
RATED_INSULATION_C: Final = 70.0
_STRANDED: Final = 1.1
"""For sections that are not in the table: strands and the tolerance of a section, above the table's worst."""

RESISTANCE_MILLIOHM_PER_M: Final[dict[float, float]] = {
    0.5: 37.1,
    0.75: 24.7,
    1.0: 18.5,
    1.5: 12.7,
    2.0: 9.42,
    2.5: 7.60,
    3.0: 6.15,
    4.0: 4.71,
    5.0: 3.94,
    6.0: 3.14,
    8.0: 2.38,
    10.0: 1.82,
    12.0: 1.52,
    16.0: 1.16,
    20.0: 0.955,
    25.0: 0.743,
    30.0: 0.647,
    35.0: 0.527,
    40.0: 0.473,
    50.0: 0.368,
    60.0: 0.315,
    70.0: 0.259,
    95.0: 0.196,
    120.0: 0.153,
}
_RATING_A: Final[dict[float, float]] = {
    0.75: 15.0,
    1.0: 19.0,
    1.5: 24.0,
    2.5: 32.0,
    4.0: 42.0,
    6.0: 54.0,
    10.0: 73.0,
    16.0: 98.0,
    25.0: 129.0,
    35.0: 158.0,
    50.0: 198.0,
    70.0: 245.0,
    95.0: 292.0,
    120.0: 344.0,
}
_BUNDLED: Final = (1.0, 0.8, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52, 0.5)
"""Share of the rating by the number of loaded cables side by side; beyond nine, the share falls with the
root."""


def gauge_area_mm2(gauge: int) -> float:
    """Return the copper's cross-section of an American wire gauge; 0 is 1/0, -1 is 2/0."""
    diameter = 0.127 * 92.0 ** ((36 - gauge) / 39.0)
    return float(math.pi / 4.0 * diameter**2)


def resistance_ohm_per_m(area_mm2: float, at_c: float) -> float:
    """Return the greatest resistance of a metre of cable with its copper at that temperature."""
    table = RESISTANCE_MILLIOHM_PER_M.get(area_mm2)
    cold = table / 1000.0 if table is not None else _STRANDED * COPPER_OHM_MM2_PER_M / area_mm2
    return cold * (1.0 + PER_KELVIN * (at_c - AT_C))


def rating_a(area_mm2: float, insulation_c: float, ambient_c: float, bundled: int) -> float:
    """Return the current a cable bears for good; 0 where its surroundings are as hot as its insulation bears.

    Between sections in the table it is taken from the next smaller one; below the table it is 0. Heat goes
    with the current squared and with the difference of temperature, hence the root.
    """
    smaller = [section for section in _RATING_A if section <= area_mm2 * (1.0 + 1e-9)]
    if not smaller or ambient_c >= insulation_c:
        return 0.0
    share = (insulation_c - ambient_c) / (RATED_INSULATION_C - RATED_AIR_C)
    return _RATING_A[max(smaller)] * math.sqrt(share) * bundle_share(bundled)


def bundle_share(bundled: int) -> float:
    """Return the share of its rating that a cable keeps among so many loaded ones."""
    if bundled <= len(_BUNDLED):
        return _BUNDLED[bundled - 1]
    return _BUNDLED[-1] * math.sqrt(len(_BUNDLED) / bundled)
