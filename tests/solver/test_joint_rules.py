import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.bolt_tables import bolt_grade, bolt_size
from solver.joint_rules import (
    JointError,
    bearing,
    bearing_allowable_n,
    bolt_combined,
    bolt_shear,
    bolt_tension,
    broken_distances,
    hole_fit,
    pull_through,
    slip,
)

M8 = bolt_size("M8")
G88 = bolt_grade("8.8")


def m8_bearing(force: float, edge: float, **more: object):  # noqa: ANN201
    sheet = {"plate_tensile_mpa": 360, "thickness_mm": 3, "hole_mm": 9, "e1_mm": edge, "e2_mm": edge}
    return bearing(M8, G88, force, **(sheet | more))  # type: ignore[arg-type]


@given(st.floats(0, 1e5), st.floats(-1e5, 1e5))
def test_combined_is_never_milder_than_either_alone(shear: float, tension: float) -> None:
    used = bolt_combined(M8, G88, shear, tension).used
    assert used >= bolt_shear(M8, G88, shear).used * (1 - 1e-12)
    assert used >= bolt_tension(M8, G88, tension).used * (1 - 1e-12)


@given(st.floats(10, 60), st.floats(1, 20))
def test_more_edge_never_bears_less(edge: float, more: float) -> None:
    assert m8_bearing(1, edge + more).allowable >= m8_bearing(1, edge).allowable


def test_tension_alone_governs_combined() -> None:
    limit = bolt_tension(M8, G88, 1).allowable
    assert bolt_combined(M8, G88, 0, limit).used == pytest.approx(1.0)


def test_pressing_together_is_no_tension() -> None:
    assert bolt_tension(M8, G88, -5000).used == 0.0
    assert pull_through(-5000, head_mean_mm=13.6, plate_tensile_mpa=360, thickness_mm=3).used == 0.0


def test_signs_of_shear_do_not_matter() -> None:
    assert bolt_shear(M8, G88, -500).used == bolt_shear(M8, G88, 500).used > 0


def test_two_shear_planes_carry_twice() -> None:
    assert bolt_shear(M8, G88, 1, planes=2).allowable == pytest.approx(2 * bolt_shear(M8, G88, 1).allowable)


def test_a_hole_at_the_edge_bears_nothing() -> None:
    check = m8_bearing(100, 5.0)
    assert check.allowable == 0.0
    assert check.used == math.inf
    assert "e1 5 mm (least 10.8)" in check.note


def test_slots_and_oversize_holes_bear_less() -> None:
    whole = m8_bearing(1, 12.0, single_row=False).allowable
    assert m8_bearing(1, 12.0, single_row=False, fit="oversize").allowable == pytest.approx(0.8 * whole)
    assert m8_bearing(1, 12.0, single_row=False, fit="long slot").allowable == pytest.approx(0.6 * whole)


def test_a_hole_wider_than_medium_is_oversize() -> None:
    assert hole_fit(M8, 9.0) == "normal"
    assert hole_fit(M8, 9.5) == "oversize"


def test_grades_outside_the_rules_say_so() -> None:
    assert bolt_shear(M8, G88, 1).note == ""
    assert "12.9 is outside" in bolt_shear(M8, bolt_grade("12.9"), 1).note
    assert "SAE J429" in bolt_tension(bolt_size("1/4-20"), bolt_grade("grade 5"), 1).note
    assert "outside" in bolt_combined(M8, bolt_grade("A2-70"), 1, 1).note


def test_slip_with_the_preload_pulled_away() -> None:
    check = slip(10, preload_n=8000, friction=0.2, tension_n=10_000)
    assert check.allowable == 0.0
    assert check.used == math.inf
    assert slip(0, preload_n=0, friction=0.2).used == 0.0


def test_long_slot_slips_earlier() -> None:
    normal = slip(1, preload_n=8000, friction=0.2).allowable
    assert slip(1, preload_n=8000, friction=0.2, fit="long slot").allowable == pytest.approx(0.63 * normal)


def test_distances() -> None:
    assert broken_distances(10, 12, 12, 22, 24) == ""
    assert "p2 23 mm (least 24)" in broken_distances(10, 12, 12, 22, 23)


@pytest.mark.parametrize("force", [math.nan, math.inf])
def test_no_number_is_refused(force: float) -> None:
    with pytest.raises(JointError, match="no number"):
        bolt_combined(M8, G88, force, 0)
    with pytest.raises(JointError, match="no number"):
        bolt_tension(M8, G88, force)


def test_impossible_sizes() -> None:
    with pytest.raises(JointError, match="thickness"):
        bearing_allowable_n(800, 360, 8, 0, 9, e1_mm=20, e2_mm=20)
    with pytest.raises(JointError, match="hole"):
        broken_distances(0, 20, 20)
    with pytest.raises(JointError, match="preload"):
        slip(1, preload_n=-1, friction=0.2)
    with pytest.raises(JointError, match="gamma"):
        bolt_shear(M8, G88, 1, gamma_m2=math.nan)
