"""Friction of the whole bracket: the couple at which it fails, and the lash that follows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from scipy.optimize import linprog

from solver.cone import Grip, friction_limit
from solver.linkage import Linkage, Weighted
from solver.load_cases import LoadCase

_SIDES = 32
"""Sides of the polygon round a clearance circle, an even number; the turn it gives is at most half a per cent
too large."""


def slip_couple_nm(
    linkage: Linkage, plates: Sequence[Weighted], case: LoadCase, grips: Mapping[str, Grip]
) -> float:
    """Return the couple in N.m at which friction alone fails in a load case, the rest of its load unchanged.

    Inf if never. The column's bearings and welds carry what they can. `plates` are in the linkage's order;
    `grips` go by bolt name.
    """
    reactions = [joint.relative.T for joint in linkage.joints]
    balance = np.hstack([*reactions, linkage.column.T, linkage.welded.T])
    return friction_limit(
        balance,
        linkage.loads(plates, case.rest),
        linkage.loads(plates, case.per_couple),
        [grips[joint.place.bolt] for joint in linkage.joints],
    )


def lash_deg(linkage: Linkage, clearances_mm: Mapping[str, float]) -> float:
    """Return the whole turn of the casing, in degrees, from hard against its holes one way to the other.

    Every bolt has slipped and moves in its hole up to its clearance from the middle; pull and tilt stay
    closed. inf if nothing ever stops the turn.
    """
    around = np.arange(_SIDES) * 2.0 * np.pi / _SIDES
    equal = [linkage.column, linkage.ties]
    inside, reach = [np.zeros((0, linkage.size))], [np.zeros(0)]
    for joint in linkage.joints:
        equal.append(joint.relative[2:5] * np.array([1.0, linkage.radius_mm, linkage.radius_mm])[:, None])
        inside.append(
            np.outer(np.cos(around), joint.relative[0]) + np.outer(np.sin(around), joint.relative[1])
        )
        reach.append(np.full(_SIDES, clearances_mm[joint.place.bolt]))
    # Turns are asked for in mm at the radius: rad would be lost in the programme's tolerance.
    scale = linkage.turn_scale
    rows_equal, rows_inside = np.vstack(equal) * scale, np.vstack(inside) * scale
    objective = np.zeros(linkage.size)
    objective[5] = -1.0
    # Whatever motion fits into the holes fits the other way round too: one way is half of the whole.
    answer = linprog(
        objective,
        A_ub=rows_inside,
        b_ub=np.concatenate(reach),
        A_eq=rows_equal,
        b_eq=np.zeros(len(rows_equal)),
        bounds=[(None, None)] * linkage.size,
        method="highs",
    )
    return float("inf") if answer.x is None else float(np.degrees(2.0 * answer.x[5] * scale[5]))
