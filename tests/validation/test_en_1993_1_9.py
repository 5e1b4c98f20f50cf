"""Fatigue of steel, EN 1993-1-9: lives, damage sum and the range of what is not welded."""

from __future__ import annotations

import numpy as np
import pytest

from solver.fatigue_curve import cycles_borne, damage, effective_range, range_borne
from tests.validation.reference import agrees

SOURCE = "EN 1993-1-9 curves, own independent calculation (from memory, to be verified)"


@pytest.mark.parametrize(("category", "cycles"), [(125.0, 3.906e6), (90.0, 1.458e6), (71.0, 715_822.0)])
def test_life_at_100_mpa(category: float, cycles: float) -> None:
    agrees(
        float(cycles_borne(category, 100.0)),
        cycles,
        1e-3,
        source=SOURCE,
        name=f"{category:g} at 100 MPa, cycles",
    )


def test_life_at_50_mpa() -> None:
    agrees(float(cycles_borne(90.0, 50.0)), 2.052e7, 1e-3, source=SOURCE, name="90 at 50 MPa, cycles")


def test_damage_sum() -> None:
    spent = damage(71.0, [120.0, 60.0, 40.0], [1e5, 1e6, 1e7])
    agrees(spent, 1.0659, 1e-3, source=SOURCE, name="71: 1e5 at 120, 1e6 at 60, 1e7 at 40, damage")


def test_range_of_what_is_not_welded() -> None:
    agrees(float(effective_range(-60.0, 60.0)), 96.0, 1e-9, source=SOURCE, name="+-60 MPa, effective range")
    agrees(
        float(effective_range(20.0, 120.0)), 100.0, 1e-9, source=SOURCE, name="20 to 120 MPa, effective range"
    )
    agrees(
        float(effective_range(-120.0, -20.0)),
        60.0,
        1e-9,
        source=SOURCE,
        name="-120 to -20 MPa, effective range",
    )


def test_limits_of_the_curve() -> None:
    agrees(range_borne(100.0, 5e6), 73.7, 1e-3, source=SOURCE, name="knee, share of the category, per cent")
    agrees(
        range_borne(100.0, 1e8), 40.5, 2e-3, source=SOURCE, name="cut-off, share of the category, per cent"
    )


@pytest.mark.qualitative
def test_below_the_cut_off_there_is_no_end() -> None:
    assert cycles_borne(125.0, 50.0) == np.inf
