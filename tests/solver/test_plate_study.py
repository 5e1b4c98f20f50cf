"""A plate's study is worked out once, when it is first asked for, and again from a new factor if need be."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver import plate_study
from solver.analyse import analyse_in_turn
from solver.kept_plates import KeptPlates
from solver.mesh_stage import MeshedPlate
from tests.brackets import one_piece


@pytest.fixture
def bracket() -> Bracket:
    return one_piece()


@pytest.fixture
def studies(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The plates that were studied, by number."""
    done: list[int] = []
    work = plate_study.PlateStudy._studied

    def counted(study: plate_study.PlateStudy) -> plate_study.Studied:
        if study._found is None:
            done.append(len(done))
        return work(study)

    monkeypatch.setattr(plate_study.PlateStudy, "_studied", counted)
    return done


def first(bracket: Bracket, kept: KeptPlates) -> MeshedPlate:
    return kept.first(bracket, place_bolts(bracket))[0]


def test_pencil_asks_for_no_study_and_ink_for_one(bracket: Bracket, studies: list[int]) -> None:
    told = analyse_in_turn(bracket)
    next(told)
    assert not studies
    list(told)
    assert len(studies) == 1


def test_who_stops_at_pencil_keeps_no_factor(bracket: Bracket) -> None:
    kept = KeptPlates()
    told = analyse_in_turn(bracket, kept=kept)
    next(told)
    study = first(bracket, kept).studied
    assert study._held is not None
    told.close()
    assert study._held is None


def test_a_study_from_a_new_factor_is_the_same(bracket: Bracket) -> None:
    at_once, later = (first(bracket, KeptPlates()).studied for _ in range(2))
    later.let_go()
    assert np.array_equal(at_once.on_other_beds.stress, later.on_other_beds.stress)
    assert np.array_equal(at_once.on_other_beds.beds.usual, later.on_other_beds.beds.usual)
    assert at_once.suppleness.rest == later.suppleness.rest
    assert at_once._held is None


def test_the_beds_energy_is_that_of_the_study(bracket: Bracket) -> None:
    plate = first(bracket, KeptPlates())
    assert plate.bed_energy is not None
    count = len(plate.bed_energy)
    studied = plate.studied.on_other_beds.beds.beds[:count, :count]
    assert plate.bed_energy == pytest.approx(studied, rel=1e-9, abs=1e-9 * np.abs(studied).max())
