"""Reversing fatigue: what swings, how far, and when it decides."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from geometry.bolt_tables import bolt_size
from geometry.bracket import Bracket
from geometry.findings import findings_of
from geometry.fixing import Spacer
from geometry.loads import Fatigue, Limits, TorqueCount
from solver.fatigue import (
    EDGE,
    ROUGH_EDGE,
    _through_spacer,
    edge_category,
    fatigue_checks,
    most_swung,
    swinging_of,
)
from solver.fatigue_curve import GAMMA_MF, cycles_borne, effective_range, range_borne
from solver.holds_to import holds_to
from solver.results import Check
from solver.solved import Solved, with_inputs
from solver.swinging import Swinging
from tests.brackets import one_piece, solved_once


@pytest.fixture(scope="module")
def whole() -> Solved:
    """A plate without mass on it: the stress swings about nought."""
    return solved_once(one_piece(mass_kg=0.0))


def _named(checks: list[Check], name: str) -> Check:
    return next(check for check in checks if check.name == name)


def _with(whole: Solved, **loads: object) -> Solved:
    return replace(whole, bracket=whole.bracket.but(loads=whole.bracket.loads.but(**loads)))


def test_a_swing_about_nought_counts_for_sixteen_tenths_of_its_reach(whole: Solved) -> None:
    """By another way: principal stresses of the couple's own field, straight from the plate's modes."""
    state = next(s for s in whole.states if s.taken == "stuck")
    case = next(c for c in whole.cases if c.name == "couple +")
    survey = whole.surveys[0]
    field = survey.modes @ (state.amounts[0] @ (case.per_couple / whole.bracket.loads.couple_factor * 30.0))
    xx, yy, zz, yz, xz, xy = field.reshape(-1, 6).T
    tensors = np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]]).transpose(2, 0, 1)
    reach = np.abs(np.linalg.eigvalsh(tensors)).max()
    found = _named(fatigue_checks(whole, 30.0), "fatigue, plate")
    # the plate's own weight is what it swings about here
    assert found.demand == pytest.approx(1.6 * reach, rel=0.04)


def test_net_sections_swing_by_the_worst_of_their_four_corners(whole: Solved) -> None:
    """Category 90, a plate with a hole: EN 1993-1-9 table 8.1 (from memory, to be verified)."""
    found = _named(fatigue_checks(whole, 30.0), "fatigue at holes, plate")
    assert found.allowable == pytest.approx(range_borne(90.0 / GAMMA_MF, 200_000))
    case = next(c for c in whole.cases if c.name == "couple +")
    couple = case.per_couple / whole.bracket.loads.couple_factor * 30.0
    reach = max(
        float(np.abs(section.parts[:3] @ (state.amounts[0] @ couple)).sum())
        for state in whole.states
        if state.taken == "stuck"
        for section in whole.sections
    )
    assert found.demand == pytest.approx(1.6 * reach, rel=0.04)


def test_twice_the_couple_swings_twice_as_far(whole: Solved) -> None:
    once, twice = fatigue_checks(whole, 20.0), fatigue_checks(whole, 40.0)
    for check in once:
        assert _named(twice, check.name).demand == pytest.approx(2.0 * check.demand, rel=0.02)


def test_bolts_swing_alike_whichever_way_the_couple_is_counted_first(whole: Solved) -> None:
    """Where a couple one way presses a bolt it pulls it the other way: half a swing must not be lost."""
    other = tuple(replace(state, local=-state.local) for state in whole.states)
    here, there = (
        next(s for s in swinging_of(solved) if s.name == "fatigue of bolts")
        for solved in (whole, replace(whole, states=other))
    )
    assert here.per_nm.max() > 0.0
    assert there.per_nm == pytest.approx(here.per_nm, rel=1e-12)


def test_one_couple_is_held_to_the_range_borne_so_often(whole: Solved) -> None:
    million = _with(whole, fatigue=Fatigue(full_cycles=1_000_000))
    check = _named(fatigue_checks(million, 30.0), "fatigue, plate")
    assert check.allowable == pytest.approx(range_borne(ROUGH_EDGE / GAMMA_MF, 1e6))


def test_a_spectrum_is_held_to_a_damage_sum_of_one(whole: Solved) -> None:
    """The same count split over two equal entries bears the same; what is used is linear in stress."""
    split = Fatigue(spectrum=(TorqueCount(torque_nm=300, count=400_000),) * 2)
    single = Fatigue(spectrum=(TorqueCount(torque_nm=300, count=800_000),))
    one, two = (fatigue_checks(_with(whole, fatigue=f), 30.0) for f in (single, split))
    for check in one:
        assert _named(two, check.name).used == pytest.approx(check.used, rel=1e-6)


def test_many_reversals_fail_what_bears_the_couple_once(whole: Solved) -> None:
    plate = _named(fatigue_checks(whole, 30.0), "fatigue, plate")
    assert plate.used < 0.8
    torque = 1.2 * 30.0 * range_borne(ROUGH_EDGE / GAMMA_MF, 1e8) / plate.demand
    often = Fatigue(spectrum=(TorqueCount(torque_nm=torque, count=1_000_000_000),))
    assert _named(fatigue_checks(_with(whole, fatigue=often), 30.0), "fatigue, plate").used > 1.0


def test_holds_to_ends_where_the_life_ends(whole: Solved) -> None:
    """Swings about nought grow as the couple: at the end of the life it is the couple over what that uses."""
    grip = tuple(b.but(preload_n=(20_000, 20_000), face_friction=1.0) for b in whole.bracket.bolts)
    loose = Limits(turn_deg=50, movement_mm=500, pull_movement_mm=500)
    held = with_inputs(whole, whole.bracket.but(bolts=grip, limits=loose))
    many = _with(held, fatigue=Fatigue(full_cycles=1_000_000_000))
    couple, ended_by = holds_to(many, {})
    most = max(fatigue_checks(many, 30.0), key=lambda c: c.used)
    assert couple == pytest.approx(30.0 / most.used, rel=1e-3)
    assert ended_by == f"what bears the reversals ends: {most.name}"
    # fewer turns of the wheel bear more, until something else ends it
    few, ended_by = holds_to(_with(held, fatigue=Fatigue(full_cycles=1)), {})
    assert few > couple
    assert "reversals" not in ended_by
    # the couples of a list stay, whatever else is asked
    listed = _with(held, fatigue=Fatigue(spectrum=(TorqueCount(torque_nm=30, count=10),)))
    assert holds_to(listed, {}) == (few, ended_by)


def test_how_edges_are_cut_decides_their_category() -> None:
    plate = one_piece().plates[0]
    assert edge_category(plate) == ROUGH_EDGE
    assert edge_category(plate.but(cut_by="laser")) == EDGE
    assert edge_category(plate.but(cut_by="shear")) == ROUGH_EDGE
    assert edge_category(one_piece(folded=True).plates[0].but(cut_by="laser")) == ROUGH_EDGE


@pytest.mark.parametrize("metal", ["6061-T6", "1.4301"])
def test_other_metals_are_never_judged_by_steels_curve(whole: Solved, metal: str) -> None:
    bracket: Bracket = one_piece()
    other = bracket.with_plate(bracket.plates[0].but(material=metal))
    found = [f for f in findings_of(other) if f.code == "fatigue-no-curve"]
    assert [f.severity for f in found] == ["rule"]
    soft = replace(whole.plates[0], metal=replace(whole.plates[0].metal, kind="aluminium"))
    names = {check.name for check in fatigue_checks(replace(whole, plates=(soft,)), 30.0)}
    assert names == {"fatigue of bolts", "fatigue of dash bar"}


def test_fewer_reversals_than_usual_and_a_mild_spectrum_are_told() -> None:
    bracket = one_piece()
    few = bracket.but(loads=bracket.loads.but(fatigue=Fatigue(full_cycles=1000)))
    assert "fatigue-fewer" in {f.code for f in findings_of(few)}
    mild = Fatigue(spectrum=(TorqueCount(torque_nm=5, count=10),))
    listed = bracket.but(loads=bracket.loads.but(fatigue=mild))
    assert "fatigue-spectrum-mild" in {f.code for f in findings_of(listed)}


def test_nothing_swings_without_a_couple(whole: Solved) -> None:
    assert fatigue_checks(whole, 0.0) == []
    assert effective_range(0.0, 0.0) == 0.0
    assert cycles_borne(100.0, 0.0) == np.inf


def test_the_place_that_swings_most_is_followed_however_the_plate_stands() -> None:
    """100 MPa at a slant has no component above 100 / 3; many places of 60 MPa along X swing less."""
    way = np.full(3, 3.0**-0.5)
    slant = 100.0 * np.outer(way, way)
    stress = np.zeros((200, 6))
    stress[:, 0] = 60.0
    stress[150] = [slant[i, j] for i, j in ((0, 0), (1, 1), (2, 2), (1, 2), (0, 2), (0, 1))]
    assert np.abs(stress[150]).max() == pytest.approx(100.0 / 3.0)
    assert most_swung(stress)[0] == 150


def test_those_that_swing_most_are_those_of_all_places_asked() -> None:
    rng = np.random.default_rng(8)
    stress = rng.normal(size=(3000, 6)) * rng.lognormal(size=(3000, 1))
    largest = np.abs(np.linalg.eigvalsh(np.array([_tensor(row) for row in stress]))).max(axis=1)
    assert most_swung(stress).tolist() == np.argsort(-largest)[:60].tolist()
    assert sorted(most_swung(stress[:7]).tolist()) == list(range(7))


def _tensor(row: NDArray[np.float64]) -> NDArray[np.float64]:
    xx, yy, zz, yz, xz, xy = row
    return np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]])


def test_of_a_spectrum_the_place_it_spends_most_of_governs(whole: Solved) -> None:
    """One swings more at 30 N.m; the other, about a pull, more at the 10 N.m that come five million times."""
    spectrum = (TorqueCount(torque_nm=30, count=1000), TorqueCount(torque_nm=10, count=5_000_000))

    def judged(*rows: int) -> Check:
        swing, mean = np.array([4.0, 3.4])[list(rows)], np.array([0.0, 34.0])[list(rows)]
        swinging = Swinging("fatigue, plate", EDGE, swing, mean, tuple("ab"[row] for row in rows), "")
        changed = _with(whole, fatigue=Fatigue(spectrum=spectrum))
        changed.__dict__["swinging"] = (swinging,)
        return fatigue_checks(changed, 30.0)[0]

    alone = [judged(0), judged(1)]
    assert alone[0].demand > alone[1].demand
    assert alone[0].used < alone[1].used
    both = judged(0, 1)
    assert both.where == "b"
    assert both.used == pytest.approx(alone[1].used)


def _swing_of_bolts(bracket: Bracket) -> dict[str, float]:
    (found,) = (s for s in swinging_of(solved_once(bracket, 20.0)) if s.name == "fatigue of bolts")
    return dict(zip(found.where, found.per_nm.tolist(), strict=True))


def _on_spacers(outer_mm: float, material: str = "S235") -> Bracket:
    """Return the one piece on spacers of 10 mm at its bosses, which stand as much farther back."""
    bracket = one_piece()
    assert bracket.casing is not None
    spacer = Spacer(outer_mm=outer_mm, inner_mm=9, length_mm=10, material=material)
    bosses = tuple(b.but(at_mm=(*b.at_mm[:2], -10.0)) for b in bracket.casing.bosses)
    bolts = tuple(b.but(spacer=spacer) if b.joins.to == "boss" else b for b in bracket.bolts)
    return bracket.but(casing=bracket.casing.but(bosses=bosses), bolts=bolts)


def test_a_thin_or_soft_spacer_leaves_more_of_the_swing_to_the_bolt() -> None:
    """A fifth of a pull is what comes onto bolts of sheets that lie on one another, not through a tube."""
    stout, thin = _swing_of_bolts(_on_spacers(22.0)), _swing_of_bolts(_on_spacers(12.0))
    soft = _swing_of_bolts(_on_spacers(12.0, "6061-T6"))
    for name in ("bolt 1", "bolt 2", "bolt 3"):
        assert thin[name] > 1.5 * stout[name]
        assert soft[name] > 1.2 * thin[name]


def test_bolt_and_spacer_share_a_pull_and_a_moment_by_hand() -> None:
    """M8 in a tube 12 x 9: 50.3 mm2 beside 49.5, so half of a pull; it bends by its core of 6.83 mm."""
    size = bolt_size("M8")
    spacer = Spacer(outer_mm=12, inner_mm=9, length_mm=20)
    assert _through_spacer(size, spacer, 210e3, 1000.0, 0.0) == pytest.approx(
        50.27 / (50.27 + 49.48) * 1000 / 36.6, rel=1e-3
    )
    second = math.pi / 64 * (6.826**4 + 12**4 - 9**4)
    assert _through_spacer(size, spacer, 210e3, -500.0, 5000.0) == pytest.approx(
        5000 * 3.413 / second, rel=1e-3
    )
    assert _through_spacer(size, spacer, 70e3, 1000.0, 0.0) == pytest.approx(
        50.27 / (50.27 + 49.48 / 3) * 1000 / 36.6, rel=1e-3
    )
