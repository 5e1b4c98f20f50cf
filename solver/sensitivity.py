"""What hangs on the model of the footprints: beds halved and doubled, and the judged circle at t/2.

Reported beside the checks; no verdict rests on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geometry.bracket import Bracket
from solver.condensed_plate import bare_stiffness, condense_plate
from solver.evaluation import loaded
from solver.mesh_stage import MeshedPlate
from solver.movement_checks import turns_deg
from solver.solved import Solved, solved
from solver.stress_survey import StressSurvey, survey

WIDER_CIRCLE = 0.5
"""Share of the thickness beyond a footprint at which stress is judged beside the usual third."""


@dataclass(frozen=True)
class FootprintSensitivity:
    """Largest stress and turn with the footprints modelled in other ways, as shares of the usual."""

    stress_bed_halved: float
    stress_bed_doubled: float
    turn_bed_halved: float
    turn_bed_doubled: float
    stress_wider_circle: float
    """Largest judged stress from t/2 beyond the footprints instead of t/3."""

    @property
    def words(self) -> str:
        """Return the figures in a sentence."""
        return (
            f"beds half and twice as stiff give {self.stress_bed_halved:.0%} and"
            f" {self.stress_bed_doubled:.0%} of the largest stress and {self.turn_bed_halved:.0%} and"
            f" {self.turn_bed_doubled:.0%} of the turn; judged from t/2 beyond the footprints instead of"
            f" t/3, the largest stress is {self.stress_wider_circle:.0%}"
        )


def footprint_sensitivity(
    bracket: Bracket,
    meshed: Sequence[MeshedPlate],
    whole: Solved,
    couple_nm: float,
) -> FootprintSensitivity:
    """Return the sensitivity on the meshes of `meshed`, which `whole` was solved on."""
    usual_stress, usual_turn = _largest(whole, couple_nm)
    stresses, turns = [], []
    meshes = [m.condensed.mesh for m in meshed]
    bare = [bare_stiffness(bracket, plate, mesh) for plate, mesh in zip(bracket.plates, meshes, strict=True)]
    for factor in (0.5, 2.0):
        plates = [
            condense_plate(bracket, plate, mesh, m.condensed.places, bed_factor=factor, bare=stiffness)
            for plate, mesh, m, stiffness in zip(bracket.plates, meshes, meshed, bare, strict=True)
        ]
        surveys = [survey(plate, plate.stress_modes(), bracket.limits.yield_factor) for plate in plates]
        stress, turn = _largest(solved(bracket, plates, surveys, ()), couple_nm)
        stresses.append(stress / usual_stress)
        turns.append(turn / usual_turn)
    wider, _ = _largest(whole, couple_nm, WIDER_CIRCLE)
    return FootprintSensitivity(stresses[0], stresses[1], turns[0], turns[1], wider / usual_stress)


def _largest(whole: Solved, couple_nm: float, beyond: float = 0.0) -> tuple[float, float]:
    """Return the largest judged use of stress, and the turn under 1 N.m; `beyond` narrows what is judged."""
    load = loaded(whole.states, whole.cases, couple_nm)
    used = [
        float(survey.von_mises(amounts)[_outside(survey, beyond)].max(initial=0.0)) / survey.allowable_mpa
        for survey, amounts in zip(whole.surveys, load.amounts, strict=True)
    ]
    unit = loaded(whole.states, whole.cases, 1.0)
    measured = [i for i, c in enumerate(unit.columns) if c.case.kind == "as measured" and c.taken == "stuck"]
    return max(max(used, default=0.0), 1e-12), max(float(turns_deg(unit)[0][measured].max()), 1e-12)


def _outside(survey: StressSurvey, beyond: float) -> np.ndarray:
    """Return which judged places lie a share of the thickness or more beyond every footprint."""
    flat = survey.plate.mesh.flat_points[survey.nodes, :2]
    kept = np.ones(len(flat), dtype=bool)
    for place in survey.plate.places:
        reach = place.spread_mm + beyond * survey.plate.plate.thickness_mm
        kept &= np.linalg.norm(flat - np.asarray(place.flat_mm), axis=1) >= reach
    return kept
