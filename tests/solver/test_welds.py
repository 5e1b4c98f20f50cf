"""Welds in the whole analysis: held in every state, judged beside, softened, kept, and one side alone."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.fit_up import FitUp
from geometry.fixing import Anchor, AtAnchor
from geometry.footprint import JUDGED_BEYOND
from geometry.placing import footprints_of, place_bolts
from geometry.plate import Hole, Placement
from geometry.plate_mesh import mesh_plate
from geometry.weld import AtPlate
from geometry.weld_mark import weld_marks
from solver.checking import check_all, check_quickly
from solver.fatigue_curve import cycles_borne, range_borne
from solver.fit_up_checks import fit_up_checks
from solver.free_motions import null_motions
from solver.kept_plates import KeptPlates
from solver.results import Check
from solver.solved import Solved
from solver.weld_forces import segment_wrenches
from tests.brackets import WEIGHTLESS_STEEL, WORD, bolt, linked, rectangle, solved_once, welded_strip

COUPLE_NM = 30.0


def _on_base() -> Bracket:
    """Return the welded strip on a thick stiff base that four bolts hold to anchors, instead of on one."""
    strip = welded_strip()
    places = [(x, z) for x in (-60.0, 60.0) for z in (-60.0, 66.0)]
    holes = [Hole(name=f"b{i}", centre_mm=at, diameter_mm=9) for i, at in enumerate(places, 1)]
    stiff = WEIGHTLESS_STEEL.but(name="stiff", elastic_modulus_mpa=210_000_000.0, poisson=0.0)
    base = rectangle(
        "base", (-80, 80), (-80, 86), holes, 20.0, "stiff",
        placement=Placement(origin_mm=(0, 0, 0), x_axis=(1, 0, 0), y_axis=(0, 0, 1), origin_on="back"),
    )  # fmt: skip
    (weld,) = strip.welds
    return strip.but(
        materials=(*strip.materials, stiff),
        plates=(*strip.plates, base.but(placement=base.placement.but(origin_mm=(0, 0, 0)))),
        welds=(weld.but(joins=AtPlate(plate="base")),),
        anchors=tuple(Anchor(name=f"b{i}", word=WORD) for i in range(1, 5)),
        bolts=(*strip.bolts, *(bolt(f"b{i}", "base", AtAnchor(anchor=f"b{i}")) for i in range(1, 5))),
    )


def _check(whole: Solved, name: str, couple_nm: float = COUPLE_NM) -> Check:
    return next(c for c in check_all(whole, couple_nm).checks if c.name == name)


def test_a_weld_alone_leaves_nothing_free() -> None:
    linkage, _ = linked(welded_strip())
    assert null_motions(linkage).shape[1] == 0
    loose, _ = linked(welded_strip().but(welds=()))
    assert null_motions(loose, stuck=True).shape[1] > 0


def test_every_state_carries_the_same_through_the_only_weld() -> None:
    states = solved_once(welded_strip()).states
    assert {state.taken for state in states} == {"stuck", "all slipped"}
    whole = [segment_wrenches(s.structure, s.amounts)[:, :3].sum(axis=0) for s in states]
    assert np.allclose(whole[0], whole[1], atol=1e-6)


def test_a_plate_floats_on_its_bodies_with_six_motions() -> None:
    for plate in solved_once(_on_base()).plates:
        values = np.linalg.eigvalsh(plate.stiffness)
        assert np.abs(values[:6]).max() < 1e-9 * values[-1] < values[6]


def test_a_base_too_stiff_to_bend_holds_as_an_anchor_does() -> None:
    on_base, on_anchor = solved_once(_on_base(), 4.0), solved_once(welded_strip(), 4.0)
    turns = [np.diag(w.states[0].response.casing[3:, 3:6]) for w in (on_base, on_anchor)]
    # The anchor's own give at the root, 0.4 t of metal, is the whole difference: some 6 % of this strip.
    assert np.all(turns[0] < turns[1])
    assert turns[0][0] == pytest.approx(turns[1][0], rel=0.10)


def test_stress_is_judged_from_a_line_beyond_the_toe() -> None:
    bracket = welded_strip()
    (mark,) = weld_marks(bracket, 0)
    assert mark.judged_mm == pytest.approx(4.0 * 2**0.5 + JUDGED_BEYOND * 6.0)
    whole = solved_once(bracket)
    flat = whole.plates[0].mesh.flat_points[whole.surveys[0].nodes]
    assert flat[:, 1].min() == pytest.approx(mark.judged_mm, abs=1e-6)
    assert "beside weld foot" in whole.surveys[0].where(int(flat[:, 1].argmin()))


def test_the_edge_is_cut_where_the_parts_of_the_weld_end() -> None:
    bracket = welded_strip()
    footprints = footprints_of(place_bolts(bracket), "strip")
    mesh = mesh_plate(bracket.plates[0], footprints, welds=weld_marks(bracket, 0))
    along = mesh.flat_points[np.abs(mesh.flat_points[:, 1]) < 1e-9, 0]
    for cut in np.linspace(-20.0, 20.0, 5):
        assert np.abs(along - cut).min() < 1e-6


def test_one_side_alone_is_used_harder() -> None:
    both = _check(solved_once(welded_strip()), "weld foot")
    one = _check(solved_once(welded_strip(sides="front")), "weld foot")
    assert one.demand > 2.0 * both.demand
    assert "4.12" in one.note


def test_weaker_weld_metal_lowers_what_is_allowed() -> None:
    usual = _check(solved_once(welded_strip()), "weld foot")
    weak = _check(solved_once(welded_strip(metal_tensile_mpa=300.0)), "weld foot")
    assert weak.allowable == pytest.approx(usual.allowable * 300.0 / 410.0)


def test_aluminium_is_soft_beside_its_weld() -> None:
    strip = welded_strip()
    made = strip.but(
        materials=(*strip.materials, strip.materials[0].but(name="own aluminium", kind="aluminium",
                   elastic_modulus_mpa=70_000.0, yield_mpa=240.0, tensile_mpa=290.0)),
        plates=tuple(p.but(material="own aluminium") for p in strip.plates),
    )  # fmt: skip
    whole = solved_once(made)
    soft, plain = _check(whole, "softened beside welds, strip"), _check(whole, "stress, strip")
    assert soft.allowable == pytest.approx(0.48 * plain.allowable)
    assert _check(whole, "weld foot").allowable == pytest.approx(0.55 * 290.0 / 1.25)
    assert not [c for c in check_all(whole, COUPLE_NM).checks if c.name.startswith("fatigue at")]


def test_root_toe_and_shear_are_checked_for_fatigue() -> None:
    whole = solved_once(welded_strip())
    checks = {c.name: c for c in check_all(whole, COUPLE_NM).checks}
    root, toe = checks["fatigue at the root of weld foot"], checks["fatigue at the toe of weld foot"]
    assert "category 36" in root.source
    assert "category 71" in toe.source
    assert "fatigue in shear of weld foot" in checks
    assert "fatigue beside welds, strip" in checks
    # The couple lies in the strip's plane: 6 M / L2 over two throats, to and fro, a throat off either end.
    by_hand = 2.0 * 6.0 * COUPLE_NM * 1000.0 / (40.0 - 2.0 * 4.0) ** 2 / (2.0 * 4.0)
    assert by_hand < root.demand < 1.3 * by_hand


def test_shear_has_slope_five_throughout() -> None:
    assert cycles_borne(80.0, 80.0, shear=True) == pytest.approx(2e6)
    assert cycles_borne(80.0, 160.0, shear=True) == pytest.approx(2e6 / 32.0)
    assert np.isinf(cycles_borne(80.0, 36.0, shear=True))
    assert range_borne(80.0, 2e6 / 32.0, shear=True) == pytest.approx(160.0)


def test_quick_checks_look_at_welds_too() -> None:
    names = {c.name for c in check_quickly(solved_once(welded_strip()), COUPLE_NM).checks}
    assert {"weld foot", "section at weld foot"} <= names


def test_fit_up_starts_without_force_at_a_weld() -> None:
    whole = solved_once(_on_base().but(fit_up=FitUp()))
    assert all(np.isfinite(c.used) for c in fit_up_checks(whole))


CHANGES: dict[str, Callable[[Bracket], Bracket]] = {
    "throat": lambda b: b.with_weld(b.welds[0].but(throat_mm=3.0)),
    "sides": lambda b: b.with_weld(b.welds[0].but(sides="back")),
    "length": lambda b: b.with_weld(b.welds[0].but(to_mm=(15.0, 0.0))),
}


@pytest.mark.parametrize("changed", sorted(CHANGES))
def test_a_changed_weld_is_solved_anew(changed: str) -> None:
    kept, bracket = KeptPlates(), welded_strip()
    before = kept.first(bracket, place_bolts(bracket))
    again = kept.first(bracket, place_bolts(bracket))
    other = CHANGES[changed](bracket)
    after = kept.first(other, place_bolts(other))
    assert again[0].condensed.modes is before[0].condensed.modes
    assert after[0].condensed.modes is not before[0].condensed.modes


def test_who_saw_it_solves_nothing_anew() -> None:
    kept, bracket = KeptPlates(), welded_strip()
    before = kept.first(bracket, place_bolts(bracket))
    seen = bracket.with_weld(bracket.welds[0].but(seen_by="another"))
    assert kept.first(seen, place_bolts(seen))[0].condensed.modes is before[0].condensed.modes
