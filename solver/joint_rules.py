"""What a bolted joint bears, after EN 1993-1-8: shear, tension, bearing, pull-through, slip, least distances.

Every rule is a pure function with an answer of its own; nothing here knows of plates or load cases.

Glossary
--------
demand, allowable   in N, or as shares for the combined rule
e1, p1              edge distance and pitch along the force
e2, p2              edge distance and pitch across the force
d0                  diameter of the hole
gamma_M2, gamma_M3  partial factors on strength and on slip, 1.25 both
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from geometry.bolt_tables import BoltGrade, BoltSize

GAMMA_M2: Final = 1.25
GAMMA_M3: Final = 1.25
TENSION_FACTOR: Final = 0.9
PRELOAD_FACTOR: Final = 0.7
SLIP_CLASSES: Final[dict[str, float]] = {"A": 0.5, "B": 0.4, "C": 0.3, "D": 0.2}
"""Friction of the clamped faces by class, EN 1090-2:2008 table 18: A blasted bare, D as rolled."""

HoleFit = Literal["normal", "oversize", "short slot", "long slot"]

_TABLE_3_3: Final = "EN 1993-1-8 table 3.3"
_TABLE_3_4: Final = "EN 1993-1-8 table 3.4"
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


@dataclass(frozen=True)
class JointCheck:
    """One rule applied."""

    name: str
    demand: float
    allowable: float
    unit: Literal["N", ""]
    """Empty for a share, whose allowable is 1."""
    formula: str
    source: str
    note: str = ""
    """What to know before trusting it; empty if nothing."""

    @property
    def used(self) -> float:
        """Return demand over allowable; infinite where nothing is allowed and something is asked."""
        if self.allowable > 0.0:
            return self.demand / self.allowable
        return math.inf if self.demand > 0.0 else 0.0


@dataclass(frozen=True)
class LeastDistances:
    """Least edge distances and pitches of a hole."""

    e1_mm: float
    e2_mm: float
    p1_mm: float
    p2_mm: float
    source: str


def bolt_shear(
    size: BoltSize, grade: BoltGrade, shear_n: float, *, planes: int = 1, gamma_m2: float = GAMMA_M2
) -> JointCheck:
    """Check a bolt in shear through its thread, in each of `planes` shear planes."""
    allowable = planes * shear_allowable_n(
        grade.alpha_v, grade.design_tensile_mpa, size.stress_area_mm2, gamma_m2=gamma_m2
    )
    return JointCheck(
        "bolt shear", _size("shear", shear_n), allowable, "N", "F_v = alpha_v f_ub A_s / gamma_M2",
        _TABLE_3_4, grade_note(grade),
    )  # fmt: skip


def bolt_tension(
    size: BoltSize, grade: BoltGrade, tension_n: float, *, gamma_m2: float = GAMMA_M2
) -> JointCheck:
    """Check a bolt in tension; a negative tension presses the joint together and counts as 0."""
    allowable = tension_allowable_n(grade.design_tensile_mpa, size.stress_area_mm2, gamma_m2=gamma_m2)
    return JointCheck(
        "bolt tension", _pull(tension_n), allowable, "N", "F_t = 0.9 f_ub A_s / gamma_M2", _TABLE_3_4,
        grade_note(grade),
    )  # fmt: skip


def bolt_combined(
    size: BoltSize,
    grade: BoltGrade,
    shear_n: float,
    tension_n: float,
    *,
    planes: int = 1,
    gamma_m2: float = GAMMA_M2,
) -> JointCheck:
    """Check shear and tension together: F_v/F_vRd + F_t/(1.4 F_tRd) <= 1, and F_t <= F_tRd."""
    shear = bolt_shear(size, grade, shear_n, planes=planes, gamma_m2=gamma_m2)
    tension = bolt_tension(size, grade, tension_n, gamma_m2=gamma_m2)
    demand = max(shear.used + tension.used / 1.4, tension.used)
    formula = "F_v/F_vRd + F_t/(1.4 F_tRd) <= 1 and F_t <= F_tRd"
    return JointCheck("bolt combined", demand, 1.0, "", formula, _TABLE_3_4, grade_note(grade))


def bearing(
    size: BoltSize,
    grade: BoltGrade,
    bearing_n: float,
    *,
    plate_tensile_mpa: float,
    thickness_mm: float,
    hole_mm: float,
    e1_mm: float,
    e2_mm: float,
    p1_mm: float = math.inf,
    p2_mm: float = math.inf,
    fit: HoleFit = "normal",
    single_row: bool = True,
    gamma_m2: float = GAMMA_M2,
) -> JointCheck:
    """Check the side of the hole against its bolt.

    For a force that may come from any direction give the least edge distance as both e1 and e2, and the least
    pitch as both p1 and p2; a pitch with no neighbour is infinite. `single_row`: one row of bolts in a lap
    joint, where EN 1993-1-8 3.6.1(10) allows no more than 1.5 f_u d t / gamma_M2. JointError for sizes at or
    below zero.
    """
    allowable = bearing_allowable_n(
        grade.design_tensile_mpa, plate_tensile_mpa, size.diameter_mm, thickness_mm, hole_mm,
        e1_mm=e1_mm, e2_mm=e2_mm, p1_mm=p1_mm, p2_mm=p2_mm, fit=fit, gamma_m2=gamma_m2,
    )  # fmt: skip
    formula = "F_b = k_1 alpha_b f_u d t / gamma_M2"
    source = _TABLE_3_4
    if single_row:
        most = 1.5 * plate_tensile_mpa * size.diameter_mm * thickness_mm / gamma_m2
        if most < allowable:
            allowable, formula, source = most, "F_b = 1.5 f_u d t / gamma_M2", "EN 1993-1-8 3.6.1(10)"
    notes = [grade_note(grade), broken_distances(hole_mm, e1_mm, e2_mm, p1_mm, p2_mm)]
    return JointCheck(
        "bearing", _size("bearing force", bearing_n), allowable, "N", formula, source, _sentences(notes)
    )


def pull_through(
    tension_n: float,
    *,
    head_mean_mm: float,
    plate_tensile_mpa: float,
    thickness_mm: float,
    gamma_m2: float = GAMMA_M2,
) -> JointCheck:
    """Check that the head does not punch through the plate: B_p = 0.6 pi d_m t f_u / gamma_M2.

    `head_mean_mm` is the mean of the head's widths across points and flats (`BoltSize.head_mean_mm`).
    """
    _positive(
        head=head_mean_mm, tensile_strength=plate_tensile_mpa, thickness=thickness_mm, gamma_M2=gamma_m2
    )
    allowable = pull_through_allowable_n(head_mean_mm, thickness_mm, plate_tensile_mpa, gamma_m2=gamma_m2)
    return JointCheck(
        "pull-through", _pull(tension_n), allowable, "N", "B_p = 0.6 pi d_m t f_u / gamma_M2", _TABLE_3_4
    )


def slip(
    shear_n: float,
    *,
    preload_n: float,
    friction: float,
    tension_n: float = 0.0,
    faces: int = 1,
    fit: HoleFit = "normal",
    gamma_m3: float = GAMMA_M3,
) -> JointCheck:
    """Check that friction holds: F_s = k_s n mu (F_pC - 0.8 F_t) / gamma_M3, never below 0."""
    allowable = slip_allowable_n(
        preload_n, friction, tension_n=tension_n, faces=faces, fit=fit, gamma_m3=gamma_m3
    )
    formula = "F_s = k_s n mu (F_p - 0.8 F_t) / gamma_M3"
    return JointCheck("slip", _size("shear", shear_n), allowable, "N", formula, "EN 1993-1-8 3.9")


def shear_allowable_n(
    alpha_v: float, tensile_mpa: float, area_mm2: float, *, gamma_m2: float = GAMMA_M2
) -> float:
    """Return F_v = alpha_v f_ub A / gamma_M2 in N, per shear plane; JointError for sizes at or below zero."""
    _positive(alpha_v=alpha_v, tensile_strength=tensile_mpa, area=area_mm2, gamma_M2=gamma_m2)
    return alpha_v * tensile_mpa * area_mm2 / gamma_m2


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


def pull_through_allowable_n(
    head_mean_mm: float, thickness_mm: float, plate_tensile_mpa: float, *, gamma_m2: float = GAMMA_M2
) -> float:
    """Return B_p = 0.6 pi d_m t f_u / gamma_M2 in N; 0 where the plate's strength is not known."""
    return 0.6 * math.pi * head_mean_mm * thickness_mm * plate_tensile_mpa / gamma_m2


def slip_share(fit: HoleFit) -> float:
    """Return k_s of EN 1993-1-8 table 3.6; that of a slot is the one along it, the lower."""
    return _SLIP_SHARE[fit]


def slip_allowable_n(
    preload_n: float,
    friction: float,
    *,
    tension_n: float = 0.0,
    faces: int = 1,
    fit: HoleFit = "normal",
    gamma_m3: float = GAMMA_M3,
) -> float:
    """Return F_s = k_s n mu (F_p - 0.8 F_t) / gamma_M3 in N, never below 0; k_s as `slip_share`.

    JointError for a negative preload or friction.
    """
    _positive(faces=faces, gamma_M3=gamma_m3)
    if not (0.0 <= preload_n < math.inf and 0.0 <= friction < math.inf):
        raise JointError(
            f"preload {preload_n:g} N, friction {friction:g}: neither can be below zero or endless"
        )
    left = max(0.0, preload_n - 0.8 * _pull(tension_n))
    return slip_share(fit) * faces * friction * left / gamma_m3


def hole_fit(size: BoltSize, hole_mm: float) -> HoleFit:
    """Return how a round hole fits its bolt: normal up to ISO 273 medium, oversize above.

    EN 1090-2 calls 1 mm of clearance normal for M12 and M14 and 2 mm for M16 (from memory, to be verified)
    and gives no figure below M12; ISO 273 medium keeps near that.
    """
    return "normal" if hole_mm <= size.hole_medium_mm + 1e-9 else "oversize"


def standard_preload_n(size: BoltSize, grade: BoltGrade) -> float:
    """Return F_pC = 0.7 f_ub A_s in N, which tightening by torque may fall short of."""
    return PRELOAD_FACTOR * grade.design_tensile_mpa * size.stress_area_mm2


def least_distances(hole_mm: float) -> LeastDistances:
    """Return least e1, e2 1.2 d0, p1 2.2 d0, p2 2.4 d0; JointError for a hole at or below zero."""
    _positive(hole=hole_mm)
    return LeastDistances(1.2 * hole_mm, 1.2 * hole_mm, 2.2 * hole_mm, 2.4 * hole_mm, _TABLE_3_3)


def broken_distances(
    hole_mm: float, e1_mm: float, e2_mm: float, p1_mm: float = math.inf, p2_mm: float = math.inf
) -> str:
    """Return a sentence naming the distances below the least; empty if all are kept."""
    least = least_distances(hole_mm)
    given = (
        ("e1", e1_mm, least.e1_mm),
        ("e2", e2_mm, least.e2_mm),
        ("p1", p1_mm, least.p1_mm),
        ("p2", p2_mm, least.p2_mm),
    )
    broken = [
        f"{word} {value:.3g} mm (least {limit:.3g})" for word, value, limit in given if value < limit - 1e-9
    ]
    return f"closer than {_TABLE_3_3} allows: {', '.join(broken)}" if broken else ""


def grade_note(grade: BoltGrade) -> str:
    """Return a sentence if a grade is outside EN 1993-1-8; empty if it is in it."""
    if grade.in_joint_rules:
        return ""
    if grade.name == "12.9":
        return "class 12.9 is outside EN 1993-1-8, and brittle: its formula is used with 1200 MPa"
    return f"{grade.name} ({grade.norm}) is outside EN 1993-1-8: its formula is used with its own strength"


def _sentences(notes: list[str]) -> str:
    return "; ".join(note for note in notes if note)


def _size(word: str, value: float) -> float:
    if not math.isfinite(value):
        raise JointError(f"a {word} of {value} N is no number: the analysis before it went wrong")
    return abs(value)


def _pull(value: float) -> float:
    return max(0.0, math.copysign(_size("tension", value), value))


def _positive(**sizes: float) -> None:
    for word, value in sizes.items():
        if not value > 0.0:
            raise JointError(
                f"{word.replace('_', ' ')} {value:g} is not above zero: a joint cannot be checked with it"
            )
