"""Checks of the fit: gap, holes, drawing together, the bolts, what stays in the plates, the bearings.

Where it is off the bracket is still a bracket once a shim is in or a hole is drawn, so all but an overstress
is marginal at worst.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from geometry.fit_up import FitUp
from solver.fit_up import FitForces, fit_forces
from solver.joint_rules import tension_allowable_n
from solver.largest import first_of_largest
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved

BAND = 0.05
"""How sure it is: one mesh, as for other figures that hang on stiffness alone."""
PRACTICE = "common practice, no source"
_HOW = "each error at its tolerance, in its worst direction, added up"
_SHIM_STEP_MM = 0.1
_TIGHT_MM = 0.01
"""Clearance of a hole in which a bolt just goes."""


def fit_up_checks(solved: Solved) -> list[Check]:
    """Return the checks of the fit; none while no tolerances are given."""
    fit = solved.bracket.fit_up
    if fit is None:
        return []
    worst: dict[str, Check] = {}
    for state in solved.states:
        if state.taken != "stuck":
            continue
        forces = fit_forces(solved.bracket, state.structure, fit, state.high)
        if not forces.errors.starts or not forces.connections:
            continue
        for check in (
            *_by_connection(solved, fit, forces),
            *_stresses(solved, forces),
            *_on_bearings(solved, fit, forces),
        ):
            before = worst.get(check.name)
            if before is None or check.used > before.used:
                worst[check.name] = check
    return list(worst.values())


def _by_connection(solved: Solved, fit: FitUp, forces: FitForces) -> list[Check]:
    errors = forces.errors
    bolts = [solved.bolts[connection.bolt] for connection in forces.connections]
    gap = errors.sizes(forces.gap_mm)
    slide = np.linalg.norm(errors.sizes(forces.slide_mm), axis=1)
    pull = errors.sizes(forces.local[:, 2])
    tilt = np.linalg.norm(errors.sizes(forces.local[:, 3:5]), axis=1)
    drawn = pull + tilt / np.array([[b.opening_arm_mm] for b in bolts])
    tension = pull + tilt / np.array([[b.ring_outer_mm] for b in bolts])
    low = np.array([np.nan if b.preload_low_n is None else b.preload_low_n for b in bolts])
    clearance = np.array([max(b.clearance_mm, _TIGHT_MM) for b in bolts])
    strength = np.array(
        [
            np.nan
            if b.grade is None
            else tension_allowable_n(b.grade.design_tensile_mpa, b.size.stress_area_mm2)
            for b in bolts
        ]
    )
    gap_limit = np.full(len(bolts), fit.gap_mm)
    found = [
        _worst_bolt(forces, "fit-up gap", "mm", gap, gap_limit, "EN 1090-2, preloaded plies (from memory)"),
        _worst_bolt(
            forces, "fit-up holes", "mm", slide, clearance, f"clearance of the hole; {PRACTICE}",
            "past 100 % a bolt may not go in until a hole is drawn or slotted",
        ),
        _worst_bolt(
            forces, "fit-up pull", "N", pull, fit.preload_share * low,
            f"{fit.preload_share:.0%} of the lowest preload; {PRACTICE}",
            "past 100 % drawing it together takes preload that slip and opening count on",
        ),
        _worst_bolt(
            forces, "fit-up face", "N", drawn, low,
            "closed form: even pressure on a ring, kernel e = (ro2 + ri2) / 4 ro",
            "past 100 % a face stays open at one edge, however it is tightened",
        ),
        _worst_bolt(
            forces, "fit-up bolt", "N", tension, strength, "EN 1993-1-8 table 3.4; demand N + M / ro",
            kind="strength",
        ),
    ]  # fmt: skip
    return [_with_shim(c, fit) if c.name == "fit-up gap" else c for c in found if c is not None]


def _worst_bolt(
    forces: FitForces,
    name: str,
    unit: str,
    sizes: Floats,
    allowable: Floats,
    source: str,
    note: str = "",
    *,
    kind: str = "share",
) -> Check | None:
    """Return the check of the connection that uses most; None where no allowable is known.

    `sizes` (connections, errors) is what each error asks for.
    """
    demand = sizes.sum(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        used = np.where(allowable > 0.0, demand / allowable, np.where(demand > 0.0, np.inf, 0.0))
    used = np.where(np.isnan(allowable), np.nan, used)
    if np.all(np.isnan(used)):
        return None
    row = first_of_largest(np.where(np.isnan(used), -np.inf, used))
    return Check(
        name,
        float(demand[row]),
        float(allowable[row]),
        unit,
        BAND,
        source,
        f"bolt {forces.connections[row].bolt}",
        _HOW,
        note=_joined(_most_from(forces, sizes[row]), note),
        kind="strength" if kind == "strength" else "share",
    )


def _with_shim(check: Check, fit: FitUp) -> Check:
    if check.used_upper <= 1.0:
        words = "no shim is needed"
    else:
        least = math.ceil(max(check.demand - fit.gap_mm, 0.0) / _SHIM_STEP_MM) * _SHIM_STEP_MM
        most = max(math.floor(check.demand / _SHIM_STEP_MM) * _SHIM_STEP_MM, least)
        words = f"a shim of {least:.1f} to {most:.1f} mm, as the gap is measured, has to go in"
    return replace(check, note=_joined(check.note, words))


def _most_from(forces: FitForces, sizes: Floats) -> str:
    """Return in words which error asks for most: the one to measure first."""
    share = float(sizes.max() / sizes.sum()) if sizes.sum() > 0.0 else 0.0
    return f"{share:.0%} of it from {forces.errors.names[first_of_largest(sizes)]}" if share else ""


def _joined(*notes: str) -> str:
    return "; ".join(note for note in notes if note)


def _stresses(solved: Solved, forces: FitForces) -> list[Check]:
    """Return what stays in each plate, against its yield."""
    found = []
    for survey, amounts in zip(solved.surveys, forces.amounts, strict=True):
        if not len(survey.nodes):
            continue
        sizes = forces.errors.sizes(survey.von_mises(amounts))
        row = first_of_largest(sizes.sum(axis=1))
        found.append(
            Check(
                f"fit-up stress, {survey.plate.plate.name}",
                float(sizes[row].sum()),
                survey.allowable_mpa * solved.bracket.limits.yield_factor,
                "MPa",
                BAND,
                f"yield, von Mises; {survey.plate.metal.strength_source}",
                survey.where(row),
                _HOW,
                note=_most_from(forces, sizes[row]),
            )
        )
    return found


def _on_bearings(solved: Solved, fit: FitUp, forces: FitForces) -> list[Check]:
    if not len(forces.bearings_n):
        return []
    sizes = np.linalg.norm(forces.errors.sizes(forces.bearings_n), axis=1)
    row = first_of_largest(sizes.sum(axis=1))
    column = solved.bracket.column
    name = f"bearing {column.bearings[row].name}" if column.held_by == "bearings" else "column mount"
    return [
        Check(
            "fit-up bearing",
            float(sizes[row].sum()),
            fit.bearing_n,
            "N",
            BAND,
            f"side force on a bearing while nobody steers; {PRACTICE}",
            name,
            _HOW,
            note=_joined(_most_from(forces, sizes[row]), "past 100 % the steering may bind"),
            kind="share",
        )
    ]
