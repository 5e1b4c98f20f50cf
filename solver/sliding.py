"""What slides, and what then carries, in load cases that friction alone does not hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from solver.cone import slide
from solver.connections import forces_from_local, local_wrenches
from solver.errors import SolverError
from solver.evaluation import Column, Loaded, State
from solver.grip import Grip
from solver.joint_rules import FACE_SHARE
from solver.load_cases import LoadCase
from solver.rigid import Floats
from solver.solved import Solved
from solver.structure import Response, plate_wrenches

MOVED_MM = 1e-4
"""A connection that slid less than this has stuck."""
ENDLESS_MM = 1000.0
"""One that slid farther, its spin at the friction radius, does not come to rest: no hole is as wide."""


def sliding(
    solved: Solved, state: State, cases: Sequence[LoadCase], couple_nm: float
) -> tuple[Loaded, Floats]:
    """Return the load cases with connections that slide, and (connections, columns) how far each slid, in mm.

    The state is the minimum of elastic energy plus friction work, each bolt kept inside its hole. Spin counts
    at the friction radius. Raises SolverError if it is not found, or where nothing ends the sliding.
    """
    structure = state.structure
    active = [c for c in structure.connections if c.first_slip is not None]
    stuck = structure.stuck
    slips = np.array(
        [c.first_slip + i for c in active if c.first_slip is not None for i in range(3)], dtype=int
    )
    stiffness = structure.stiffness
    own = stiffness[:stuck, :stuck]
    across = stiffness[:stuck, slips]
    give = np.linalg.solve(own, across)
    condensed = stiffness[np.ix_(slips, slips)] - across.T @ give
    unit = structure.unit_loads
    pulls = {bolt: i for i, bolt in enumerate(c.bolt for c in structure.connections)}
    unknowns, moved = [], []
    for case in cases:
        load = unit @ case.coefficients(couple_nm)
        driving = load[slips] - give.T @ load[:stuck]
        pull = state.local[:, 2] @ case.coefficients(couple_nm)
        grips = [_grip_under(solved, c.bolt, float(pull[pulls[c.bolt]])) for c in active]
        slid = slide(0.5 * (condensed + condensed.T), driving, grips)
        answer = np.zeros(len(load))
        answer[slips] = slid
        answer[:stuck] = np.linalg.solve(own, load[:stuck]) - give @ slid
        unknowns.append(answer)
        by_bolt = slid.reshape(-1, 3) * np.array([[1.0, 1.0, g.radius_mm] for g in grips])
        moved.append(np.linalg.norm(by_bolt, axis=1))
        if moved[-1].max(initial=0.0) > ENDLESS_MM:
            why = "nothing ends the sliding: hold the casing by more than friction"
            raise SolverError(f"under {case.words} {why}")
    response = Response(np.column_stack(unknowns), structure)
    gravities = np.column_stack([case.coefficients(couple_nm)[6:] for case in cases])
    wrenches, amounts = [], []
    for i in range(len(structure.plates)):
        bodies = response.bodies(i)
        wrenches.append(plate_wrenches(structure, i, bodies, gravities))
        amounts.append(np.vstack([bodies, gravities]))
    return (
        Loaded(
            tuple(Column(case, "sliding", state.high) for case in cases),
            forces_from_local(structure, local_wrenches(structure, wrenches)),
            tuple(amounts),
            response.casing,
            response.bar(),
            structure,
        ),
        np.column_stack(moved),
    )


def _grip_under(solved: Solved, bolt: str, pull_n: float) -> Grip:
    """Return what friction holds under a stuck connection's pull, most of which comes off the faces."""
    grip = solved.bolts[bolt].grip
    return replace(grip, preload_n=max(grip.preload_n - FACE_SHARE * max(pull_n, 0.0), 0.0))
