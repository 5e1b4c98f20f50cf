import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.bend_allowance import (
    BendError,
    bend_allowance,
    din_k,
    k_factor,
    opening_angle_deg,
    turned_angle_deg,
    zone_width_mm,
)

angles = st.floats(0.5, 179.0)
ratios = st.floats(0.1, 20.0)
thicknesses = st.floats(0.5, 12.0)


@given(angles, ratios, thicknesses)
def test_unfolded_length_is_that_of_the_parts(turned: float, ratio: float, thickness: float) -> None:
    """Straight parts and the neutral line's arc, laid flat, are a + b - v."""
    fold = bend_allowance(turned, ratio * thickness, thickness)
    legs = fold.setback_mm + 13.0, fold.setback_mm + 29.0
    neutral_radius = fold.inside_radius_mm + fold.k_factor * thickness
    arc = math.radians(turned) * neutral_radius
    flat = fold.flat_length_mm(*legs)
    assert flat == pytest.approx(13.0 + arc + 29.0, rel=1e-12)
    assert flat == pytest.approx(sum(legs) - fold.deduction_mm, rel=1e-9)


@given(angles, ratios, thicknesses, st.floats(0.2, 5.0))
def test_a_fold_scales(turned: float, ratio: float, thickness: float, factor: float) -> None:
    small = bend_allowance(turned, ratio * thickness, thickness)
    large = bend_allowance(turned, factor * ratio * thickness, factor * thickness)
    assert large.zone_width_mm == pytest.approx(factor * small.zone_width_mm, rel=1e-6)
    assert large.deduction_mm == pytest.approx(factor * small.deduction_mm, rel=1e-6)


@given(angles)
def test_the_two_angles_are_each_other_s_rest(turned: float) -> None:
    assert turned_angle_deg(opening_angle_deg(turned)) == pytest.approx(turned)


def test_both_ranges_meet_at_a_square_corner() -> None:
    below, above = bend_allowance(90.0, 3, 3), bend_allowance(89.9999, 3, 3)
    assert below.deduction_mm == pytest.approx(above.deduction_mm, abs=1e-3)


def test_k() -> None:
    assert din_k(5.0, 1.0) == pytest.approx(1.0, abs=1e-3)
    assert k_factor(3, 3) == pytest.approx(0.325)
    assert zone_width_mm(90, 3, 3) == pytest.approx(math.pi / 2 * (3 + 0.325 * 3))
    assert zone_width_mm(90, 3, 3, 0.5) == pytest.approx(math.pi / 2 * 4.5)
    assert bend_allowance(90, 3, 3, 0.5).source != bend_allowance(90, 3, 3).source


@pytest.mark.parametrize(
    ("r", "t"), [(0.29, 3), (0, 1), (-1, 1), (1, 0), (1, -2), (math.nan, 1), (1, math.inf)]
)
def test_too_tight_or_impossible(r: float, t: float) -> None:
    with pytest.raises(BendError, match=r"tenth|thick"):
        bend_allowance(90, r, t)


@pytest.mark.parametrize("turned", [-1, 181, math.nan])
def test_angle_out_of_range(turned: float) -> None:
    with pytest.raises(BendError, match="turned"):
        bend_allowance(turned, 3, 3)
    with pytest.raises(BendError, match="open"):
        turned_angle_deg(turned)


@pytest.mark.parametrize("k", [0.0, 1.0, -0.3, math.nan])
def test_k_outside_the_sheet(k: float) -> None:
    with pytest.raises(BendError, match="K-factor"):
        bend_allowance(90, 3, 3, k)


def test_leg_that_ends_inside_the_bend() -> None:
    fold = bend_allowance(90, 3, 3)
    assert fold.straight_mm(6.0) == pytest.approx(0.0)
    with pytest.raises(BendError, match="longer"):
        fold.straight_mm(5.9)
