"""A dash bar under the couple's reversals, and one of aluminium beside its welds."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.casing import Bearing, Column
from geometry.findings import findings_of
from geometry.fixing import BarEnd, BarStay, DashBar, RectangularTube, Washer
from geometry.loads import Fatigue
from solver.bar_welds import AT_END, BOLTED, ONTO_BAR, softened_bar
from solver.checking import check_all
from solver.dash_bar import bar_model, bar_stress_mpa, node_stress_mpa, stress_near_mpa
from solver.evaluation import loaded
from solver.fatigue_curve import GAMMA_MF, range_borne
from solver.results import Check
from solver.solved import Solved
from solver.verdict import failures
from solver.weld_throat import SOFTENED, SOFTENED_MM
from tests.brackets import WELDED, one_piece, solved_once, welded_strip

SOFT = Column(
    held_by="bearings",
    bearings=(
        Bearing(name="lower", station_mm=-200, stiffness_n_per_mm=(1_000, 1_000)),
        Bearing(name="upper", station_mm=300, stiffness_n_per_mm=(1_000, 1_000)),
    ),
)
TUBE = RectangularTube(width_mm=10, height_mm=20, wall_mm=1)
COUPLE_NM = 20.0
NAME = "fatigue of dash bar"


def _bracket(
    material: str = "S355", ends: tuple[BarEnd, BarEnd] = (WELDED, WELDED), **bar: object
) -> Bracket:
    """One plate on a short slender bar that springs from both sides."""
    bracket = one_piece(couple_nm=COUPLE_NM, thickness_mm=8, column=SOFT)
    assert bracket.dash_bar is not None
    up = bracket.dash_bar.from_mm[1]
    small = {"pad_diameter_mm": 14, "washer": Washer(outer_mm=14, inner_mm=8.4, thickness_mm=2)}
    return bracket.but(
        dash_bar=bracket.dash_bar.but(
            from_mm=(-80, up, 18), to_mm=(80, up, 18), section=TUBE, material=material, ends=ends, **bar
        ),
        bolts=tuple(b if b.joins.to == "boss" else b.but(**small) for b in bracket.bolts),
    )


@pytest.fixture(scope="module")
def steel() -> Solved:
    return solved_once(_bracket(), 20.0)


def _checks(solved: Solved) -> dict[str, Check]:
    return {check.name: check for check in check_all(solved, COUPLE_NM, slide=False).checks}


def test_the_bar_swings_to_and_fro_by_its_own_stress_under_the_couple(steel: Solved) -> None:
    """By another way: the stress of the load case `as measured`, both ways."""
    check = _checks(steel)[NAME]
    load = loaded(steel.states, steel.cases, COUPLE_NM)
    columns = [i for i, c in enumerate(load.columns) if c.case.kind == "as measured" and c.taken == "stuck"]
    assert load.structure.bar is not None
    at_ends = node_stress_mpa(load.structure.bar, load.bar[:, columns])[[0, -1]]
    assert check.where.endswith("where its end is welded")
    assert check.demand == pytest.approx(2.0 * at_ends.max(), rel=1e-9)
    assert check.allowable == pytest.approx(range_borne(AT_END / GAMMA_MF, 200_000))


def test_a_bar_that_is_reversed_too_often_fails_though_nothing_else_does(steel: Solved) -> None:
    # under the usual pull of a driver its thin wall yields beside the bolts first
    loads = steel.bracket.loads.but(fatigue=Fatigue(full_cycles=20_000_000), pull_n=200.0)
    often = _checks(solved_once(steel.bracket.but(loads=loads), 20.0))
    over = [check for check in often.values() if check.kind != "share" and check.used > 1.0]
    assert [check.name for check in over] == [NAME]
    assert failures(list(often.values()), ())
    assert _checks(steel)[NAME].used < 1.0


def test_what_is_not_welded_bears_more() -> None:
    pinned = BarEnd(kind="pinned", seen_by="a test")
    known = BarEnd(kind="stiffness", bending_nm_per_deg=(50, 50), seen_by="a test")
    stay = BarStay(station_mm=55, direction=(0, 1, 0), stiffness_n_per_mm=(500, 500), seen_by="a test")
    bracket = _bracket(ends=(pinned, known), stays=(stay,))
    swinging = [s for s in solved_once(bracket, 20.0).swinging if s.name == NAME]
    found = {s.category_mpa: s.where for s in swinging}
    assert set(found) == {AT_END, ONTO_BAR, BOLTED}
    assert [where.split(",")[1] for where in found[AT_END]] == [" 160 mm from its start"]
    assert [where.split(",")[1] for where in found[ONTO_BAR]] == [" 55 mm from its start"]
    assert found[BOLTED][0].startswith("dash bar, 0 mm")


@pytest.mark.parametrize("material", ["6061-T6", "1.4301"])
def test_a_bar_without_a_curve_is_told_and_not_judged(material: str) -> None:
    bracket = _bracket(material)
    assert [f.where for f in findings_of(bracket) if f.code == "fatigue-no-curve"] == ["dash bar"]
    assert not [f for f in findings_of(_bracket()) if f.code == "fatigue-no-curve"]
    assert NAME not in _checks(solved_once(bracket, 20.0))


def test_a_bar_of_aluminium_is_soft_beside_its_welds(steel: Solved) -> None:
    """EN 1999-1-1 6.1.6 and table 3.2a, from memory, to be verified."""
    checks = _checks(solved_once(_bracket("6061-T6"), 20.0))
    soft, whole = checks["softened dash bar"], checks["dash bar"]
    assert soft.allowable == pytest.approx(SOFTENED * whole.allowable)
    assert 0.0 < soft.demand <= whole.demand * (1.0 + 1e-12)
    assert "softened dash bar" not in _checks(steel)
    pinned = BarEnd(kind="pinned", seen_by="a test")
    bolted = _bracket("6061-T6", ends=(pinned, pinned))
    assert "softened dash bar" not in _checks(solved_once(bolted, 20.0))


def _with_a_strip_on_it(material: str) -> Solved:
    """A strip of 40 mm welded onto the middle of a bar that is pinned at its ends, 280 to 320 mm along it."""
    pinned = BarEnd(kind="pinned", seen_by="a test")
    section = RectangularTube(width_mm=20, height_mm=20, wall_mm=2)
    bar = DashBar(
        from_mm=(-300, -10, 3), to_mm=(300, -10, 3), section=section, material=material, ends=(pinned, pinned)
    )
    return solved_once(welded_strip(anchor=False).but(dash_bar=bar, anchors=()), 20.0)


def test_a_plate_welded_onto_the_bar_lowers_it_there_and_nowhere_else() -> None:
    """EN 1993-1-9 table 8.4, from memory, to be verified."""
    found = {s.category_mpa: s.where for s in _with_a_strip_on_it("S355").swinging if s.name == NAME}
    assert set(found) == {ONTO_BAR, BOLTED}
    onto, rest = (
        [float(where.split(",")[1].split("mm")[0]) for where in found[category]]
        for category in (ONTO_BAR, BOLTED)
    )
    assert len(onto) > 1
    assert all(280.0 <= at <= 320.0 for at in onto)
    assert not any(280.0 < at < 320.0 for at in rest)


def test_a_bar_of_aluminium_is_soft_beside_a_plate_welded_onto_it() -> None:
    """Within the heat's reach of the weld, EN 1999-1-1 6.1.6 (from memory); pinned ends have no weld."""
    whole = _with_a_strip_on_it("6061-T6")
    load = loaded(whole.states, whole.cases, COUPLE_NM)
    model = load.structure.bar
    assert model is not None
    near = [bool(280.0 - SOFTENED_MM <= at <= 320.0 + SOFTENED_MM) for at in model.stations_mm]
    (soft,) = softened_bar(whole, load)
    there = float(node_stress_mpa(model, load.bar)[near].max())
    assert there * (1.0 - 1e-9) <= soft.demand <= 1.05 * there
    assert 280.0 <= float(soft.where.split("weld ")[1].split(" mm")[0]) <= 320.0


def test_stress_near_a_place_lies_between_that_of_its_neighbours() -> None:
    """A force at the middle of a clamped bar: M = F (L/8 - x/2) from an end (Timoshenko, from memory)."""
    force, length = 100.0, 1000.0
    bar = DashBar(from_mm=(0, 0, 0), to_mm=(length, 0, 0), section=TUBE, ends=(WELDED, WELDED))
    model = bar_model(bar, [length / 2.0], 210_000.0, 0.3)
    way = model.motions[1]
    moved = np.linalg.solve(model.stiffness, way.T @ np.array([0, force, 0, 0, 0, 0]))
    nodes = np.concatenate([motion @ moved for motion in model.motions])[:, None]
    shear = np.sqrt(3.0) * 0.5 * force / model.section.shear_area_2_mm2
    modulus = model.section.second_moment_1_mm4 / 10.0

    def by_hand(x: float) -> float:
        return float(np.hypot(force * abs(length / 8.0 - x / 2.0) / modulus, shear))

    assert node_stress_mpa(model, nodes)[:, 0] == pytest.approx([by_hand(0)] * 3, rel=2e-3)
    assert bar_stress_mpa(model, nodes)[:, 0] == pytest.approx([by_hand(0)] * 2, rel=2e-3)
    # past the middle of a half the moment has changed its sign and grows again
    for at, reach, worst in (
        (0.0, 30.0, 0.0),
        (200.0, 20.0, 180.0),
        (300.0, 20.0, 320.0),
        (700.0, 20.0, 320.0),
    ):
        found = stress_near_mpa(model, nodes, at, reach)[0]
        assert found == pytest.approx(by_hand(worst), rel=2e-3)
