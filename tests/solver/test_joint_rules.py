"""The rules of bolted joints by what they must be like; published figures are in tests/validation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.bolt_tables import bolt_grade, bolt_size
from solver.joint_rules import (
    JointError,
    bearing_allowable_n,
    combined_used,
    grade_note,
    hole_fit,
    packing_share,
    pull_through_allowable_n,
    shear_allowable_n,
    single_row_bearing_n,
    slip_holds_n,
    slip_share,
    tension_allowable_n,
)

M8 = bolt_size("M8")


def m8_bearing_n(edge_mm: float, **more: object) -> float:
    return bearing_allowable_n(800, 360, 8, 3, 9, e1_mm=edge_mm, e2_mm=edge_mm, **more)  # type: ignore[arg-type]


@given(st.floats(0, 10), st.floats(0, 10))
def test_combined_asks_no_less_than_shear_alone_nor_1_over_1_4_of_tension(
    shear: float, tension: float
) -> None:
    used = float(combined_used(shear, tension))
    assert used >= shear
    assert used >= tension / 1.4 * (1.0 - 1e-12)


def test_combined_is_worked_out_for_all_at_once() -> None:
    assert combined_used(np.array([0.5, 0.0]), np.array([0.7, 1.4])) == pytest.approx([1.0, 1.0])


@given(st.floats(10, 60), st.floats(1, 20))
def test_more_edge_never_bears_less(edge: float, more: float) -> None:
    assert m8_bearing_n(edge + more) >= m8_bearing_n(edge)


def test_a_hole_at_the_edge_bears_nothing() -> None:
    assert m8_bearing_n(5.0) == 0.0


@given(st.floats(5, 16), st.floats(0, 60), st.floats(0, 20))
def test_a_thicker_packing_never_leaves_more_shear(diameter: float, packing: float, more: float) -> None:
    assert 0.0 < packing_share(diameter, packing + more) <= packing_share(diameter, packing) <= 1.0


def test_a_packing_takes_shear_strength_away() -> None:
    """9 x 8 / (8 x 8 + 3 x 24) = 72 / 136; at a third of the bolt it is 1."""
    assert packing_share(8, 24) == pytest.approx(72 / 136)
    assert packing_share(9, 3) == 1.0
    with pytest.raises(JointError, match="diameter"):
        packing_share(0, 3)


def test_slots_and_oversize_holes_bear_less() -> None:
    whole = m8_bearing_n(12.0)
    assert m8_bearing_n(12.0, fit="oversize") == pytest.approx(0.8 * whole)
    assert m8_bearing_n(12.0, fit="long slot") == pytest.approx(0.6 * whole)


def test_a_hole_wider_than_medium_is_oversize() -> None:
    assert hole_fit(M8, 9.0) == "normal"
    assert hole_fit(M8, 9.5) == "oversize"


def test_grades_outside_the_rules_say_so() -> None:
    assert grade_note(bolt_grade("8.8")) == ""
    assert "12.9 is outside" in grade_note(bolt_grade("12.9"))
    assert "SAE J429" in grade_note(bolt_grade("grade 5"))
    assert "outside" in grade_note(bolt_grade("A2-70"))


def test_slip_with_the_preload_pulled_away() -> None:
    assert slip_holds_n(8000, 0.2, 10_000) == 0.0
    assert slip_holds_n(8000, 0.2, 12_000) == 0.0


def test_pressing_together_adds_no_friction() -> None:
    assert slip_holds_n(8000, 0.2, -5000) == slip_holds_n(8000, 0.2)


def test_friction_that_is_not_known_holds_nobody_knows_what() -> None:
    assert np.isnan(slip_holds_n(np.nan, 0.2, 100))
    assert np.isnan(slip_holds_n(8000, np.nan, 100))


def test_long_slot_slips_earlier() -> None:
    slot = slip_holds_n(8000, 0.2, k_s=slip_share("long slot"))
    assert slot == pytest.approx(0.63 * slip_holds_n(8000, 0.2))


def test_no_strength_known_means_no_head_is_held() -> None:
    assert pull_through_allowable_n(13.6, 3, 0.0) == 0.0


def test_impossible_sizes() -> None:
    with pytest.raises(JointError, match="thickness"):
        bearing_allowable_n(800, 360, 8, 0, 9, e1_mm=20, e2_mm=20)
    with pytest.raises(JointError, match="hole"):
        bearing_allowable_n(800, 360, 8, 3, 0, e1_mm=20, e2_mm=20)
    with pytest.raises(JointError, match="diameter"):
        single_row_bearing_n(360, 0, 3)
    with pytest.raises(JointError, match="area"):
        tension_allowable_n(800, -1)
    with pytest.raises(JointError, match="gamma"):
        shear_allowable_n(0.6, 800, 36.6, gamma_m2=math.nan)
