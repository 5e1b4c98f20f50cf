"""What leaves the plates as they were solved, and that the quick path is right wherever it is said to do."""

from __future__ import annotations

import pytest

from geometry.bracket import Bracket
from geometry.fixing import AtBoss, Washer
from geometry.loads import Limits, StatedCouple
from solver.checking import check_quickly
from solver.quick import quick_answer
from solver.same_plates import same_mounting, same_plates
from solver.solved import Solved
from tests.brackets import NO_BEARINGS, one_piece, solved_once
from tests.solver.conftest import COARSE_MM


def bar_moved(bracket: Bracket, x_mm: float, y_mm: float) -> Bracket:
    bar = bracket.dash_bar
    assert bar is not None
    moved = {
        end: (at[0] + x_mm, at[1] + y_mm, at[2]) for end in ("from_mm", "to_mm") for at in [getattr(bar, end)]
    }
    return bracket.but(dash_bar=bar.but(**moved))


def changed(bracket: Bracket, what: str) -> Bracket:
    first, plate, casing = bracket.bolts[0], bracket.plates[0], bracket.casing
    assert casing is not None
    return {
        "title": lambda: bracket.but(title="another"),
        "couple": lambda: bracket.but(loads=bracket.loads.but(couple=StatedCouple(couple_nm=41))),
        "torque": lambda: bracket.with_bolt(first.but(tightening_nm=15)),
        "friction": lambda: bracket.with_bolt(first.but(face_friction=0.1)),
        "limits": lambda: bracket.but(limits=Limits(yield_factor=2)),
        "column": lambda: bracket.but(column=NO_BEARINGS),
        "dash bar along itself": lambda: bar_moved(bracket, 70, 0),
        "casing's mass": lambda: bracket.but(casing=casing.but(mass_kg=9)),
        "rake": lambda: bracket.but(rake_deg=10),
        "outline": lambda: bracket.with_plate(plate.but(outline=plate.outline[:-1])),
        "thickness": lambda: bracket.with_plate(plate.but(thickness_mm=5)),
        "material": lambda: bracket.with_plate(plate.but(material="S355")),
        "hole moved": lambda: bracket.with_plate(
            plate.with_opening(plate.openings[0].but(centre_mm=(-30, 17)))
        ),
        "washer": lambda: bracket.with_bolt(
            first.but(washer=Washer(outer_mm=24, inner_mm=9, thickness_mm=2))
        ),
        "size": lambda: bracket.with_bolt(first.but(size="M6")),
        "pad": lambda: bracket.with_bolt(bracket.bolts[4].but(pad_diameter_mm=26)),
        "boss metal": lambda: bracket.but(
            casing=casing.but(bosses=(casing.bosses[0].but(metal="steel"), *casing.bosses[1:]))
        ),
        "boss joined": lambda: bracket.with_bolt(first.but(joins=AtBoss(boss="2"))),
        "bolt gone": lambda: bracket.without_bolt(first.name),
        "bolts in another order": lambda: bracket.but(bolts=bracket.bolts[::-1]),
        "casing on the other side": lambda: bracket.but(casing=casing.but(station_mm=20)),
    }[what]()


QUICK = (
    "title", "couple", "torque", "friction", "limits", "column", "dash bar along itself", "casing's mass",
    "rake",
)  # fmt: skip
NOT_QUICK = (
    "outline", "thickness", "material", "hole moved", "washer", "size", "pad", "boss metal", "boss joined",
    "bolt gone", "bolts in another order", "casing on the other side",
)  # fmt: skip


@pytest.mark.parametrize("what", QUICK)
def test_plates_stay_as_they_are(what: str) -> None:
    bracket = one_piece()
    assert changed(bracket, what) != bracket
    assert same_plates(bracket, changed(bracket, what))


@pytest.mark.parametrize("what", [*QUICK, *NOT_QUICK])
def test_mounting_stays_with_loads_limits_and_torque_alone(what: str) -> None:
    bracket = one_piece()
    alike = what in ("title", "couple", "torque", "friction", "limits", "rake")
    assert same_mounting(bracket, changed(bracket, what)) == alike


@pytest.mark.parametrize("what", NOT_QUICK)
def test_plates_are_to_be_solved_again(what: str) -> None:
    bracket = one_piece()
    assert not same_plates(bracket, changed(bracket, what))


@pytest.mark.parametrize("what", ["dash bar along itself", "column", "casing's mass"])
def test_quick_answer_agrees_with_meshing_anew(flat: Solved, what: str) -> None:
    bracket = changed(flat.bracket, what)
    expected = {c.name: c.demand for c in check_quickly(solved_once(bracket, COARSE_MM), 30.0).checks}
    assert {c.name: c.demand for c in quick_answer(flat, bracket).checks} == pytest.approx(expected, rel=1e-6)
    assert {c.name: c.demand for c in quick_answer(flat).checks} != pytest.approx(expected, rel=1e-6)
