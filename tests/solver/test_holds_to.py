"""Holds-to is the couple at which an analysis of its own finds the first check at 100 %."""

import numpy as np
import pytest

from geometry.bar_section import RoundBar
from geometry.fit_up import FitUp
from geometry.fixing import RoundTube
from geometry.loads import Engine, Fatigue, Limits, Loads, StatedCouple, TorqueCount
from solver.analyse import analyse
from solver.checking import check_all
from solver.holds_to import MOST_NM, _alone, _movements, ending, holds_to, with_what_stays
from solver.movement_checks import envelope_ways
from solver.results import Check
from solver.solved import Solved, with_inputs
from tests.brackets import WEIGHTLESS_STEEL, one_piece, solved_once

COARSE_MM = 20.0


def used_at(whole: Solved, couple_nm: float) -> dict[str, float]:
    """Used of every check that can fail, by a whole round of checks at that couple."""
    return {c.name: c.used for c in check_all(whole, couple_nm).checks if c.kind != "share"}


def assert_first_reaches_100(whole: Solved, part: str) -> float:
    couple, ended_by = holds_to(whole, {})
    assert part in ended_by
    assert max(used_at(whole, 0.995 * couple).values()) < 1.0
    assert max(used_at(whole, 1.005 * couple).values()) > 1.0
    # Below it the same check is the nearest to its limit.
    used = used_at(whole, 0.999 * couple)
    assert max(used.values()) == pytest.approx(1.0, abs=0.01)
    return couple


def changed(whole: Solved, **changes: object) -> Solved:
    return with_inputs(whole, whole.bracket.but(**changes))


def test_slip_ends_it(flat: Solved) -> None:
    assert_first_reaches_100(flat, "slips")


def test_movement_ends_it(flat: Solved) -> None:
    grip = tuple(b.but(preload_n=(20_000, 20_000), face_friction=1.0) for b in flat.bracket.bolts)
    assert_first_reaches_100(changed(flat, bolts=grip, limits=Limits(turn_deg=0.004)), "turn")
    assert_first_reaches_100(
        changed(flat, bolts=grip, limits=Limits(movement_mm=0.01)), "its movement reaches"
    )
    pulled = changed(flat, bolts=grip, limits=Limits(pull_movement_mm=0.22))
    assert_first_reaches_100(pulled, "movement with a pull")


def test_the_dash_bar_ends_it(flat: Solved) -> None:
    grip = tuple(b.but(preload_n=(20_000, 20_000), face_friction=1.0) for b in flat.bracket.bolts)
    bar = flat.bracket.dash_bar
    assert bar is not None
    # A thin bar under loose limits of movement.
    limits = Limits(turn_deg=50, movement_mm=500, pull_movement_mm=500)
    thin = bar.but(section=RoundTube(outer_mm=25, wall_mm=1.5))
    assert_first_reaches_100(changed(flat, bolts=grip, limits=limits, dash_bar=thin), "dash bar")


def test_stress_ends_it() -> None:
    """A sheet that yields at 30 MPa: the closed form of the holds-to against a whole round of checks."""
    plain = one_piece()
    soft = WEIGHTLESS_STEEL.but(name="soft", yield_mpa=30, tensile_mpa=800)
    bracket = plain.but(
        materials=(soft,),
        plates=tuple(p.but(material="soft") for p in plain.plates),
        bolts=tuple(b.but(preload_n=(20_000, 20_000), face_friction=1.0) for b in plain.bolts),
        loads=Loads(couple=StatedCouple(couple_nm=10), pull_n=20, weight_g=1),
        limits=Limits(turn_deg=50, movement_mm=500, pull_movement_mm=500),
    )
    assert_first_reaches_100(solved_once(bracket, COARSE_MM), "plate reaches its allowable stress")


def test_a_band_brings_it_down(flat: Solved) -> None:
    plain, _ = holds_to(flat, {})
    banded, ended_by = holds_to(flat, {"slip": 0.1})
    assert "slips" in ended_by
    assert banded < plain
    assert used_at(flat, banded)["slip"] == pytest.approx(1 / 1.1, rel=1e-3)


def test_nothing_without_any_couple_if_a_check_is_over_already(flat: Solved) -> None:
    couple, ended_by = holds_to(changed(flat, limits=Limits(pull_movement_mm=0.01)), {})
    assert couple == 0.0
    assert "pull" in ended_by


@pytest.mark.parametrize(("limit_mm", "what"), [(50.0, "slips"), (0.001, "movement with a pull")])
def test_a_pull_alone_may_be_too_much(flat: Solved, limit_mm: float, what: str) -> None:
    """What ends it is used most in a whole round of checks without any couple."""
    loads = flat.bracket.loads.but(pull_n=3_000.0)
    limits = Limits(turn_deg=50, movement_mm=500, pull_movement_mm=limit_mm)
    pulled = changed(flat, loads=loads, limits=limits)
    checks = [c for c in check_all(pulled, 0.0).checks if c.kind != "share"]
    assert sum(c.used > 1.0 for c in checks) > 1
    assert holds_to(pulled, {}) == (0.0, ending(max(checks, key=lambda c: c.used)))
    assert what in holds_to(pulled, {})[1]


@pytest.mark.parametrize("unknown", ["grade", "depth", "bar"])
def test_it_is_not_told_while_a_strength_is_not_known(unknown: str) -> None:
    """The checks that ask for it are left out: without grades a bracket that slips at 57 N.m held to 230."""
    bracket = one_piece()
    casing, bar = bracket.casing, bracket.dash_bar
    assert casing is not None
    assert bar is not None
    without = {
        "grade": {"bolts": tuple(b.but(grade="9.9") for b in bracket.bolts)},
        "depth": {"casing": casing.but(bosses=tuple(b.but(depth_mm=None) for b in casing.bosses))},
        "bar": {"dash_bar": bar.but(section=RoundBar(outer_mm=120))},
    }
    results = analyse(bracket.but(**without[unknown]), refine=False)
    assert results.holds_to_nm is None
    assert results.ended_by == ""
    assert results.friction_fails_nm is None


def test_it_stops_looking_somewhere(flat: Solved) -> None:
    assert holds_to(flat, {})[0] <= MOST_NM


def past(name: str, kind: str = "strength") -> tuple[Check, ...]:
    return (Check(name, 2.0, 1.0, "", 0.0, "", "here", kind=kind),)  # type: ignore[arg-type]


def test_what_no_couple_changes_ends_it_without_any() -> None:
    bracket, slips = one_piece(), (50.0, "bolt 1 slips")
    for name in ("fit-up stress, plate", "natural frequency"):
        assert with_what_stays(bracket, past(name), *slips) == (0.0, f"{name} reaches its allowable")
        assert with_what_stays(bracket, past(name, "share"), *slips) == slips
    assert with_what_stays(bracket, past("fatigue, plate"), *slips) == slips
    listed = Fatigue(spectrum=(TorqueCount(torque_nm=40, count=10),))
    worn = bracket.but(loads=bracket.loads.but(fatigue=listed))
    assert with_what_stays(worn, past("fatigue, plate"), *slips)[0] == 0.0


def test_a_bracket_drawn_together_past_its_yield_holds_to_nothing() -> None:
    forced = one_piece().but(fit_up=FitUp(flat_deg=8, hole_mm=3))
    found = analyse(forced, refine=False)
    assert any(c.name == "fit-up stress, plate" and c.used_upper > 1.0 for c in found.checks)
    assert found.holds_to_nm == 0.0
    assert found.ended_by.startswith("fit-up")


def test_a_casing_that_the_engine_shakes_holds_to_nothing() -> None:
    bracket = one_piece()
    shaken = bracket.but(loads=bracket.loads.but(engine=Engine(cylinders=16, idle_rpm=3000, strokes=2)))
    found = analyse(shaken, refine=False)
    assert (found.holds_to_nm, found.ended_by) == (0.0, "natural frequency reaches its allowable")


def test_the_corners_of_the_envelope_move_as_a_rigid_body(flat: Solved) -> None:
    ways = envelope_ways(flat)
    assert ways.shape == (8, 3, 6)
    about_the_shaft = ways @ np.array([0.0, 0.0, 0.0, 0.0, 0.0, 1.0])
    casing = flat.bracket.casing
    assert casing is not None
    low, high = np.array(casing.envelope.low_mm), np.array(casing.envelope.high_mm)
    farthest = np.hypot(*np.maximum(np.abs(low), np.abs(high))[:2])
    assert np.linalg.norm(about_the_shaft, axis=1).max() == pytest.approx(farthest)


def test_every_corner_of_the_casing_and_every_vertex_of_a_plate_is_asked_how_far_it_moves(
    folded: Solved,
) -> None:
    """Against the plate's whole field of displacement, node by node."""
    state = next(s for s in folded.states if s.taken == "stuck")
    envelope = envelope_ways(folded)
    grown, rest = (
        np.column_stack([getattr(c, name) for c in folded.cases]) for name in ("per_couple", "rest")
    )
    found = list(_movements(folded, state, envelope, grown, rest))
    assert len(found) > 1 + len(folded.plates)
    for number, load in enumerate((grown, rest)):
        by_hand = [envelope @ state.response.casing @ load]
        for plate, amounts in zip(folded.plates, state.amounts, strict=True):
            field = (plate.modes @ (amounts @ load)).reshape(len(plate.mesh.points), 3, -1)
            by_hand.append(field[plate.mesh.vertex_nodes])
        expected = np.concatenate(by_hand)
        told = np.concatenate([pair[number] for pair in found])
        assert told.shape == expected.shape
        assert np.abs(told - expected).max() <= 1e-10 * np.abs(expected).max()


def test_at_rest_only_a_load_without_its_twin_is_looked_at(flat: Solved) -> None:
    """The other way round at the same couple stands for rest: von Mises' stress is convex in the couple."""
    assert [flat.cases[i].kind for i in _alone(flat.cases)] == ["as measured"]
    cases = [c for c in flat.cases if c.kind in ("couple", "pull")]
    assert _alone(cases) == []
    first, second = cases[:2]
    assert np.array_equal(first.per_couple, -second.per_couple)
    assert _alone(cases[1:]) == [0]
