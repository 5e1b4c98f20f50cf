"""Softer and stiffer beds without a new factor give what factoring anew gives."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.placing import place_bolts
from solver import cholesky
from solver.how_sure import used_shares
from solver.kept_plates import KeptPlates
from solver.mesh_stage import meshed_plate
from solver.sensitivity import footprint_sensitivity, on_other_beds
from solver.stress import von_mises
from tests.brackets import meshed, one_piece, solved_on, straps


@pytest.mark.parametrize("factor", [0.5, 1.0, 2.0])
def test_against_factoring_anew(factor: float) -> None:
    bracket = one_piece()
    places = place_bolts(bracket)
    plate = KeptPlates().first(bracket, places)[0]
    anew = meshed_plate(bracket, 0, plate.condensed.mesh, places, bed_factor=factor).condensed
    stiffness, wrench, mix = plate.studied.on_other_beds.beds.at(factor)
    assert stiffness == pytest.approx(anew.stiffness, rel=1e-4, abs=1e-4 * np.abs(anew.stiffness).max())
    assert wrench == pytest.approx(anew.weight_wrench, rel=2e-3, abs=2e-3 * np.abs(anew.weight_wrench).max())
    judged = np.isin(plate.condensed.mesh.vertex_nodes, plate.survey.nodes)
    usual, drifts = np.split(mix, [mix.shape[1]])
    here = plate.survey.modes @ usual + plate.studied.on_other_beds.stress @ drifts
    there = anew.stress_modes()[judged].reshape(here.shape)
    here, there = (von_mises(s.reshape(-1, 6, s.shape[1])).max(axis=0) for s in (here, there))
    # Beside a footprint, in the mode that is worst: 0.5 % at most for all else.
    assert here == pytest.approx(there, rel=0.02)
    assert np.median(np.abs(here / there - 1.0)) < 0.005


def test_beds_are_another_matter_when_softer() -> None:
    bracket = one_piece()
    plate = KeptPlates().first(bracket, place_bolts(bracket))[0]
    soft, usual, stiff = (np.trace(plate.studied.on_other_beds.beds.at(f)[0]) for f in (0.5, 1.0, 2.0))
    # In series with the plate, never more than in proportion.
    assert 0.5 * usual < soft < 0.98 * usual < 1.02 * usual < stiff < 2.0 * usual


def test_the_study_factors_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    bracket = straps("side by side")
    plates = KeptPlates().first(bracket, place_bolts(bracket))
    whole = solved_on(bracket, plates)

    def refuse(*_: object) -> None:
        raise AssertionError("a plate was factored again")

    monkeypatch.setattr(cholesky.Factor, "__init__", refuse)
    others = [(other, used_shares(other, 20.0)) for other in on_other_beds(bracket, plates, whole)]
    study = footprint_sensitivity(whole, 20.0, used_shares(whole, 20.0), others)
    assert study.turn_bed_halved > 1.0 > study.turn_bed_doubled


def test_a_plate_without_a_study_is_refused() -> None:
    bracket = straps("side by side")
    plates = meshed(bracket)
    with pytest.raises(ValueError, match="without a study"):
        list(on_other_beds(bracket, plates, solved_on(bracket, plates)))
