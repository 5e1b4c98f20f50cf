"""Plates kept from one analysis to the next give the same figures as solving anew."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from geometry.bracket import Bracket
from geometry.placing import BoltPlace, place_bolts
from geometry.solid_mesh import SolidMesh
from solver import kept_plates, mesh_stage
from solver.analyse import analyse_in_turn
from solver.kept_plates import KeptPlates
from solver.mesh_stage import MeshedPlate, first_mesh, meshed_plate
from solver.results import Results
from tests.brackets import STIFF_BEARINGS, straps


def _count(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    meshed: list[str] = []
    real = kept_plates.first_mesh

    def counted(plate, places, welds):  # noqa: ANN001, ANN202 - as the real one
        meshed.append(plate.name)
        return real(plate, places, welds)

    monkeypatch.setattr(kept_plates, "first_mesh", counted)
    return meshed


def _other_loads(bracket: Bracket) -> Bracket:
    return bracket.but(loads=bracket.loads.but(pull_n=123.0, weight_g=1.0))


def test_other_loads_mesh_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    meshed = _count(monkeypatch)
    kept, bracket = KeptPlates(), straps("side by side")
    one = kept.first(bracket, place_bolts(bracket))
    other = _other_loads(bracket)
    two = kept.first(other, place_bolts(other))
    assert len(meshed) == len(bracket.plates) == 2
    assert all(a.condensed.modes is b.condensed.modes for a, b in zip(one, two, strict=True))


def test_one_plate_changed_is_the_one_that_is_meshed(monkeypatch: pytest.MonkeyPatch) -> None:
    meshed = _count(monkeypatch)
    kept, bracket = KeptPlates(), straps("side by side")
    kept.first(bracket, place_bolts(bracket))
    meshed.clear()
    plate = bracket.plates[1]
    other = bracket.with_plate(plate.but(thickness_mm=plate.thickness_mm + 1.0))
    kept.first(other, place_bolts(other))
    assert meshed == [plate.name]


CHANGES: dict[str, Callable[[Bracket], Bracket]] = {
    "washer": lambda b: b.but(bolts=tuple(bolt.but(washer="none") for bolt in b.bolts)),
    "metal": lambda b: b.but(
        casing=b.casing.but(bosses=tuple(boss.but(metal="cast iron") for boss in b.casing.bosses))
    ),
    "yield factor": lambda b: b.but(limits=b.limits.but(yield_factor=1.7)),
    "material": lambda b: b.but(plates=tuple(p.but(material="S355") for p in b.plates)),
    "hole": lambda b: b.but(
        plates=tuple(
            p.with_opening(p.openings[0].but(diameter_mm=p.openings[0].diameter_mm + 0.1)) for p in b.plates
        )
    ),
}


@pytest.mark.parametrize("changed", sorted(CHANGES))
def test_what_a_plate_is_made_from_is_solved_anew(changed: str, monkeypatch: pytest.MonkeyPatch) -> None:
    solved = _pretend(monkeypatch)
    kept, bracket = KeptPlates(), straps("side by side")
    kept.first(bracket, place_bolts(bracket))
    other = CHANGES[changed](bracket)
    assert other != bracket
    solved.clear()
    kept.first(other, place_bolts(other))
    assert solved == [p.name for p in bracket.plates]


def test_an_analysis_factors_only_what_has_changed(monkeypatch: pytest.MonkeyPatch) -> None:
    factored: list[str] = []
    real = mesh_stage.hold_plate

    def counted(bracket, plate, mesh, *given):  # noqa: ANN001, ANN002, ANN202 - as the real one
        factored.append(plate.name)
        return real(bracket, plate, mesh, *given)

    monkeypatch.setattr(mesh_stage, "hold_plate", counted)
    kept, bracket = KeptPlates(), straps("side by side", column=STIFF_BEARINGS)
    anew = _ink(bracket, kept)
    # once coarse, once refined, once as thin as its sheet may be
    assert sorted(factored) == ["strap 1"] * 3 + ["strap 2"] * 3
    factored.clear()
    assert _figures(_ink(bracket, kept)) == _figures(anew)
    tighter = bracket.but(bolts=tuple(b.but(tightening_nm=24.0) for b in bracket.bolts))
    assert _ink(tighter, kept).accuracy.unknowns == anew.accuracy.unknowns
    assert not factored
    first, second = bracket.plates
    longer = bracket.but(plates=(first.but(thickness_mm=first.thickness_mm + 1.0), second))
    _ink(longer, kept)
    # What the other carries has changed a little: its first mesh stays, its refined one only if the error
    # stands where it stood.
    assert factored.count("strap 1") == 3
    assert factored.count("strap 2") <= 1


def _ink(bracket: Bracket, kept: KeptPlates) -> Results:
    return list(analyse_in_turn(bracket, kept=kept))[-1].results


def _figures(results: Results) -> list[tuple[str, float]]:
    return [(check.name, check.demand) for check in results.checks]


def test_of_three_plates_the_changed_one_alone_is_solved(monkeypatch: pytest.MonkeyPatch) -> None:
    solved = _pretend(monkeypatch)
    kept, two = KeptPlates(), straps("side by side")
    bracket = two.but(plates=(*two.plates, two.plates[1].but(name="strap 3")))
    kept.first(bracket, place_bolts(bracket))
    assert solved == ["strap 1", "strap 2", "strap 3"]
    solved.clear()
    first, second, third = bracket.plates
    longer = bracket.but(plates=(first, second.but(thickness_mm=second.thickness_mm + 1.0), third))
    kept.first(longer, place_bolts(longer))
    assert solved == ["strap 2"]


def test_few_are_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    solved = _pretend(monkeypatch)
    kept, bracket = KeptPlates(first=2), straps("side by side")
    thicker = bracket.but(plates=tuple(p.but(thickness_mm=p.thickness_mm + 1) for p in bracket.plates))
    for one in (bracket, thicker, bracket):
        kept.first(one, place_bolts(one))
    assert len(solved) == 6


def _pretend(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Count the plates that are solved, solving none but the first."""
    solved: list[str] = []
    real: list[MeshedPlate] = []

    def pretended(
        bracket: Bracket, index: int, mesh: SolidMesh, places: Sequence[BoltPlace], *, study: bool
    ) -> MeshedPlate:
        assert study
        solved.append(bracket.plates[index].name)
        if not real:
            real.append(meshed_plate(bracket, index, mesh, places))
        return real[0]

    bracket = straps("side by side")
    mesh = first_mesh(bracket.plates[0], place_bolts(bracket))
    monkeypatch.setattr(kept_plates, "first_mesh", lambda *_: mesh)
    monkeypatch.setattr(kept_plates, "meshed_plate", pretended)
    return solved
