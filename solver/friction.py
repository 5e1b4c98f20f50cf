"""Friction of the whole bracket: the couple at which it fails, and the lash that follows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from solver.cone import friction_limit, least_in_cones
from solver.grip import Grip
from solver.linkage import Linkage, Weighted
from solver.load_cases import LoadCase

_TIGHT_MM = 1e-9
"""A bolt with less room than this fills its hole."""


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
    # Turns are asked for in mm at the radius: rad would be lost in the programme's tolerance.
    scale = linkage.turn_scale
    equal, inside = [linkage.column, linkage.ties], []
    for joint in linkage.joints:
        equal.append(joint.relative[2:5] * np.array([1.0, linkage.radius_mm, linkage.radius_mm])[:, None])
        clearance = clearances_mm[joint.place.bolt]
        if clearance < _TIGHT_MM:
            equal.append(joint.relative[:2])
        else:
            moves = np.vstack([np.zeros((1, linkage.size)), joint.relative[:2] * scale])
            inside.append((moves, np.array([clearance, 0.0, 0.0])))
    still = np.vstack(equal) * scale
    objective = np.zeros(linkage.size)
    objective[5] = -1.0
    # Whatever motion fits into the holes fits the other way round too: one way is half of the whole.
    farthest = least_in_cones(objective, equal=(still, np.zeros(len(still))), cones=inside)
    return float("inf") if farthest is None else float(np.degrees(2.0 * max(farthest[5] * scale[5], 0.0)))
