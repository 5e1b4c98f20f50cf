"""What a face bears under head, nut, washer or spacer before it creeps away and the bolt loses its preload.

EN 1993-1-8 has no such rule, VDI 2230 lists a limit for each metal, which is near its tensile strength: 490
for 340 MPa in S235, 630 for 500 in stainless, 230 for 260 in AlMg4.5Mn, 360 for 290 in AlMgSi1 (table A9,
from memory, to be verified). Shares of the tensile strength below those are taken.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from geometry.materials import Kind

SOURCE: Final = (
    "limit of surface pressure as a share of the face's tensile strength, after VDI 2230 table A9 (from"
    " memory, to be verified)"
)
LIMIT_SHARE: Final[dict[Kind, float]] = {"steel": 1.2, "stainless": 1.2, "aluminium": 0.85}
BOSS_SHARE: Final = 1.2
"""The same of a casing's boss: 220 for 180 MPa in GK-AlSi9Cu3, 290 for 240 in GD-AlSi9Cu3, 900 for 250 in
GJL-250 (VDI 2230 table A9, from memory, to be verified)."""
_SPREADS: Final = 1.6
"""By so many of its thicknesses a washer makes the head wider: D = d_w + 1.6 h, VDI 2230 (from memory, to be
verified)."""


@dataclass(frozen=True, order=True)
class Pressed:
    """What something bears that is pressed; the least of several is what creeps first."""

    borne_n: float
    name: str
    wider: str
    """What to take a wider one of."""


NOT_KNOWN: Final = Pressed(math.inf, "", "")


def pressed_area_mm2(outer_mm: float, inner_mm: float, head_mm: float, washer_mm: float) -> float:
    """Return the area that a head presses on a face, from a ring's outer and inner diameter, mm2.

    `head_mm` is the width of the head's own face, `washer_mm` the thickness of the washer under it, 0 without
    one. Not below zero.
    """
    outer = min(outer_mm, spread_mm(head_mm, washer_mm))
    return max(math.pi / 4.0 * (outer**2 - inner_mm**2), 0.0)


def spread_mm(head_mm: float, through_mm: float) -> float:
    """Return how wide a head so many mm wide presses through a washer or sheet of some thickness, mm."""
    return head_mm + _SPREADS * through_mm


def borne_n(kind: Kind, tensile_mpa: float, area_mm2: float) -> float:
    """Return the force that a face of some metal bears over an area, N."""
    return LIMIT_SHARE[kind] * tensile_mpa * area_mm2
