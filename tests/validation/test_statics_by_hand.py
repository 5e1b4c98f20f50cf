"""Closed forms from beam theory, statics and kinematics that verdicts give as "by hand"."""

import math

import pytest

from solver.bolt_group import (
    friction_circle_nmm,
    friction_limit_nmm,
    shear_factor,
    strap_lash_rad,
    strap_racking_n_per_mm,
)
from solver.ring_contact import Ring, opening, opening_tilt_nmm
from tests.validation.reference import agrees

BEAM = "beam theory (closed form)"
RING = "linear pressure on a ring (closed form)"


@pytest.mark.parametrize(
    ("ends", "published"), [("both held", 1075.2), ("one pinned", 268.8), ("both pinned", 0.0)]
)
def test_racking_about_the_weak_axis(ends: str, published: float) -> None:
    computed = strap_racking_n_per_mm(2, 40, 6, 150, 210_000, ends)  # type: ignore[arg-type]
    scale = 1075.2 if published == 0.0 else None
    agrees(computed, published, 1e-4, source=BEAM, name=f"racking, {ends}, N/mm", scale=scale)


def test_racking_about_the_strong_axis() -> None:
    agrees(shear_factor(40, 150, 0.3), 0.222, 0.001, source=BEAM, name="Phi of a 40 mm deep strap, 150 mm")
    computed = strap_racking_n_per_mm(2, 6, 40, 150, 210_000, "both held", 0.3)
    published = 1075.2 * (40 / 6) ** 2 / 1.222
    agrees(computed, published, 0.001, source=BEAM, name="racking about the strong axis, N/mm")


def test_lash_of_two_straps() -> None:
    turn = math.degrees(strap_lash_rad(0.5, 40))
    agrees(turn, 1.432, 0.001, source="kinematics (closed form)", name="lash of two straps, deg")


def test_friction_of_a_bolt_circle() -> None:
    published = 4 * math.sqrt((1860.0 * 50.0) ** 2 + 11_000.0**2)
    places = [(50, 0), (0, 50), (-50, 0), (0, -50)]
    source = "plastic limit (closed form)"
    agrees(
        friction_circle_nmm(4, 50, 1860, 11_000), published, 1e-9, source=source, name="friction circle, N.mm"
    )
    agrees(
        friction_limit_nmm(places, 1860, 11_000), published, 1e-9, source=source, name="friction limit, N.mm"
    )


def test_opening_of_a_clamped_ring() -> None:
    ring = Ring(16, 9)
    agrees(ring.kernel_mm, 2.63, 0.002, source=RING, name="e of an M8 footprint 16/9, mm")
    agrees(
        opening_tilt_nmm(ring, 18_600) / 1000.0, 49, 0.002, source=RING, name="tilt that opens 18.6 kN, N.m"
    )
    agrees(opening(ring, 0, 49_000, 18_600).used, 1, 0.002, source=RING, name="opening at 49 N.m")


def test_friction_torque_of_a_ring() -> None:
    ring = Ring(16, 9)
    published = 2 / 3 * (8**3 - 4.5**3) / (8**2 - 4.5**2)
    agrees(ring.friction_radius_mm, published, 1e-9, source=RING, name="friction radius of a ring 16/9, mm")
