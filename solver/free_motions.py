"""Free motions: movements that nothing resists once every bolt has slipped into a pin.

Plates and casing are rigid bodies here; dash bar and anchors are immovable. A free motion is a null vector of
the rows that say which relative movements the connections forbid: kinematics alone, no stiffness. A bolt or a
spacer that only spins about itself moves no body and does not appear.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from geometry.bracket import Bracket
from solver.linkage import CASING, Linkage, Weighted
from solver.load_cases import LoadCase
from solver.results import FreeMotion
from solver.rigid import Floats, carry

SINGULAR = 1e-9
"""A singular value below this share of the largest is nought."""
DRIVES = 0.01
"""A load case drives a motion if its projection on it exceeds this share of the load."""


def null_motions(linkage: Linkage, *, stuck: bool = False) -> Floats:
    """Return an orthonormal basis (6 bodies, k) of the free motions, turns in mm at the linkage's radius."""
    rows = linkage.forbidden(stuck=stuck)
    if rows.shape[0] == 0:
        return np.eye(rows.shape[1])
    _, sizes, right = np.linalg.svd(rows, full_matrices=True)
    rank = int(np.sum(sizes > SINGULAR * max(float(sizes[0]), 1e-300)))
    return np.asarray(right[rank:].T)


def free_motions(
    bracket: Bracket,
    linkage: Linkage,
    plates: Sequence[Weighted],
    cases: Sequence[LoadCase],
    *,
    stuck: bool = False,
) -> tuple[FreeMotion, ...]:
    """Return every free motion, the one the couple drives first, with the load cases that drive it.

    `plates` are in the linkage's order. `stuck` finds what not even friction holds. A case drives a motion if
    its projection on it exceeds a hundredth of its load at 1 N.m and weight, whichever of its parts does so
    more.
    """
    basis = null_motions(linkage, stuck=stuck)
    if basis.shape[1] == 0:
        return ()
    scale = linkage.turn_scale
    parts = [[scale * linkage.loads(plates, part) for part in (case.per_couple, case.rest)] for case in cases]
    couple = np.zeros(linkage.size)
    couple[5] = 1.0
    motions = []
    for vector in _told_apart(basis, couple):
        driven = tuple(case.name for case, loads in zip(cases, parts, strict=True) if _drives(loads, vector))
        bodies = {name: (scale * vector)[6 * i : 6 * i + 6] for i, name in enumerate(linkage.bodies)}
        at_zero = {
            name: carry(linkage.origins_mm[i], np.zeros(3)) @ bodies[name] for i, name in enumerate(bodies)
        }
        moves = float(np.linalg.norm(vector[:6])) > 1e-6
        held_by = "nothing holds it at all" if stuck else "nothing but friction stops it"
        words = f"{_words(bracket, bodies, linkage, moves=moves)}: {held_by}"
        motions.append(FreeMotion(words, driven, moves, at_zero))
    return tuple(motions)


def _drives(loads: Sequence[Floats], motion: Floats) -> bool:
    return any(abs(float(load @ motion)) > DRIVES * float(np.linalg.norm(load)) > 0.0 for load in loads)


def _told_apart(basis: Floats, couple: Floats) -> list[Floats]:
    """Turn a basis into motions a person can tell apart.

    First the one the couple drives, then the others that move the casing, then those of plates alone.
    """
    motions: list[Floats] = []
    rest = basis
    driven = basis.T @ couple
    if np.linalg.norm(driven) > 1e-9:
        first = basis @ (driven / np.linalg.norm(driven))
        motions.append(first)
        rest = _without(basis, first)
    if rest.shape[1]:
        _, sizes, right = np.linalg.svd(rest[:6], full_matrices=True)
        turned = rest @ right.T
        moving = int(np.sum(sizes > 1e-9))
        motions += list(turned[:, :moving].T)
        motions += _plate_by_plate(turned[:, moving:])
    return motions


def _plate_by_plate(rest: Floats) -> list[Floats]:
    """Split motions that leave the casing still so that each moves as few plates as can be."""
    motions: list[Floats] = []
    for body in range(1, rest.shape[0] // 6):
        if rest.shape[1] == 0:
            break
        _, sizes, right = np.linalg.svd(rest[6 * body : 6 * body + 6], full_matrices=True)
        moving = int(np.sum(sizes > 1e-9))
        turned = rest @ right.T
        motions += list(turned[:, :moving].T)
        rest = turned[:, moving:]
    return motions


def _without(basis: Floats, vector: Floats) -> Floats:
    remaining = basis - np.outer(vector, vector @ basis)
    left, sizes, _ = np.linalg.svd(remaining, full_matrices=False)
    return np.asarray(left[:, sizes > 1e-6])


def _words(bracket: Bracket, bodies: dict[str, Floats], linkage: Linkage, *, moves: bool) -> str:
    if not moves:
        names = [name for name, motion in bodies.items() if name != CASING and np.linalg.norm(motion) > 1e-6]
        return f"{' and '.join(names)} can turn or lean without the casing"
    return f"the casing {_casing_words(bracket, bodies[CASING], linkage)}"


def _casing_words(bracket: Bracket, motion: Floats, linkage: Linkage) -> str:
    shift, turn = motion[:3], motion[3:]
    if np.linalg.norm(turn) * linkage.radius_mm < 1e-3 * np.linalg.norm(motion[:3]):
        return (
            f"moves {_direction(shift)} without turning,"
            " its plates leaning over like a parallelogram (racking)"
        )
    axis = turn / np.linalg.norm(turn)
    about = _axis_word(axis)
    # The axis of a turning body passes nearest to its origin here.
    foot = linkage.origins_mm[0] + np.cross(turn, shift) / float(turn @ turn)
    along = abs(float(axis @ shift)) / max(float(np.linalg.norm(shift)), 1e-300)
    if np.linalg.norm(shift) < 1e-3 * np.linalg.norm(turn) * linkage.radius_mm:
        return "turns about the shaft" if abs(axis[2]) > 0.95 else f"turns about {about} through the shaft"
    if along > 0.9 and np.linalg.norm(np.cross(turn, shift)) < 1e-3 * float(turn @ turn) * linkage.radius_mm:
        return f"turns about {about} and slides along it"
    place = _near(bracket, foot, axis)
    swing = np.cross(axis, linkage.origins_mm[0] - foot)
    away_mm = np.linalg.norm(foot - linkage.origins_mm[0])
    return f"swings {_direction(swing)} about {place or f'{about}, {away_mm:.0f} mm away'}"


def _near(bracket: Bracket, foot: Floats, axis: Floats) -> str:
    """Name what an axis passes through, where it passes within 15 mm of it."""
    bar = bracket.dash_bar
    if bar is not None:
        start, end = np.asarray(bar.from_mm), np.asarray(bar.to_mm)
        along = (end - start) / np.linalg.norm(end - start)
        across = np.cross(axis, along)
        if np.linalg.norm(across) > 1e-6:
            gap = abs(float((start - foot) @ across)) / float(np.linalg.norm(across))
        else:
            gap = float(np.linalg.norm(np.cross(start - foot, axis)))
        if gap < 15.0:
            return "the dash bar"
    for anchor in bracket.anchors:
        if (
            anchor.at_mm is not None
            and np.linalg.norm(np.cross(np.asarray(anchor.at_mm) - foot, axis)) < 15.0
        ):
            return f"anchor {anchor.name}"
    return ""


def _axis_word(axis: Floats) -> str:
    for index, words in (
        (2, "an axis along the shaft"),
        (0, "an axis across the car"),
        (1, "an upright axis"),
    ):
        if abs(axis[index]) > 0.95:
            return words
    return "a slanting axis"


def _direction(shift: Floats) -> str:
    share = np.abs(shift) / max(float(np.linalg.norm(shift)), 1e-300)
    for index, word in ((0, "sideways"), (1, "up and down"), (2, "along the shaft")):
        if share[index] > 0.9:
            return word
    return "at a slant"
