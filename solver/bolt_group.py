"""Bolt groups, straps that rack, and lash by closed form: the figures a verdict gives as "by hand".

Glossary
--------
group           bolts in one plane that share a shear force and a couple, through a plate taken as rigid
friction limit  the couple at which friction alone gives way, every bolt sliding about one common point
racking         two straps lean over like a parallelogram
Phi             how much shear adds to a strap's bending flexibility, 12 E I / (kappa G A L^2)
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
StrapEnds = Literal["both held", "one pinned", "both pinned"]

SHEAR_SHARE: Final = 5.0 / 6.0
"""kappa of a rectangular section."""

_NO_ARM: Final = 1e-9
_ROUNDS: Final = 500


class BoltGroupError(ValueError):
    """A group that cannot carry what is asked of it, or figures that describe none."""


@dataclass(frozen=True)
class GroupForces:
    """What each bolt of a group carries."""

    forces_n: Floats
    """(n, 2), on the bolts."""
    centroid_mm: Floats
    """(2,)"""
    largest_n: float
    largest_at: int
    """Index of the bolt that carries it."""
    source: str = "elastic bolt group, rigid plate, equal bolts"


def elastic_group(
    places_mm: ArrayLike,
    force_n: tuple[float, float] = (0.0, 0.0),
    at_mm: tuple[float, float] | None = None,
    couple_nmm: float = 0.0,
) -> GroupForces:
    """Return what each bolt carries of a force in the plane, applied at a point, and a couple.

    F_i = V/n + M x r_i / sum r^2, r from the centroid; `at_mm` None is the centroid. A couple is positive
    from x toward y. BoltGroupError for no bolts, figures that are not finite, or a moment on bolts that all
    lie in one point.
    """
    places = _places(places_mm)
    force = np.asarray(force_n, dtype=float)
    centroid = places.mean(axis=0)
    arm = np.zeros(2) if at_mm is None else np.asarray(at_mm, dtype=float) - centroid
    if not (np.isfinite(force).all() and np.isfinite(arm).all() and math.isfinite(couple_nmm)):
        raise BoltGroupError(f"force {force_n} N with {couple_nmm} N.mm is no load: give finite figures")
    moment = couple_nmm + float(arm[0] * force[1] - arm[1] * force[0])
    radii = places - centroid
    polar = float((radii**2).sum())
    forces = np.tile(force / len(places), (len(places), 1))
    if polar > _NO_ARM:
        forces += moment / polar * np.column_stack([-radii[:, 1], radii[:, 0]])
    elif abs(moment) > _NO_ARM:
        raise BoltGroupError(
            f"{len(places)} bolt(s) in one point cannot carry {moment:.4g} N.mm by shear: spread them"
        )
    sizes = np.hypot(forces[:, 0], forces[:, 1])
    largest = int(sizes.argmax())
    return GroupForces(forces, centroid, float(sizes[largest]), largest)


def friction_circle_nmm(
    bolts: int, radius_mm: float, slip_force_n: float, slip_torque_nmm: float = 0.0
) -> float:
    """Return the couple that friction of n bolts on one circle holds, n sqrt((V_f R)^2 + T_f^2)."""
    if bolts < 1 or radius_mm < 0.0 or slip_force_n < 0.0 or slip_torque_nmm < 0.0:
        raise BoltGroupError(
            f"{bolts} bolts on a radius of {radius_mm:g} mm holding {slip_force_n:g} N, {slip_torque_nmm:g} "
            "N.mm: give at least one bolt and no figure below zero"
        )
    return bolts * math.hypot(slip_force_n * radius_mm, slip_torque_nmm)


def friction_limit_nmm(places_mm: ArrayLike, slip_forces_n: ArrayLike, slip_torques_nmm: ArrayLike) -> float:
    """Return the couple that friction of any bolt group holds.

    The least, over the point turned about, of sum sqrt((V_f r)^2 + T_f^2): with friction limits that are
    convex this is the exact limit of a rigid plate under a pure couple. Found by re-weighted means, which
    only ever come down. BoltGroupError for figures that describe no group.
    """
    places = _places(places_mm)
    slip_force, slip_torque = (
        np.broadcast_to(np.asarray(given, dtype=float), len(places))
        for given in (slip_forces_n, slip_torques_nmm)
    )
    if not (np.isfinite(slip_force).all() and np.isfinite(slip_torque).all()):
        raise BoltGroupError("a friction limit is no number: give finite figures")
    if (slip_force < 0.0).any() or (slip_torque < 0.0).any():
        raise BoltGroupError("a friction limit is below zero: a bolt without friction holds 0")

    def couple(centre: Floats) -> Floats:
        squares: Floats = slip_force**2 * ((places - centre) ** 2).sum(axis=1) + slip_torque**2
        return np.asarray(np.sqrt(squares))

    if not slip_force.any():
        return float(slip_torque.sum())
    centre = np.average(places, axis=0, weights=slip_force)
    best = float(couple(centre).sum())
    for _ in range(_ROUNDS):
        weights = slip_force**2 / np.maximum(couple(centre), 1e-12 * (1.0 + best))
        centre = np.average(places, axis=0, weights=weights)
        now = float(couple(centre).sum())
        if best - now <= 1e-12 * best:
            break
        best = now
    at_a_bolt = (float(couple(place).sum()) for place in places)
    return min(best, *at_a_bolt)


def strap_racking_n_per_mm(
    straps: int,
    width_mm: float,
    depth_mm: float,
    length_mm: float,
    elastic_modulus_mpa: float,
    ends: StrapEnds,
    poisson: float | None = None,
) -> float:
    """Return the stiffness in N/mm with which straps side by side resist leaning over.

    Each: both ends held against turning 12EI/L^3 / (1 + Phi); one end pinned 3EI/L^3 / (1 + Phi/4); both
    pinned 0, and they rack freely. `depth_mm` is measured the way they lean; `poisson` None leaves shear
    out. BoltGroupError for sizes at or below zero.
    """
    sizes = (straps, width_mm, depth_mm, length_mm, elastic_modulus_mpa)
    if not all(size > 0.0 and math.isfinite(size) for size in sizes):
        raise BoltGroupError(
            f"{straps} straps {width_mm:g} x {depth_mm:g} x {length_mm:g} mm, E {elastic_modulus_mpa:g} MPa: "
            "give sizes above zero"
        )
    if ends == "both pinned":
        return 0.0
    bending = elastic_modulus_mpa * width_mm * depth_mm**3 / 12.0
    shear = 0.0 if poisson is None else shear_factor(depth_mm, length_mm, poisson)
    if ends == "one pinned":
        return straps * 3.0 * bending / length_mm**3 / (1.0 + shear / 4.0)
    return straps * 12.0 * bending / length_mm**3 / (1.0 + shear)


def shear_factor(depth_mm: float, length_mm: float, poisson: float) -> float:
    """Return Phi = 12 E I / (kappa G A L^2) of a rectangular section, depth measured the way it bends."""
    return 2.0 * (1.0 + poisson) / SHEAR_SHARE * (depth_mm / length_mm) ** 2


def strap_end_moment_nmm(force_n: float, straps: int, length_mm: float, ends: StrapEnds) -> float:
    """Return the moment at a held end of each strap that leans under a force shared equally.

    F L / 2 each with both ends held, F L with one pinned. BoltGroupError with both pinned, where nothing
    carries the force.
    """
    if ends == "both pinned":
        raise BoltGroupError("straps pinned at both ends rack freely: no moment carries the force")
    each = force_n / straps * length_mm
    return each / 2.0 if ends == "both held" else each


def strap_lash_rad(clearance_mm: float, arm_mm: float) -> float:
    """Return the whole turn, both ways together, that bolt clearance leaves two straps: 2 c / a.

    `clearance_mm` is hole less bolt, the same at both ends of each strap; `arm_mm` from the shaft axis to a
    strap's bolt. BoltGroupError for a negative clearance or an arm at or below zero.
    """
    if not (0.0 <= clearance_mm < math.inf and 0.0 < arm_mm < math.inf):
        raise BoltGroupError(
            f"clearance {clearance_mm:g} mm on an arm of {arm_mm:g} mm: the hole must be the larger"
        )
    return 2.0 * clearance_mm / arm_mm


def _places(places_mm: ArrayLike) -> Floats:
    places = np.asarray(places_mm, dtype=float)
    if places.ndim != 2 or places.shape[1] != 2 or not len(places):
        raise BoltGroupError(f"bolt places of shape {places.shape}: give one (x, y) in mm for each bolt")
    if not np.isfinite(places).all():
        raise BoltGroupError("a bolt place is no number: give finite coordinates")
    return places
