import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from solver.bolt_group import (
    BoltGroupError,
    elastic_group,
    friction_circle_nmm,
    friction_limit_nmm,
    shear_factor,
    strap_end_moment_nmm,
    strap_lash_rad,
    strap_racking_n_per_mm,
)

spots = st.tuples(st.integers(-200, 200), st.integers(-200, 200))
groups = st.lists(spots, min_size=2, max_size=10, unique=True)
forces = st.floats(-1e5, 1e5)


@given(groups, forces, forces, spots, st.floats(-1e7, 1e7))
def test_bolt_forces_balance_the_load(places, fx: float, fy: float, at, couple: float) -> None:  # noqa: ANN001
    group = elastic_group(places, (fx, fy), at, couple)
    r = np.asarray(places, float)
    assert group.forces_n.sum(axis=0) == pytest.approx([fx, fy], abs=1e-6)
    moment = (r[:, 0] * group.forces_n[:, 1] - r[:, 1] * group.forces_n[:, 0]).sum()
    assert moment == pytest.approx(couple + at[0] * fy - at[1] * fx, abs=1e-3)


@given(groups, st.floats(1, 1e6), st.floats(0, 2 * math.pi))
def test_turning_the_group_turns_the_forces(places, couple: float, angle: float) -> None:  # noqa: ANN001
    turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    before = elastic_group(places, couple_nmm=couple).forces_n
    after = elastic_group(np.asarray(places, float) @ turn.T, couple_nmm=couple).forces_n
    assert after == pytest.approx(before @ turn.T, rel=1e-6, abs=1e-6 * couple)


def test_pure_couple() -> None:
    group = elastic_group([(40, 0), (-40, 0)], couple_nmm=80_000.0)
    assert group.forces_n == pytest.approx(np.array([[0.0, 1000.0], [0.0, -1000.0]]))
    assert (group.largest_n, group.largest_at) == (pytest.approx(1000.0), 0)


def test_one_bolt_carries_force_but_no_couple() -> None:
    assert elastic_group([(5, 5)], (300.0, 0.0)).largest_n == pytest.approx(300.0)
    with pytest.raises(BoltGroupError, match="one point"):
        elastic_group([(5, 5), (5, 5)], couple_nmm=1000.0)


@pytest.mark.parametrize("places", [[], [(1, 2, 3)], [1, 2], [(math.nan, 0)]])
def test_no_group(places: list[object]) -> None:
    with pytest.raises(BoltGroupError):
        elastic_group(places)


def test_load_that_is_no_number() -> None:
    with pytest.raises(BoltGroupError, match="finite"):
        elastic_group([(0, 0), (1, 0)], (math.inf, 0.0))


@pytest.mark.parametrize("torque", [0.0, 5_000.0])
def test_friction_limit_of_an_uneven_group(torque: float) -> None:
    """Against a general minimiser; the limit is the least over the point turned about."""
    places = np.array([(0, 0), (80, 5), (20, 60), (-35, 30), (10, -25)], float)
    slip = np.array([2000, 1500, 3000, 1000, 2500], float)

    def couple(centre: np.ndarray) -> float:
        return float(np.sqrt(slip**2 * ((places - centre) ** 2).sum(axis=1) + torque**2).sum())

    best = minimize(
        couple, places.mean(axis=0), method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-9}
    ).fun
    assert friction_limit_nmm(places, slip, torque) == pytest.approx(best, rel=1e-7)


@given(groups)
def test_friction_limit_is_at_most_that_about_the_centroid(places) -> None:  # noqa: ANN001
    r = np.asarray(places, float)
    about_centroid = (1000.0 * np.hypot(*(r - r.mean(axis=0)).T)).sum()
    assert friction_limit_nmm(places, 1000.0, 0.0) <= about_centroid * (1 + 1e-9)


def test_friction_limit_with_one_strong_bolt_turns_about_it() -> None:
    assert friction_limit_nmm([(0, 0), (50, 0)], [1e5, 100.0], [700.0, 0.0]) == pytest.approx(
        5_700.0, rel=1e-3
    )
    assert friction_limit_nmm([(0, 0)], 0.0, 700.0) == pytest.approx(700.0)


def test_impossible_friction() -> None:
    with pytest.raises(BoltGroupError):
        friction_limit_nmm([(0, 0)], -1.0, 0.0)
    with pytest.raises(BoltGroupError):
        friction_limit_nmm([(0, 0)], math.nan, 0.0)
    with pytest.raises(BoltGroupError):
        friction_circle_nmm(0, 50, 1, 1)


def test_shear_only_softens() -> None:
    stiff = strap_racking_n_per_mm(2, 6, 40, 150, 210_000, "both held")
    assert strap_racking_n_per_mm(2, 6, 40, 150, 210_000, "both held", 0.3) < stiff
    # One end pinned: bending and shear flexibilities add, L^3/3EI + L/(kappa G A).
    inertia, area, shear_modulus = 6 * 40**3 / 12, 240.0, 210_000 / 2.6
    flexibility = 150**3 / (3 * 210_000 * inertia) + 150 / (5 / 6 * shear_modulus * area)
    pinned = strap_racking_n_per_mm(1, 6, 40, 150, 210_000, "one pinned", 0.3)
    assert pinned == pytest.approx(1 / flexibility)
    assert shear_factor(40, 150, 0.3) == pytest.approx(
        12 * 210_000 * inertia / (5 / 6 * shear_modulus * area * 150**2)
    )


def test_end_moments() -> None:
    assert strap_end_moment_nmm(1000, 2, 150, "both held") == pytest.approx(37_500)
    assert strap_end_moment_nmm(1000, 2, 150, "one pinned") == pytest.approx(75_000)
    with pytest.raises(BoltGroupError, match="rack freely"):
        strap_end_moment_nmm(1000, 2, 150, "both pinned")


def test_impossible_straps() -> None:
    with pytest.raises(BoltGroupError):
        strap_racking_n_per_mm(0, 6, 40, 150, 210_000, "both held")
    with pytest.raises(BoltGroupError):
        strap_lash_rad(-0.1, 40)
    with pytest.raises(BoltGroupError):
        strap_lash_rad(0.1, 0)
