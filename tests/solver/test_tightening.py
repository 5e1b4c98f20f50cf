import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.bolt_tables import BOLT_GRADES, BOLT_SIZES, bolt_grade, bolt_size
from geometry.placing import place_bolts
from solver.assumptions import assumptions_of
from solver.clamped_bolt import clamped_bolts
from solver.tightening import (
    TighteningError,
    preload_n,
    settling_loss_n,
    table_preload_n,
    table_tightening_nm,
    tighten,
    tightening_nm,
    yield_used,
)
from tests.brackets import one_piece

sizes = st.sampled_from(BOLT_SIZES)
grades = st.sampled_from(BOLT_GRADES)


@given(sizes, st.floats(0.1, 500), st.floats(0.05, 0.4))
def test_torque_and_preload_are_each_other_s_inverse(size, torque: float, mu: float) -> None:  # noqa: ANN001
    assert tightening_nm(size, preload_n(size, torque, mu), mu) == pytest.approx(torque)


@given(sizes, grades, st.floats(0.05, 0.4))
def test_table_preload_uses_nine_tenths_of_yield(size, grade, mu: float) -> None:  # noqa: ANN001
    preload = table_preload_n(size, grade, mu)
    assert yield_used(size, grade, preload, mu) == pytest.approx(0.9)
    assert preload < 0.9 * grade.yield_mpa * size.stress_area_mm2


@given(sizes, st.floats(1, 100), st.floats(0.05, 0.3))
def test_more_friction_gives_less_preload(size, torque: float, mu: float) -> None:  # noqa: ANN001
    assert preload_n(size, torque, mu + 0.05) < preload_n(size, torque, mu)


def test_range() -> None:
    bolt = tighten(bolt_size("M8"), bolt_grade("8.8"), 20.0, settling_n=500.0)
    assert bolt.low_n == pytest.approx(0.75 * bolt.middle_n - 500.0)
    assert bolt.high_n == pytest.approx(1.25 * bolt.middle_n)
    assert bolt.warning == ""


def test_settling_never_makes_preload_negative() -> None:
    assert tighten(bolt_size("M5"), bolt_grade("8.8"), 1.0, settling_n=1e6).low_n == 0.0


def test_overtightened_bolt_is_warned_of() -> None:
    size, grade = bolt_size("M6"), bolt_grade("8.8")
    usual = table_tightening_nm(size, grade)
    bolt = tighten(size, grade, 2 * usual)
    assert bolt.yield_used == pytest.approx(0.9 * 2 * 1.25)
    assert "M6 8.8 past its yield" in bolt.warning
    assert tighten(size, grade, usual, scatter=0.0).warning == ""


def test_settling_falls_with_length_and_grows_with_faces() -> None:
    size = bolt_size("M8")
    assert settling_loss_n(size, 12, 1) < settling_loss_n(size, 12, 3)
    assert settling_loss_n(size, 60, 1) < settling_loss_n(size, 12, 1)
    # 7 micrometre over an M8 of 12 + 6.4 mm: E A / l = 205 000 x 36.61 / 18.4 = 407.9 N a micrometre.
    assert settling_loss_n(size, 12, 1) == pytest.approx(7 * 323.5, rel=1e-3)


@pytest.mark.parametrize("torque", [0.0, -5.0, math.nan, math.inf])
def test_impossible_torque(torque: float) -> None:
    with pytest.raises(TighteningError, match="torque"):
        tighten(bolt_size("M8"), bolt_grade("8.8"), torque)


def test_impossible_friction_scatter_and_faces() -> None:
    size, grade = bolt_size("M8"), bolt_grade("8.8")
    with pytest.raises(TighteningError, match="friction"):
        preload_n(size, 20, 0.0)
    with pytest.raises(TighteningError, match="scatter"):
        tighten(size, grade, 20, scatter=1.0)
    with pytest.raises(TighteningError, match="settling"):
        tighten(size, grade, 20, settling_n=-1.0)
    with pytest.raises(TighteningError, match="faces"):
        settling_loss_n(size, 12, 0)
    with pytest.raises(TighteningError, match="hole"):
        preload_n(size, 20, 0.12, hole_mm=0.0)


def test_a_bolt_in_its_hole_is_tightened_as_by_hand() -> None:
    """M8 in a 9 mm hole, 22 N.m at 0.12: D_Km = (11.63 + 9) / 2, d2 7.188 (VDI 2230, from memory)."""
    bracket = one_piece()
    placed = clamped_bolts(bracket, place_bolts(bracket))["1"]
    arm_mm = 0.16 * 1.25 + 0.58 * 7.188 * 0.12 + (11.63 + 9.0) / 2.0 * 0.12 / 2.0
    middle_n = 22_000.0 / arm_mm
    assert placed.preload_high_n == pytest.approx(1.25 * middle_n, rel=1e-3)
    assert placed.preload_low_n == pytest.approx(0.75 * middle_n - placed.settling_n, rel=1e-3)


def test_no_more_clamps_than_the_bolt_bears_at_its_yield() -> None:
    size, grade = bolt_size("M8"), bolt_grade("8.8")
    borne = table_preload_n(size, grade, yield_share=1.0)
    bolt = tighten(size, grade, 60.0, settling_n=500.0)
    # 60 N.m would draw 34 kN at the low end; M8 8.8 breaks at 29.3 kN.
    assert bolt.surely_n == pytest.approx(0.75 * bolt.middle_n)
    assert bolt.surely_n > grade.tensile_mpa * size.stress_area_mm2
    assert bolt.low_n == pytest.approx(borne - 500.0)


def test_what_a_locking_nut_takes_is_off_the_low_end_alone() -> None:
    """22 N.m of which an M8 nut may take 6 (ISO 2320, from memory) clamp at least what 16 N.m do."""
    bracket = one_piece()
    free = clamped_bolts(bracket, place_bolts(bracket))["4"]
    locked = bracket.with_bolt(bracket.bolt("4").but(locking="locking nut", prevailing_nm=None))
    bolt = clamped_bolts(locked, place_bolts(locked))["4"]
    assert free.preload_low_n is not None
    assert bolt.preload_low_n is not None
    assert bolt.preload_low_n + bolt.settling_n == pytest.approx(
        16.0 / 22.0 * (free.preload_low_n + free.settling_n)
    )
    assert bolt.preload_high_n == free.preload_high_n
    assert "of which its locking nut may take 6 N.m, ISO 2320" in bolt.preload_words
    measured = bracket.with_bolt(bracket.bolt("4").but(locking="locking nut", prevailing_nm=1.0))
    placed = clamped_bolts(measured, place_bolts(measured))["4"]
    assert placed.preload_low_n is not None
    assert bolt.preload_low_n < placed.preload_low_n < free.preload_low_n
    _, flagged = assumptions_of(measured, {"4": placed})
    assert any("said to take 1 N.m of the torque: a new one may take 6 N.m" in words for words in flagged)


def test_inch_nuts_have_a_standard_of_their_own() -> None:
    """80 lbf.in on a 3/8 in nut (IFI 100/107, from memory, to be verified)."""
    bracket = one_piece()
    inch = bracket.bolt("4").but(size="3/8-16", grade="grade 8", locking="locking nut")
    changed = bracket.with_bolt(inch)
    words = clamped_bolts(changed, place_bolts(changed))["4"].preload_words
    assert "may take 9 N.m, IFI 100/107" in words
    assert "ISO" not in words


def test_a_torque_that_the_nut_takes_whole_clamps_nothing() -> None:
    bolt = tighten(bolt_size("M8"), bolt_grade("8.8"), 5.0, prevailing_nm=6.0)
    assert bolt.low_n == bolt.surely_n == 0.0
    assert bolt.high_n > 0.0
