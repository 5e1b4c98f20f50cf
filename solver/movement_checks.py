"""Checks of movement: what an eye or a hand on the wheel would notice."""

from __future__ import annotations

from itertools import product
from typing import TypeAlias

import numpy as np

from geometry.casing_in_space import casing_to_space
from solver.evaluation import Loaded, unit_movements
from solver.largest import first_of_largest, rows_of_largest
from solver.load_cases import casing_reference
from solver.results import Check
from solver.rigid import Floats, carry
from solver.solved import Solved
from solver.stress_survey import largest_movement

_ONLY_FRICTION = "past 100 % nothing but friction keeps a pull from moving it so far"
_SEEN = "common practice: no deflection that can be seen or felt"


Movements: TypeAlias = tuple[Floats, list[str]]
"""The largest movement in mm in every column, and where it is."""


def movement_checks(
    solved: Solved, load: Loaded, lash_deg: float, slips: str = "", moved_mm: Movements | None = None
) -> list[Check]:
    """Return the checks of turn, lean and movement.

    `lash_deg` adds to the turn and moves the casing's farthest corner, 0 while friction holds; `slips` says
    what gives way where it does not. `moved_mm` is what `judged_movements_mm` returns, if it is known.
    """
    moved_mm = moved_mm or judged_movements_mm(solved, load)
    return turn_checks(solved, load, lash_deg, slips) + _movements(solved, load, lash_deg, moved_mm)


def judged_movements_mm(solved: Solved, load: Loaded) -> Movements:
    """Return the largest movements, without lash, of the columns whose movement is judged."""
    return largest_movement_mm(solved, load, np.any(_judged(load), axis=0))


def _judged(load: Loaded) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return which columns are judged as measured, with a pull, and with a pull where all has slipped."""
    free = np.array([c.taken != "all slipped" for c in load.columns])
    measured = np.array([c.case.kind == "as measured" for c in load.columns])
    pulled = np.array([c.case.kind == "pull" for c in load.columns])
    return free & measured, free & pulled, ~free & pulled


def turn_checks(solved: Solved, load: Loaded, lash_deg: float, slips: str = "") -> list[Check]:
    """Return the checks of turn and lean alone."""
    limits = solved.bracket.limits
    measured = np.array([c.taken != "all slipped" and c.case.kind == "as measured" for c in load.columns])
    checks = []
    turn, lean = turns_deg(load)
    for name, angles, extra in (("turn", turn, lash_deg), ("lean", lean, 0.0)):
        column = _worst(angles, measured)
        note = f"of which {_lash(extra, 'deg')}: {slips}" if extra else ""
        checks.append(
            Check(
                name,
                float(angles[column]) + extra,
                limits.turn_deg,
                "deg",
                0.0,
                _SEEN,
                "casing",
                load.columns[column].case.words + (", and lash" if extra else ""),
                note=note,
                kind="movement",
            )
        )
    return checks


def _movements(solved: Solved, load: Loaded, lash_deg: float, moved_mm: Movements) -> list[Check]:
    limits = solved.bracket.limits
    measured, pulled, slipped = _judged(load)
    checks = []
    most, places = moved_mm
    for name, mask, allowable in (
        ("movement", measured, limits.movement_mm),
        ("movement with a pull", pulled, limits.pull_movement_mm),
        ("movement with a pull, slipped", slipped, limits.pull_movement_mm),
    ):
        if not mask.any():
            continue
        column = _worst(most, mask)
        lash_mm = 0.0 if mask is slipped else np.radians(lash_deg) * _reach_mm(solved)
        notes = [
            _ONLY_FRICTION if mask is slipped else "",
            f"of which {_lash(lash_mm, 'mm')}" if lash_mm else "",
        ]
        checks.append(
            Check(
                name,
                float(most[column]) + float(lash_mm),
                allowable,
                "mm",
                0.0,
                _SEEN if name == "movement" else "common practice, no source",
                places[column],
                load.columns[column].words + (", and lash" if lash_mm else ""),
                note="; ".join(note for note in notes if note),
                kind="share" if mask is slipped else "movement",
            )
        )
    return checks


def _lash(size: float, unit: str) -> str:
    return f"lash {size:.3g} {unit}" if np.isfinite(size) else "lash without end"


def turns_deg(load: Loaded) -> tuple[Floats, Floats]:
    """Return the turn about the shaft and the lean of the casing in every column, degrees."""
    turn = np.abs(load.casing[5])
    lean = np.hypot(load.casing[3], load.casing[4])
    return np.degrees(turn), np.degrees(lean)


def largest_movement_mm(solved: Solved, load: Loaded, wanted: np.ndarray) -> Movements:
    """Return the largest movement of plates and casing envelope in every column, and where it is.

    Columns that are not `wanted` are not looked at and read 0.
    """
    stacked = np.zeros((1 + len(solved.surveys), len(load.columns)))
    stacked[0, wanted] = _envelope_movement(solved, load.casing[:, wanted])
    for index, survey in enumerate(solved.surveys):
        stacked[1 + index] = _plate_movement(survey.movement_modes, load, index, wanted)
    names = ["casing envelope", *(survey.plate.plate.name for survey in solved.surveys)]
    return stacked.max(axis=0), [names[i] for i in rows_of_largest(stacked)]


def _plate_movement(modes: Floats, load: Loaded, index: int, wanted: np.ndarray) -> Floats:
    """Return the largest movement (columns,) of a plate, mm, 0 where it is not wanted.

    Of a plate's many modes a state has nine combinations, one for each unit load: far less to multiply.
    """
    found = np.zeros(len(load.columns))
    first = 0
    units = unit_movements([state for state, _ in load.by_state], index, modes)
    for own, (_, loads) in zip(units, load.by_state, strict=True):
        last = first + loads.shape[1]
        here = np.flatnonzero(wanted[first:last])
        if len(here):
            found[first + here] = largest_movement(own, loads[:, here])
        first = last
    beyond = first + np.flatnonzero(wanted[first:])
    if len(beyond):
        found[beyond] = largest_movement(modes, load.amounts[index][:, beyond])
    return found


def _envelope_movement(solved: Solved, motion: Floats) -> Floats:
    return np.asarray(np.linalg.norm(envelope_ways(solved) @ motion, axis=1).max(axis=0, initial=0.0))


def envelope_ways(solved: Solved) -> Floats:
    """Return the (corners, 3, 6) ways in which the corners of the casing's envelope move with the casing."""
    casing = solved.bracket.casing
    if casing is None:
        return np.zeros((0, 3, 6))
    reference = casing_reference(solved.bracket)
    corners = product(*zip(casing.envelope.low_mm, casing.envelope.high_mm, strict=True))
    return np.array([carry(reference, casing_to_space(casing, (x, y, z)))[:3] for x, y, z in corners])


def _reach_mm(solved: Solved) -> float:
    """Return how far from the shaft the casing's envelope reaches."""
    casing = solved.bracket.casing
    if casing is None:
        return 0.0
    farthest = np.maximum(np.abs(casing.envelope.low_mm[:2]), np.abs(casing.envelope.high_mm[:2]))
    return float(np.linalg.norm(farthest))


def _worst(values: Floats, mask: np.ndarray) -> int:
    return first_of_largest(np.where(mask, values, -np.inf))
