"""What hangs on the model of the footprints: beds halved and doubled, and the judged circle at t/2.

Other beds are a part of every check's band (`how_sure.py`); what is told of them and of the circle in words
stands beside the checks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.bracket import Bracket
from geometry.wanted import still_wanted
from solver.evaluation import loaded, states_of
from solver.how_sure import Shares
from solver.mesh_stage import MeshedPlate
from solver.movement_checks import turns_deg
from solver.net_section import NetSection
from solver.solved import Solved
from solver.stress_survey import StressSurvey

BED_FACTORS = (0.5, 2.0)
"""A partner of aluminium instead of steel, or one taken as rigid, lies between them."""
STRESS = "stress, "
"""How the names of checks of a plate's judged stress begin."""
_FAINT = 1e-12
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
    whole: Solved, couple_nm: float, used: Shares, others: Sequence[tuple[Solved, Shares]]
) -> FootprintSensitivity:
    """Return the sensitivity of a bracket, given what its checks use; `others` is it `on_other_beds`."""
    usual_stress, usual_turn = _largest_stress(used), _turn_of_unit(whole)
    soft, stiff = (_largest_stress(on_bed) / usual_stress for _, on_bed in others)
    soft_turn, stiff_turn = (_turn_of_unit(other) / usual_turn for other, _ in others)
    wider = _stress_beyond(whole, couple_nm, WIDER_CIRCLE) / usual_stress
    return FootprintSensitivity(soft, stiff, soft_turn, stiff_turn, wider)


def on_other_beds(bracket: Bracket, meshed: Sequence[MeshedPlate], whole: Solved) -> Iterator[Solved]:
    """Yield the bracket, solved on `meshed`, on beds half and then twice as stiff.

    ValueError if the plates were condensed without what this needs.
    """
    for factor in BED_FACTORS:
        still_wanted()
        others = [_with_beds(plate, factor) for plate in meshed]
        surveys = tuple(survey for survey, _ in others)
        plates = tuple(survey.plate for survey in surveys)
        states = states_of(bracket, plates, whole.linkage, whole.cases)
        sections = tuple(section for _, own in others for section in own)
        yield replace(whole, plates=plates, surveys=surveys, sections=sections, states=states)


def _with_beds(meshed: MeshedPlate, factor: float) -> tuple[StressSurvey, list[NetSection]]:
    """Return a plate's survey and net sections with all its beds stiffer by a factor."""
    others = meshed.studied.on_other_beds
    stiffness, wrench, mix = others.beds.at(factor)
    usual, drifts = np.split(mix, [mix.shape[1]])
    plate = replace(meshed.condensed, stiffness=stiffness, weight_wrench=wrench)
    modes = meshed.survey.modes @ usual + others.stress @ drifts
    sections = [
        replace(section, parts=section.parts @ usual + drift.parts @ drifts)
        for section, drift in zip(meshed.sections, others.sections, strict=True)
    ]
    return replace(meshed.survey, plate=plate, modes=modes), sections


def _largest_stress(used: Shares) -> float:
    """Return the largest judged use of stress of any plate."""
    return max([_FAINT, *(share for name, share in used.items() if name.startswith(STRESS))])


def _turn_of_unit(whole: Solved) -> float:
    """Return the turn under 1 N.m, deg."""
    unit = loaded(whole.states, whole.cases, 1.0)
    measured = [i for i, c in enumerate(unit.columns) if c.case.kind == "as measured" and c.taken == "stuck"]
    return max(float(turns_deg(unit)[0][measured].max()), _FAINT)


def _stress_beyond(whole: Solved, couple_nm: float, beyond: float) -> float:
    """Return the largest use of stress `beyond` so many thicknesses from every footprint."""
    used = []
    load = loaded(whole.states, whole.cases, couple_nm)
    for survey, amounts in zip(whole.surveys, load.amounts, strict=True):
        kept = np.flatnonzero(_outside(survey, beyond))
        picked = (6 * kept[:, None] + np.arange(6)).ravel()
        most = replace(survey, nodes=survey.nodes[kept], modes=survey.modes[picked]).most_mpa(amounts)
        used.append(float(most.max()) / survey.allowable_mpa)
    return max(used, default=0.0)


def _outside(survey: StressSurvey, beyond: float) -> np.ndarray:
    """Return which judged places lie a share of the thickness or more beyond every footprint."""
    flat = survey.plate.mesh.flat_points[survey.nodes, :2]
    kept = np.ones(len(flat), dtype=bool)
    for place in survey.plate.places:
        reach = place.spread_mm + beyond * survey.plate.plate.thickness_mm
        kept &= np.linalg.norm(flat - np.asarray(place.flat_mm), axis=1) >= reach
    return kept
