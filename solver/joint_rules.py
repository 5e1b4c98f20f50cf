"""What a bolted joint bears, after EN 1993-1-8: shear, tension, both, bearing, pull-through, slip.

Every rule is a pure function; nothing here knows of plates or load cases. The checks of bolts use these and
no others: what is tested against the published figures is what decides.

Glossary
--------
e1, p1              edge distance and pitch along the force
e2, p2              edge distance and pitch across the force
d0                  diameter of the hole
k_s                 share of its friction that counts in a hole wider than usual
gamma_M2, gamma_M3  partial factors on strength and on slip, 1.25 both
"""

from __future__ import annotations

import math
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.bolt_tables import BoltGrade, BoltSize

Floats = NDArray[np.float64]

GAMMA_M2: Final = 1.25
TENSION_FACTOR: Final = 0.9
FACE_SHARE: Final = 0.8
"""Share of a pull that comes off the clamped faces; the rest comes onto the bolt (EN 1993-1-8 3.9.2)."""
_COMBINED_TENSION: Final = 1.4
_SINGLE_ROW: Final = 1.5

HoleFit = Literal["normal", "oversize", "short slot", "long slot"]

_BEARING_SHARE: Final[dict[HoleFit, float]] = {
    "normal": 1.0,
    "oversize": 0.8,
    "short slot": 0.6,
    "long slot": 0.6,
}
_SLIP_SHARE: Final[dict[HoleFit, float]] = {
    "normal": 1.0,
    "oversize": 0.85,
    "short slot": 0.76,
    "long slot": 0.63,
}


class JointError(ValueError):
    """A joint that cannot be: a size at or below zero, or a load that is no number."""


def shear_allowable_n(
    alpha_v: float, tensile_mpa: float, area_mm2: float, *, gamma_m2: float = GAMMA_M2
) -> float:
    """Return F_v = alpha_v f_ub A / gamma_M2 in N, per shear plane; JointError for sizes at or below zero."""
    _positive(alpha_v=alpha_v, tensile_strength=tensile_mpa, area=area_mm2, gamma_M2=gamma_m2)
    return alpha_v * tensile_mpa * area_mm2 / gamma_m2


def packing_share(diameter_mm: float, packing_mm: float) -> float:
    """Return beta_p = 9 d / (8 d + 3 t_p), at most 1: what a packing leaves of a bolt's shear strength.

    A spacer is one. EN 1993-1-8 3.6.1(12), thicker than a third of the bolt (from memory, to be verified).
    JointError for a diameter at or below zero.
    """
    _positive(diameter=diameter_mm)
    if packing_mm <= diameter_mm / 3.0:
        return 1.0
    return min(1.0, 9.0 * diameter_mm / (8.0 * diameter_mm + 3.0 * packing_mm))


def tension_allowable_n(tensile_mpa: float, area_mm2: float, *, gamma_m2: float = GAMMA_M2) -> float:
    """Return F_t = 0.9 f_ub A_s / gamma_M2 in N; JointError for sizes at or below zero."""
    _positive(tensile_strength=tensile_mpa, area=area_mm2, gamma_M2=gamma_m2)
    return TENSION_FACTOR * tensile_mpa * area_mm2 / gamma_m2


def bearing_allowable_n(
    bolt_tensile_mpa: float,
    plate_tensile_mpa: float,
    diameter_mm: float,
    thickness_mm: float,
    hole_mm: float,
    *,
    e1_mm: float,
    e2_mm: float,
    p1_mm: float = math.inf,
    p2_mm: float = math.inf,
    fit: HoleFit = "normal",
    gamma_m2: float = GAMMA_M2,
) -> float:
    """Return F_b = k_1 alpha_b f_u d t / gamma_M2 in N, never below 0.

    alpha_b = min(e1/3d0, p1/3d0 - 1/4, f_ub/f_u, 1); k_1 = min(2.8 e2/d0 - 1.7, 1.4 p2/d0 - 1.7, 2.5).
    Oversize holes bear 0.8 of it, slots 0.6. JointError for sizes at or below zero.
    """
    _positive(
        bolt_tensile_strength=bolt_tensile_mpa, tensile_strength=plate_tensile_mpa, diameter=diameter_mm,
        thickness=thickness_mm, hole=hole_mm, e1=e1_mm, e2=e2_mm, p1=p1_mm, p2=p2_mm, gamma_M2=gamma_m2,
    )  # fmt: skip
    alpha_b = min(
        e1_mm / (3 * hole_mm), p1_mm / (3 * hole_mm) - 0.25, bolt_tensile_mpa / plate_tensile_mpa, 1.0
    )
    k_1 = min(2.8 * e2_mm / hole_mm - 1.7, 1.4 * p2_mm / hole_mm - 1.7, 2.5)
    share = _BEARING_SHARE[fit] * max(0.0, alpha_b) * max(0.0, k_1)
    return share * plate_tensile_mpa * diameter_mm * thickness_mm / gamma_m2


def single_row_bearing_n(
    plate_tensile_mpa: float, diameter_mm: float, thickness_mm: float, *, gamma_m2: float = GAMMA_M2
) -> float:
    """Return F_b = 1.5 f_u d t / gamma_M2 in N, the most that one row of bolts in a lap joint bears.

    EN 1993-1-8 3.6.1(10) (from memory, to be verified). JointError for sizes at or below zero.
    """
    _positive(
        tensile_strength=plate_tensile_mpa, diameter=diameter_mm, thickness=thickness_mm, gamma_M2=gamma_m2
    )
    return _SINGLE_ROW * plate_tensile_mpa * diameter_mm * thickness_mm / gamma_m2


def pull_through_allowable_n(
    head_mean_mm: float, thickness_mm: float, plate_tensile_mpa: float, *, gamma_m2: float = GAMMA_M2
) -> float:
    """Return B_p = 0.6 pi d_m t f_u / gamma_M2 in N; 0 where the plate's strength is not known.

    `head_mean_mm` is the mean of the head's widths across points and flats (`BoltSize.head_mean_mm`).
    """
    return 0.6 * math.pi * head_mean_mm * thickness_mm * plate_tensile_mpa / gamma_m2


def combined_used(shear_used: Floats | float, tension_used: Floats | float) -> Floats:
    """Return F_v/F_vRd + F_t/(1.4 F_tRd) of shares used; tension alone is held to its own rule besides."""
    return np.asarray(shear_used + np.divide(tension_used, _COMBINED_TENSION))


def slip_holds_n(
    preload_n: Floats | float,
    friction: Floats | float,
    tension_n: Floats | float = 0.0,
    k_s: Floats | float = 1.0,
) -> Floats:
    """Return k_s mu (F_p - 0.8 F_t) in N on one face, never below 0; a pressing F_t counts as 0.

    EN 1993-1-8 3.9, without gamma_M3: that is in what is asked. nan where preload or friction is.
    """
    left = preload_n - FACE_SHARE * np.maximum(tension_n, 0.0)
    return np.asarray(np.maximum(np.multiply(k_s, friction) * left, 0.0))


def slip_share(fit: HoleFit) -> float:
    """Return k_s of EN 1993-1-8 table 3.6; that of a slot is the one along it, the lower."""
    return _SLIP_SHARE[fit]


def hole_fit(size: BoltSize, hole_mm: float) -> HoleFit:
    """Return how a round hole fits its bolt: normal up to ISO 273 medium, oversize above.

    EN 1090-2 calls 1 mm of clearance normal for M12 and M14 and 2 mm for M16 (from memory, to be verified)
    and gives no figure below M12; ISO 273 medium keeps near that.
    """
    return "normal" if hole_mm <= size.hole_medium_mm + 1e-9 else "oversize"


def grade_note(grade: BoltGrade) -> str:
    """Return a sentence if a grade is outside EN 1993-1-8; empty if it is in it."""
    if grade.in_joint_rules:
        return ""
    if grade.name == "12.9":
        return "class 12.9 is outside EN 1993-1-8, and brittle: its formula is used with 1200 MPa"
    return f"{grade.name} ({grade.norm}) is outside EN 1993-1-8: its formula is used with its own strength"


def _positive(**sizes: float) -> None:
    for word, value in sizes.items():
        if not value > 0.0:
            raise JointError(
                f"{word.replace('_', ' ')} {value:g} is not above zero: a joint cannot be checked with it"
            )
