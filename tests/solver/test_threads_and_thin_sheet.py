"""Threads in bosses and thin sheet: what is taken, and when they decide."""

from __future__ import annotations

import pytest

from geometry.bolt_tables import bolt_size
from geometry.bracket import Bracket
from geometry.placing import place_bolts
from geometry.plate import Hole
from solver.bolt_checks import bolt_checks
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.evaluation import loaded
from solver.holds_to import ending
from solver.joint_rules import JointError
from solver.results import Check
from solver.thin_sheet import SOURCE, thin_bearing_n
from solver.thread_rules import ThreadError, full_flanks_mm, stripping, stripping_areas_mm2
from solver.tightening import settling_loss_n
from solver.verdict import failures
from tests.brackets import one_piece, solved_once


def _first(bracket: Bracket) -> ClampedBolt:
    return clamped_bolts(bracket, place_bolts(bracket))[bracket.bolts[0].name]


def _checks(bracket: Bracket) -> dict[str, Check]:
    whole = solved_once(bracket)
    return {c.name: c for c in bolt_checks(whole, loaded(whole.states, whole.cases, 60.0))}


def test_a_thread_too_short_decides_the_verdict() -> None:
    bracket = one_piece()
    short = bracket.but(bolts=tuple(b.but(length_mm=8.8) for b in bracket.bolts))
    check = _checks(short)["thread stripping"]
    assert check.used > 1.0
    assert any("thread stripping uses" in said for said in failures([check], ()))
    assert "mm engaged by its length" in check.note
    assert ending(check) == f"the thread of {check.where} strips in its boss"


def test_threads_as_bought_hold_and_say_what_was_taken() -> None:
    checks = _checks(one_piece())
    assert checks["thread stripping"].used < 0.8
    assert "its length is blank" in checks["thread stripping"].note
    tight = checks["thread under preload"]
    assert tight.kind == "share"
    assert tight.demand == pytest.approx(checks["bolt preload"].demand, rel=0.05)


def test_a_bolt_that_yields_whatever_its_scatter_is_a_fail() -> None:
    bracket = one_piece()
    usual = _checks(bracket.but(bolts=tuple(b.but(tightening_nm=32) for b in bracket.bolts)))
    assert usual["bolt preload"].used > 1.0  # at the high end of the scatter alone
    assert usual["bolt preload"].kind == "share"
    one = bracket.bolts[0].but(tightening_nm=60)
    checks = _checks(bracket.with_bolt(one))
    tight = checks["bolt preload"]
    assert tight.kind == "strength"
    assert tight.where == f"bolt {one.name}"
    assert "at the low end of its scatter as well" in tight.note
    assert failures([tight], ())
    # and friction rests on no more than the bolt bears
    assert (_first(bracket.with_bolt(one)).preload_low_n or 0.0) < 640 * 36.6


def test_a_stated_preload_clamps_no_more_than_the_bolt_bears() -> None:
    bracket = one_piece()
    stated = _first(bracket.with_bolt(bracket.bolts[0].but(preload_n=(40_000, 45_000))))
    clamped_mm = place_bolts(bracket)[0].clamp_length_mm
    settled = settling_loss_n(bolt_size("M8"), clamped_mm, 2)
    assert stated.preload_low_n == pytest.approx(640 * 36.6 - settled, rel=1e-3)
    assert stated.preload_high_n == 45_000


def test_a_stated_preload_settles_as_any_other() -> None:
    """VDI 2230 table 5 (from memory): 3 + 2.5 um in thread and head, 1.5 um at each of two faces.

    Over the bolt's length and 1.4 d, by hand: 8.5 um of M8, 36.6 mm2, 205 GPa. The high end stays.
    """
    bracket = one_piece()
    stated = _first(bracket.with_bolt(bracket.bolts[0].but(preload_n=(15_000, 20_000))))
    length_mm = place_bolts(bracket)[0].clamp_length_mm + 1.4 * 8.0
    lost = 0.0085 * 205_000 * 36.6 / length_mm
    assert lost > 3_000
    assert stated.preload_low_n == pytest.approx(15_000 - lost, rel=1e-3)
    assert stated.preload_high_n == 20_000
    none_left = _first(bracket.with_bolt(bracket.bolts[0].but(preload_n=(2_000, 20_000))))
    assert none_left.preload_low_n == 0.0


def test_a_thread_that_strips_whatever_the_scatter_is_a_fail() -> None:
    bracket = one_piece()
    assert bracket.casing is not None
    bosses = tuple(b.but(depth_mm=6) for b in bracket.casing.bosses)
    check = _checks(bracket.but(casing=bracket.casing.but(bosses=bosses)))["thread under preload"]
    assert check.kind == "strength"
    assert failures([check], ())
    assert ending(check) == f"the thread of {check.where} strips as it is tightened"


def test_a_blank_depth_or_grade_leaves_the_thread_unjudged() -> None:
    bracket = one_piece()
    assert bracket.casing is not None
    bosses = tuple(b.but(depth_mm=None) for b in bracket.casing.bosses)
    assert _first(bracket.but(casing=bracket.casing.but(bosses=bosses))).thread is None
    assert _first(bracket.with_bolt(bracket.bolts[0].but(grade=None))).thread is None


def test_the_end_of_a_bolt_and_the_mouth_of_a_boss_bear_nothing() -> None:
    """0.8 of a pitch: VDI 2230 (from memory, to be verified)."""
    size, bracket = bolt_size("M8"), one_piece()
    long = bracket.bolts[0].but(size="M8", length_mm=6.0 + 1.6 + 10.0)
    assert full_flanks_mm(size, 10.0) == pytest.approx(9.0)
    assert full_flanks_mm(size, 0.5) == 0.0
    thread = _first(bracket.with_bolt(long)).thread
    assert thread is not None
    assert thread.boss_n == pytest.approx(stripping(size, 9.0, 150.0, 800.0).boss_n)


def test_boss_and_bolt_strip_by_their_own_strength() -> None:
    size = bolt_size("M8")
    assert stripping(size, 16.0, 150.0, 800.0).weaker == "boss"
    assert stripping(size, 16.0, 900.0, 400.0).weaker == "bolt"
    assert stripping_areas_mm2(size, 0.0) == (0.0, 0.0)
    with pytest.raises(ThreadError, match="-1 mm of thread engaged"):
        stripping_areas_mm2(size, -1.0)


def test_thin_sheet_bears_less_near_an_edge_and_says_by_which_rule() -> None:
    bracket = one_piece(thickness_mm=0.75)
    hole = bracket.bolts[-1].hole
    plate = bracket.plates[0]
    opening = plate.opening(hole)
    assert isinstance(opening, Hole)
    x, _ = opening.centre_mm
    put = opening.but(centre_mm=(x, 130.0 - 13.5))
    moved = tuple(put if o.name == hole else o for o in plate.openings)
    near = bracket.with_plate(plate.but(openings=moved))
    bolt = clamped_bolts(near, place_bolts(near))[bracket.bolts[-1].name]
    assert bolt.bearing_rule == SOURCE
    assert bolt.bearing_n == pytest.approx(thin_bearing_n(430.0, 8.0, 0.75, 13.5))
    assert _first(one_piece()).bearing_rule == ""
    with pytest.raises(JointError, match="sheet 0 mm thick"):
        thin_bearing_n(360.0, 8.0, 0.0, 12.0)
