"""Connections that slide, in whole brackets: Coulomb, balance, and nothing new while friction holds."""

import numpy as np
import pytest

from solver.checking import check_all
from solver.errors import SolverError
from solver.evaluation import Column, Loaded, State, loaded
from solver.load_cases import LoadCase
from solver.sliding import sliding
from solver.solved import Solved, with_inputs
from tests.brackets import bolt_group, solved_once


def stuck_state(whole: Solved) -> State:
    return next(s for s in whole.states if s.taken == "stuck")


def case_named(whole: Solved, name: str) -> LoadCase:
    return next(c for c in whole.cases if c.name == name)


def stuck_column(whole: Solved, name: str, couple_nm: float) -> tuple[Loaded, int]:
    load = loaded(whole.states, whole.cases, couple_nm)
    return load, next(i for i, c in enumerate(load.columns) if c.case.name == name and c.taken == "stuck")


def test_while_friction_holds_it_is_the_stuck_state(flat: Solved) -> None:
    load, column = stuck_column(flat, "couple +", 3.0)
    extra, slid = sliding(flat, stuck_state(flat), [case_named(flat, "couple +")], 3.0)
    assert slid.max() < 1e-6
    assert extra.forces.local[:, :, 0] == pytest.approx(load.forces.local[:, :, column], rel=1e-4, abs=0.1)
    assert extra.casing[:, 0] == pytest.approx(load.casing[:, column], rel=1e-4, abs=1e-9)


@pytest.mark.parametrize("couple", [120.0, 200.0])
def test_what_slides_carries_what_friction_leaves_it_unless_hard_against_its_hole(
    flat: Solved, couple: float
) -> None:
    state = stuck_state(flat)
    case = case_named(flat, "couple +")
    extra, slid = sliding(flat, state, [case], couple)
    assert slid.max() > 0.01, "the couple was meant to slide something"
    pulls = state.local[:, 2] @ case.coefficients(couple)
    for row, name in enumerate(extra.forces.bolts):
        bolt = flat.bolts[name]
        holds = (bolt.friction or 0.0) * ((bolt.preload_low_n or 0.0) - 0.8 * max(pulls[row], 0.0))
        asked = np.hypot(
            extra.forces.shear_n[row, 0], extra.forces.spin_nmm[row, 0] / bolt.friction_radius_mm
        )
        if slid[row, 0] < 1e-4:
            assert asked <= holds * 1.001, name
        elif slid[row, 0] < 0.99 * bolt.clearance_mm:
            assert asked == pytest.approx(holds, rel=0.01), name
        else:
            assert asked >= 0.99 * holds, name


@pytest.mark.parametrize("bracket", ["flat", "folded", "side_by_side"])
def test_sliding_keeps_the_casing_in_balance(bracket: str, request: pytest.FixtureRequest) -> None:
    """What the plates put on the casing, the bearings' push and the load add up to nothing."""
    whole: Solved = request.getfixturevalue(bracket)
    state = stuck_state(whole)
    case = case_named(whole, "couple +, pull right")
    couple = 60.0
    extra, _ = sliding(whole, state, [case], couple)
    structure = extra.structure
    total = case.coefficients(couple)[:6].copy()
    for row, connection in enumerate(structure.connections):
        if connection.place.partner != "boss":
            continue
        force = connection.axes @ extra.forces.local[row, :3, 0]
        moment = connection.axes @ extra.forces.local[row, 3:, 0]
        arm = connection.at_mm - structure.casing_at_mm
        total[:3] -= force
        total[3:] -= moment + np.cross(arm, force)
    for bearing in whole.bracket.column.bearings:
        arm = np.array([0.0, 0.0, bearing.station_mm]) - structure.casing_at_mm
        moved = extra.casing[:3, 0] + np.cross(extra.casing[3:, 0], arm)
        push = np.array([-bearing.stiffness_n_per_mm[0] * m for m in moved[:2]] + [0.0])
        total[:3] += push
        total[3:] += np.cross(arm, push)
    assert np.abs(total[:3]).max() < 0.5
    assert np.abs(total[3:]).max() < 100.0


def test_more_friction_never_moves_more(flat: Solved) -> None:
    moved = []
    for friction in (0.08, 0.15, 0.3):
        bolts = tuple(b.but(face_friction=friction) for b in flat.bracket.bolts)
        changed = with_inputs(flat, flat.bracket.but(bolts=bolts))
        extra, _ = sliding(changed, stuck_state(changed), [case_named(changed, "couple +")], 100.0)
        moved.append(abs(extra.casing[5, 0]))
    assert moved[0] >= moved[1] * (1 - 1e-6) >= moved[2] * (1 - 2e-6)
    assert moved[0] > 1.2 * moved[2]


def test_a_slipping_bracket_says_so_and_counts_its_lash(flat: Solved) -> None:
    held, gone = check_all(flat, 2.0), check_all(flat, 200.0)
    turn = {
        name: next(c for c in check.checks if c.name == "turn")
        for name, check in (("held", held), ("gone", gone))
    }
    assert held.slid == frozenset()
    assert gone.slid
    assert "lash" not in turn["held"].note
    assert "lash" in turn["gone"].note
    assert turn["gone"].demand > flat.lash_deg / 2.0
    moved = next(c for c in gone.checks if c.name == "movement")
    assert moved.case.endswith(", and lash")
    assert all("lash" not in c.case for c in held.checks)


def test_a_couple_beyond_friction_along_a_free_motion_is_answered(in_line: Solved) -> None:
    """Nothing ends that sliding: there is no state to check, but the bolts that slip are named."""
    with pytest.raises(SolverError):
        sliding(in_line, stuck_state(in_line), [case_named(in_line, "couple +")], 60.0)
    checked = check_all(in_line, 60.0)
    assert checked.slid == {"c1", "a1", "c2", "a2"}
    assert next(c for c in checked.checks if c.name == "turn").demand == float("inf")
    assert not any(c.taken == "sliding" and c.case.name == "couple +" for c in checked.load.columns)


@pytest.mark.parametrize("couple", [30.0, 100.0])
def test_no_state_is_told_in_which_nothing_comes_to_rest(couple: float) -> None:
    """The casing swings about one bolt: a hair beyond friction the search ends somewhere far away."""
    swings = bolt_group([(0, 50)], size="M8", hole_mm=9, pad_mm=16, thickness_mm=16)
    checked = check_all(solved_once(swings, 20.0), couple)
    assert checked.slid == {"c1", "c2", "g1"}
    assert not any(c.taken == "sliding" and np.abs(m).max() > 1000.0 for c, m in _moved(checked.load))


def _moved(load: Loaded) -> list[tuple[Column, np.ndarray]]:
    return list(zip(load.columns, load.casing.T, strict=True))
