"""The quick path says what solving anew says, for everything that leaves the plates as they are."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.casing import Bearing, Column
from geometry.loads import StatedCouple
from solver.checking import check_quickly
from solver.quick import quick_answer
from solver.results import Check
from solver.solved import Solved, solved, with_bolts, with_inputs


def anew(whole: Solved, bracket: Bracket) -> Solved:
    """Return the bracket solved from its condensed plates, nothing else kept."""
    return solved(bracket, whole.plates, whole.surveys, whole.sections)


def figures(checks: Sequence[Check]) -> dict[str, float]:
    return {f"{c.name} {what}": getattr(c, what) for c in checks for what in ("demand", "allowable")}


@pytest.mark.parametrize("change", ["couple", "torque", "friction", "limits", "column", "dash bar", "pull"])
def test_change_is_answered_as_solving_anew_does(flat: Solved, change: str) -> None:
    bracket = flat.bracket
    first = bracket.bolts[0]
    bearing = Bearing(name="only", station_mm=100.0, stiffness_n_per_mm=(4000.0, 9000.0))
    assert bracket.dash_bar is not None
    changed = {
        "couple": bracket.but(loads=bracket.loads.but(couple=StatedCouple(couple_nm=41.0))),
        "torque": bracket.with_bolt(first.but(tightening_nm=15.0)),
        "friction": bracket.but(bolts=tuple(b.but(face_friction=0.11) for b in bracket.bolts)),
        "limits": bracket.but(limits=bracket.limits.but(turn_deg=0.03, slip_factor=2.0)),
        "column": bracket.but(column=Column(held_by="bearings", bearings=(bearing,))),
        "dash bar": bracket.but(dash_bar=bracket.dash_bar.but(material="5083-H111")),
        "pull": bracket.but(loads=bracket.loads.but(pull_n=450.0)),
    }[change]
    quick = quick_answer(flat, changed)
    whole = anew(flat, changed)
    couple = changed.loads.couple.value_nm
    assert couple is not None
    expected = figures(check_quickly(whole, couple).checks)
    assert figures(quick.checks) == pytest.approx(expected, rel=1e-9)
    before = figures(quick_answer(flat).checks)
    assert before != pytest.approx(expected, rel=1e-6)


def test_another_yield_factor_lowers_what_a_section_may_bear(flat: Solved) -> None:
    """S275 yields at 275 MPa (EN 10025-2)."""
    limits = flat.bracket.limits.but(yield_factor=2.5)
    checks = quick_answer(flat, flat.bracket.but(limits=limits)).checks
    section = next(c for c in checks if c.name == "net section, plate")
    assert section.allowable == pytest.approx(275.0 / 2.5)


def test_states_follow_the_load_cases_they_can_balance(in_line: Solved) -> None:
    """Slipped, these straps stand against their own weight alone: without it there is no such state."""
    loads = in_line.bracket.loads
    bare, heavy = (in_line.bracket.but(loads=loads.but(weight_g=g)) for g in (0.0, 3.0))
    without = with_inputs(in_line, bare)
    again = with_inputs(without, heavy)
    for changed, bracket in ((without, bare), (again, heavy)):
        whole = anew(in_line, bracket)
        assert [(s.taken, s.holds) for s in changed.states] == [(s.taken, s.holds) for s in whole.states]
        expected = figures(check_quickly(whole, 30.0).checks)
        assert figures(check_quickly(changed, 30.0).checks) == pytest.approx(expected, rel=1e-9)
    assert [s.taken for s in without.states] == ["stuck"]
    assert [s.taken for s in again.states] == ["stuck", "all slipped"]


def test_bolt_out_carries_nothing_and_the_others_take_over(flat: Solved) -> None:
    name = flat.bracket.bolts[3].name
    answer = quick_answer(flat, out=[name])
    lost = next(b for b in answer.bolts if b.name == name)
    assert (lost.shear_n, lost.tension_n, lost.spin_nm) == pytest.approx((0.0, 0.0, 0.0), abs=1e-6)
    assert answer.casing is not None
    usual = quick_answer(flat).casing
    assert usual is not None
    assert answer.casing.turn_deg > usual.turn_deg


def test_slipped_bolt_carries_no_spin_and_gives_way(flat: Solved) -> None:
    name = flat.bracket.bolts[3].name
    answer = quick_answer(flat, slipped=[name])
    pin = next(b for b in answer.bolts if b.name == name)
    assert pin.state == "slipped"
    assert pin.spin_nm == pytest.approx(0.0, abs=1e-9)
    assert pin.shear_n > 0.0
    usual, now = quick_answer(flat).casing, answer.casing
    assert usual is not None
    assert now is not None
    assert now.turn_deg > usual.turn_deg


def test_all_bolts_slipped_is_the_all_slipped_state(flat: Solved) -> None:
    names = [b.name for b in flat.bracket.bolts]
    pins = with_bolts(flat, slipped=names)
    stuck = next(s for s in pins.states if s.taken == "stuck" and not s.high)
    slipped = next(s for s in pins.states if s.taken == "all slipped" and not s.high)
    assert np.allclose(stuck.response.casing, slipped.response.casing, rtol=1e-9, atol=1e-15)


def test_what_nothing_holds_is_told_as_a_free_motion(side_by_side: Solved) -> None:
    ends = [b.name for b in side_by_side.bracket.bolts if b.joins.to == "anchor"]
    answer = quick_answer(side_by_side, out=ends)
    assert answer.casing is None
    assert "nothing holds it at all" in answer.free_motions[0].words


def test_bolt_that_is_not_there_is_named(flat: Solved) -> None:
    with pytest.raises(KeyError, match="no bolt 'x9'"):
        quick_answer(flat, out=["x9"])
