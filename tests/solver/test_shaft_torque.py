"""A shaft joint bends what the shaft carries, which is more than the casing has of it."""

from __future__ import annotations

import math

import pytest

from geometry.casing import ShaftJoint
from geometry.loads import Couple, Loads, StatedCouple, TorqueMeters
from solver.load_cases import load_cases
from tests.brackets import one_piece

ANGLE_DEG = 30.0


def _across_nm(couple: Couple) -> float:
    joint = ShaftJoint(name="lower", station_mm=-150, angle_deg=ANGLE_DEG)
    loads = Loads(couple=couple, factor=1.0, pull_n=0, weight_g=0)
    bracket = one_piece(mass_kg=0).but(loads=loads, shaft_joints=(joint,))
    cases = [case for case in load_cases(bracket) if case.kind == "shaft joint"]
    value = couple.value_nm
    assert value is not None
    # it bends toward X
    return float(max((value * case.per_couple)[3] for case in cases)) / 1000.0


@pytest.mark.parametrize(
    ("output_nm", "input_nm", "carried_nm"),
    [(60.0, 30.0, 60.0), (-60.0, -30.0, 60.0), (30.0, 60.0, 60.0), (40.0, -5.0, 45.0)],
)
def test_of_torque_meters_the_larger_torque_goes_through_the_joint(
    output_nm: float, input_nm: float, carried_nm: float
) -> None:
    """Never less than the couple: which way an input counts hangs on how its meter is wired."""
    across = _across_nm(TorqueMeters(output_nm=output_nm, input_nm=input_nm))
    assert across == pytest.approx(carried_nm * math.tan(math.radians(ANGLE_DEG)))


def test_of_a_stated_couple_nothing_more_is_known() -> None:
    across = _across_nm(StatedCouple(couple_nm=30.0))
    assert across == pytest.approx(30.0 * math.tan(math.radians(ANGLE_DEG)))


def test_a_couple_of_nought_carries_no_more() -> None:
    assert Loads(couple=TorqueMeters(output_nm=20.0, input_nm=20.0)).shaft_share == 1.0
    assert Loads(couple=TorqueMeters(output_nm=20.0)).shaft_share == 1.0
