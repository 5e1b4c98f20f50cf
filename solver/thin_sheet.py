"""What the side of a hole in sheet below 3 mm bears: EN 1993-1-3 table 8.4 (from memory, to be verified).

F_b = 2.5 alpha_b k_t f_u d t / gamma_M2, alpha_b = min(1, e1 / 3d), k_t = (0.8 t + 1.5) / 2.5 up to 1.25 mm.
"""

from __future__ import annotations

import math
from typing import Final

from solver.joint_rules import GAMMA_M2, JointError

BELOW_MM: Final = 3.0
"""Sheet thinner than this has the rule; EN 1993-1-8 leaves it to EN 1993-1-3."""
SOURCE: Final = "thin sheet by EN 1993-1-3 table 8.4 (from memory, to be verified)"
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
