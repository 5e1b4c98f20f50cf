"""Stress in the throat of a fillet weld and what it may be: EN 1993-1-8 4.5.3.

Glossary
--------
line force  force per length of weld, N/mm: along it, out of the sheet's cut face, toward the sheet's front
throat      concentrated in the root; its plane lies at 45 deg between the two parts
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.materials import Material
from solver.joint_rules import GAMMA_M2

Floats = NDArray[np.float64]

DIRECTIONAL: Final = "EN 1993-1-8 4.5.3.2, directional method"
ALUMINIUM: Final = (
    "EN 1999-1-1 8.6.3, weld metal taken as 0.55 of the parent's tensile strength, below every usual pair of"
    " filler and alloy (from memory, to be verified)"
)
STAINLESS: Final = "EN 1993-1-8 4.5.3.2 with beta_w 1 of EN 1993-1-4 (from memory, to be verified)"
_BETA: Final = ((360.0, 0.80), (430.0, 0.85), (510.0, 0.90))
"""(tensile strength in MPa up to and including, beta_w): S235, S275 and S355 of EN 1993-1-8 table 4.1. Every
steel is taken by its strength: one of the bracket's own may go by any name."""
_BETA_ABOVE: Final = 1.0
WELD_METAL_SHARE: Final = 0.55
SOFTENED: Final = 0.48
"""Least share of its yield that aluminium keeps beside a weld, that of 6061-T6 (EN 1999-1-1 table 3.2a, from
memory, to be verified)."""
SOFTENED_MM: Final = 30.0
"""How far from the weld it is soft: EN 1999-1-1 6.1.6.3 for the TIG process up to 6 mm (from memory, to be
verified); as far is taken for any."""


def correlation_factor(metal: Material, thickness_mm: float) -> float:
    """Return beta_w of a steel: EN 1993-1-8 table 4.1."""
    if metal.kind == "stainless":
        return 1.0
    tensile = metal.tensile_mpa(thickness_mm) or 0.0
    return next((beta for up_to, beta in _BETA if tensile <= up_to), _BETA_ABOVE)


def throat_strength_mpa(
    metal: Material, thickness_mm: float, weld_metal_mpa: float | None = None
) -> tuple[float, float]:
    """Return the allowable equivalent stress and the allowable stress square to the throat, MPa.

    For one of the parts that are joined; the weaker governs. Weld metal weaker than the part counts instead
    of it. 0 where the part's strength is not known.
    """
    tensile = metal.tensile_mpa(thickness_mm) or 0.0
    if weld_metal_mpa is not None:
        tensile = min(tensile, weld_metal_mpa)
    if metal.kind == "aluminium":
        strength = WELD_METAL_SHARE * tensile / GAMMA_M2
        return strength, strength
    return tensile / (correlation_factor(metal, thickness_mm) * GAMMA_M2), 0.9 * tensile / GAMMA_M2


def equivalent_mpa(square: ArrayLike, shear_square: ArrayLike, shear_along: ArrayLike) -> Floats:
    """Return sqrt(sigma_perp^2 + 3 (tau_perp^2 + tau_par^2))."""
    s, tp, ta = (np.asarray(v, dtype=float) for v in (square, shear_square, shear_along))
    return np.asarray(np.sqrt(s**2 + 3.0 * (tp**2 + ta**2)))


def on_throat(
    along: ArrayLike, out: ArrayLike, front: ArrayLike, throat_mm: float, *, at_front: bool = True
) -> tuple[Floats, Floats, Floats]:
    """Return sigma_perp, tau_perp and tau_par of line forces on one weld, at the sheet's front or back."""
    u, n, s = (np.asarray(v, dtype=float) for v in (along, out, front))
    side = 1.0 if at_front else -1.0
    area = math.sqrt(2.0) * throat_mm
    return (n + side * s) / area, (n - side * s) / area, u / throat_mm


def simplified_equivalent_mpa(along: ArrayLike, out: ArrayLike, front: ArrayLike, throat_mm: float) -> Floats:
    """Return sqrt 3 times the line force over the throat.

    The simplified method of EN 1993-1-8 4.5.3.3, to be held against the same allowable as `equivalent_mpa`.
    """
    u, n, s = (np.asarray(v, dtype=float) for v in (along, out, front))
    return np.asarray(math.sqrt(3.0) * np.sqrt(u**2 + n**2 + s**2) / throat_mm)
