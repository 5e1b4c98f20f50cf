"""What sheet below 3 mm bears beside a bolt and under its head (EN 1993-1-3, from memory, to be verified).

The side of a hole, table 8.4: F_b = 2.5 alpha_b k_t f_u d t / gamma_M2, alpha_b = min(1, e1 / 3d), k_t =
(0.8 t + 1.5) / 2.5 up to 1.25 mm.

For a bolt pulled through, table 8.4 asks for tests. Table 8.2 has for screws 0.5 d_w t f_u / gamma_M2 under
loads that come again and again: such sheet dishes and tears before it is punched out round the head. That is
0.27 of EN 1993-1-8 punching, and stands for bolts here, since steering loads come again and again.
"""

from __future__ import annotations

import math
from typing import Final

from solver.joint_rules import GAMMA_M2, JointError

BELOW_MM: Final = 3.0
"""Sheet thinner than this has these rules; EN 1993-1-8 leaves it to EN 1993-1-3."""
SOURCE: Final = "thin sheet by EN 1993-1-3 table 8.4 (from memory, to be verified)"
PULLED_SOURCE: Final = (
    "thin sheet as under screws, loads that come again, EN 1993-1-3 table 8.2 (from memory, to be verified)"
)
_AGAIN: Final = 0.5
_WHOLE_FROM_MM: Final = 1.25


def thin_bearing_n(
    tensile_mpa: float, diameter_mm: float, thickness_mm: float, e1_mm: float, *, gamma_m2: float = GAMMA_M2
) -> float:
    """Return F_b in N, for the least edge distance in any direction.

    The rule begins at 0.75 mm; its k_t is carried on below, where it falls further. Not below zero. Raises
    JointError for sizes at or below zero.
    """
    if not min(tensile_mpa, diameter_mm, thickness_mm, e1_mm, gamma_m2) > 0.0:
        raise JointError(
            f"a bolt of {diameter_mm:g} mm, {e1_mm:g} mm from the edge of sheet {thickness_mm:g} mm thick of"
            f" {tensile_mpa:g} MPa cannot be checked: each must be above zero"
        )
    along = min(1.0, e1_mm / (3.0 * diameter_mm))
    k_t = 1.0 if thickness_mm > _WHOLE_FROM_MM else (0.8 * thickness_mm + 1.5) / 2.5
    return math.prod((2.5, along, k_t, tensile_mpa, diameter_mm, thickness_mm)) / gamma_m2


def thin_pull_through_n(
    head_mean_mm: float, thickness_mm: float, tensile_mpa: float, *, gamma_m2: float = GAMMA_M2
) -> float:
    """Return what sheet bears before a head of that mean width is pulled through it, N."""
    return _AGAIN * head_mean_mm * thickness_mm * tensile_mpa / gamma_m2
