"""The two cone programmes, by conditions that their answers must meet whatever the solver."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.cone import slide
from solver.grip import Grip

WIDE_OPEN = 1e3


def random_connections(seed: int, bolts: int) -> tuple[np.ndarray, np.ndarray, list[Grip]]:
    """Stiffness N/mm over slips, driving forces, grips: of the size brackets have."""
    rng = np.random.default_rng(seed)
    lengths = np.tile([1.0, 1.0, 6.0], bolts)
    half = rng.normal(size=(3 * bolts, 3 * bolts))
    stiffness = (half @ half.T + np.eye(3 * bolts)) * 2e4 * np.outer(lengths, lengths)
    driving = rng.normal(size=3 * bolts) * 3_000.0 * lengths
    grips = [Grip(0.15, float(rng.uniform(4e3, 2e4)), 6.0, WIDE_OPEN) for _ in range(bolts)]
    return stiffness, driving, grips


def at_friction_radius(vector: np.ndarray, grips: list[Grip], power: int) -> np.ndarray:
    lengths = np.array([[1.0, 1.0, g.radius_mm] for g in grips])
    return vector.reshape(-1, 3) * lengths**power


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.integers(1, 8))
def test_what_sticks_is_within_friction_and_what_slides_meets_all_of_it(seed: int, bolts: int) -> None:
    """Coulomb: |(V, T / r)| at most mu F; where it slides, equal to it and along the slip."""
    stiffness, driving, grips = random_connections(seed, bolts)
    slips = slide(stiffness, driving, grips)
    carried = at_friction_radius(driving - stiffness @ slips, grips, -1)
    moved = at_friction_radius(slips, grips, 1)
    holds = np.array([g.friction * g.preload_n for g in grips])
    assert np.all(np.linalg.norm(carried, axis=1) <= holds * (1 + 1e-3))
    sliding = np.linalg.norm(moved, axis=1) > 1e-4
    for force, way, most in zip(carried[sliding], moved[sliding], holds[sliding], strict=True):
        assert force == pytest.approx(most * way / np.linalg.norm(way), abs=0.01 * most)


@settings(max_examples=25)
@given(st.integers(0, 10_000), st.integers(1, 6))
def test_no_other_slip_has_less_energy(seed: int, bolts: int) -> None:
    stiffness, driving, grips = random_connections(seed, bolts)
    slips = slide(stiffness, driving, grips)

    def energy(s: np.ndarray) -> float:
        work = sum(
            g.friction * g.preload_n * np.linalg.norm(v)
            for g, v in zip(grips, at_friction_radius(s, grips, 1), strict=True)
        )
        return float(0.5 * s @ stiffness @ s - driving @ s + work)

    least = energy(slips)
    rng = np.random.default_rng(seed + 1)
    size = np.tile([1.0, 1.0, 1.0 / 6.0], bolts)
    for step in (1e-4, 1e-3, 1e-2, 1e-1):
        for _ in range(20):
            other = slips + step * size * rng.normal(size=3 * bolts)
            assert energy(other) >= least - 1e-6 * max(abs(least), 1.0)


def test_below_friction_nothing_slides() -> None:
    stiffness, driving, grips = random_connections(3, 5)
    holds = np.array([g.friction * g.preload_n for g in grips])
    worst = np.max(np.linalg.norm(at_friction_radius(driving, grips, -1), axis=1) / holds)
    slips = slide(stiffness, driving * 0.95 / worst, grips)
    assert np.abs(at_friction_radius(slips, grips, 1)).max() < 1e-6


def test_a_bolt_stops_at_its_hole() -> None:
    """One connection, 10 kN against 2 kN of friction and 10 N/mm: it moves by its clearance, no further."""
    grip = Grip(0.2, 10_000.0, 6.0, 0.5)
    stiffness = np.diag([10.0, 10.0, 1e4])
    slips = slide(stiffness, np.array([6_000.0, 8_000.0, 0.0]), [grip])
    assert slips[:2] == pytest.approx([0.3, 0.4], rel=1e-4)
    assert abs(slips[2]) < 1e-6


def test_one_slider_on_a_spring() -> None:
    """(F - mu N) / k, by hand."""
    slips = slide(np.diag([1e4, 1e4, 1e6]), np.array([5_000.0, 0.0, 0.0]), [Grip(0.2, 10_000.0, 6.0, 1.0)])
    assert slips[0] == pytest.approx(0.3, rel=1e-4)


def test_without_friction_it_follows_the_springs() -> None:
    stiffness, driving, grips = random_connections(5, 4)
    loose = [Grip(0.0, 0.0, g.radius_mm, WIDE_OPEN) for g in grips]
    slips = slide(stiffness, driving, loose)
    assert slips == pytest.approx(np.linalg.solve(stiffness, driving), rel=1e-3, abs=1e-6)
