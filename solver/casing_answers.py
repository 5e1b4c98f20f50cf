"""How the casing answers loads on it, in every state: what readings taken in the car are foretold from."""

from __future__ import annotations

import numpy as np

from geometry.stiffness_ranges import HighEnds
from solver.evaluation import drives
from solver.free_motions import null_motions
from solver.linkage import column_taken
from solver.load_cases import UNIT_LOADS, LoadCase, casing_reference
from solver.results import CasingAnswer
from solver.solved import Solved

_ON_CASING = 6


def casing_answers(solved: Solved) -> tuple[CasingAnswer, ...]:
    """Return the casing's motion for each unit force and moment on it, in every state that was answered."""
    return tuple(
        CasingAnswer(
            "stuck" if state.taken == "stuck" else "all slipped",
            state.high,
            np.array(state.response.casing[:, :_ON_CASING]),
            tuple(_held(solved, state.high)) if state.taken == "all slipped" else (True,) * _ON_CASING,
            casing_reference(solved.bracket),
        )
        for state in solved.states
    )


def _held(solved: Solved, high: HighEnds) -> list[bool]:
    taken = column_taken(solved.linkage, solved.bracket, high)
    basis = null_motions(taken)
    none = np.zeros(UNIT_LOADS)
    units = (LoadCase("", "", unit, none, "") for unit in np.eye(UNIT_LOADS)[:_ON_CASING])
    return [not drives(taken, solved.plates, unit, basis) for unit in units]
