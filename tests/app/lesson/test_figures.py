"""The couple as forces: by hand."""

from __future__ import annotations

import pytest

from app.lesson.figures import Arm, CoupleFigures, arm_of, figures_of, force_at_n
from geometry.bracket import Bracket
from geometry.casing import Wheel
from tests.brackets import one_piece


def test_35_nm_at_35_mm_is_102_kgf() -> None:
    arm = Arm("1", 35.0, (0.0, 0.0, 0.0), (0.0, 35.0, 0.0))
    figures = CoupleFigures(35.0, 2.0, arm, 350.0)
    assert figures.force_n == pytest.approx(1000.0)
    assert figures.person_kg == pytest.approx(102.0, abs=0.05)
    assert figures.factored_nm == 70.0
    assert figures.rim_n == pytest.approx(200.0)
    assert "a person of 102 kg standing 35 mm beside the shaft" in figures.lines()
    assert figures.lines()[0].startswith("35.0 N.m as felt")
    assert figures.lines()[1].startswith("70.0 N.m times 2")


def test_the_arm_goes_to_the_nearest_bolt_of_the_casing() -> None:
    arm = arm_of(one_piece())
    assert arm is not None
    assert arm.length_mm == pytest.approx(36.0)
    assert arm.shaft_mm[:2] == (0.0, 0.0)
    assert arm.shaft_mm[2] == arm.bolt_mm[2]


def test_without_bolts_or_wheel_there_is_less_to_say() -> None:
    bare = figures_of(Bracket(), 20.0)
    assert bare.arm is None
    assert bare.force_n is None
    assert bare.person_kg is None
    assert bare.rim_n is None
    assert len(bare.lines()) == 2
    wheeled = figures_of(Bracket(wheel=Wheel(diameter_mm=400, station_mm=500)), 20.0)
    assert wheeled.rim_n == pytest.approx(100.0)


@pytest.mark.parametrize("arm_mm", [0.0, -5.0, float("nan"), float("inf")])
def test_an_arm_that_makes_no_couple_is_refused(arm_mm: float) -> None:
    with pytest.raises(ValueError, match="give one above 0"):
        force_at_n(10.0, arm_mm)
