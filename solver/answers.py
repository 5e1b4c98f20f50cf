"""What is read off a solved and checked bracket besides its checks.

Bolts, cases, movement, friction share, fields.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.checking import Checked
from solver.evaluation import Loaded
from solver.free_motions import null_motions
from solver.friction import slip_couple_nm
from solver.largest import first_of_largest
from solver.load_cases import NMM_PER_NM, casing_reference
from solver.mesh_stage import MeshedPlate
from solver.movement_checks import largest_movement_mm, turns_deg
from solver.results import (
    BoltResult,
    CaseResult,
    CasingMovement,
    ConnectionSheet,
    FreeMotion,
    FrictionShare,
    PlateField,
    State,
)
from solver.rigid import Floats, carry
from solver.solved import Solved
from solver.stress_survey import von_mises_in_parts
from solver.structure import plate_wrenches, respond_all_slipped, respond_stuck
from solver.structure_assembly import build_structure


def bolt_results(solved: Solved, checked: Checked) -> tuple[BoltResult, ...]:
    """Return what every bolt carries in the load case that asks most of it, and its state then."""
    forces, load = checked.load.forces, checked.load
    found = []
    for row, name in enumerate(forces.bolts):
        bolt = solved.bolts[name]
        asked = (
            np.hypot(forces.shear_n[row], forces.spin_nmm[row] / bolt.friction_radius_mm)
            + np.abs(forces.pull_n[row])
            + forces.tilt_nmm[row] / bolt.ring_outer_mm
        )
        real = np.array([c.taken != "all slipped" for c in load.columns])
        column = first_of_largest(np.where(real, asked, -1.0))
        used = checked.slip[row]
        slip = None if np.all(np.isnan(used)) else float(np.nanmax(used))
        state: State = "slipped" if name in checked.slid else "stuck"
        found.append(
            BoltResult(
                name,
                state,
                float(forces.shear_n[row, column]),
                float(forces.pull_n[row, column]),
                float(forces.spin_nmm[row, column]) / NMM_PER_NM,
                float(forces.tilt_nmm[row, column]) / NMM_PER_NM,
                slip,
                load.columns[column].words,
            )
        )
    return tuple(found)


def case_results(solved: Solved, load: Loaded) -> tuple[CaseResult, ...]:
    """Return movement, equilibrium sheets and unbalance of every load case in every state.

    Ranges are at their low side.
    """
    turn, lean = turns_deg(load)
    told = _told(load)
    moved, _ = largest_movement_mm(solved, load, np.isin(np.arange(len(load.columns)), told))
    unbalance = _unbalance(solved, load)
    bar = load.structure.bar
    stations = np.zeros(0) if bar is None else bar.stations_mm
    to_origin = carry(casing_reference(solved.bracket), np.zeros(3))
    found = []
    for i in told:
        column = load.columns[i]
        found.append(
            CaseResult(
                column.case.name,
                column.case.words,
                column.taken,
                float(turn[i]),
                float(lean[i]),
                float(moved[i]),
                _sheets(load, i),
                float(unbalance[i]),
                to_origin @ load.casing[:, i],
                stations,
                load.bar[:, i].reshape(-1, 6),
            )
        )
    return tuple(found)


def casing_movement(solved: Solved, checked: Checked) -> CasingMovement:
    """Return the movement of the casing under the couple as measured, with the lash beside it."""
    load = checked.load
    measured = [i for i, c in enumerate(load.columns) if c.case.kind == "as measured" and c.taken == "stuck"]
    turn, lean = turns_deg(load)
    return CasingMovement(
        float(turn[measured].max()),
        float(lean[measured].max()),
        float(checked.moved_mm[measured].max()),
        solved.lash_deg,
    )


def friction_share(solved: Solved, motions: Sequence[FreeMotion]) -> FrictionShare:
    """Return how much of the resistance to the couple rests on friction: dash bar and anchors immovable.

    A couple that drives a free motion meets no resistance at all once everything has slipped: share 1.
    """
    structure = build_structure(solved.bracket, solved.plates, rigid_bar=True)
    couple = structure.unit_loads[:, 5:6] * NMM_PER_NM
    stuck = 1.0 / float(np.degrees(respond_stuck(structure, couple).casing[5, 0]))
    slipped = 0.0
    if not any(
        name.startswith("couple") for motion in motions for name in motion.driven_by if "," not in name
    ):
        free = null_motions(solved.linkage).shape[1]
        response, _ = respond_all_slipped(structure, couple, free)
        slipped = 1.0 / float(np.degrees(response.casing[5, 0]))
    return FrictionShare(float(np.clip(1.0 - slipped / stuck, 0.0, 1.0)), stuck, slipped)


def friction_fails_nm(solved: Solved) -> float | None:
    """Return the least couple in N.m at which friction alone fails; None if unknown or never."""
    if any(b.preload_low_n is None or b.friction is None for b in solved.bolts.values()):
        return None
    grips = {name: bolt.grip for name, bolt in solved.bolts.items()}
    turned = [case for case in solved.cases if case.kind != "as measured" and np.any(case.per_couple)]
    least = min(
        (slip_couple_nm(solved.linkage, solved.plates, case, grips) for case in turned), default=float("inf")
    )
    return least if np.isfinite(least) else None


def plate_fields(checked: Checked, meshed: Sequence[MeshedPlate]) -> tuple[PlateField, ...]:
    """Return displacement and stress of every plate for drawing, in the load case that stresses it most.

    Beside it the displacement in each of the cases that `case_results` tells.
    """
    found = []
    load = checked.load
    told = _told(load)
    for i, plate in enumerate(meshed):
        amounts = load.amounts[i]
        count = amounts.shape[0]
        column = first_of_largest(checked.stress_mpa[i])
        moved = plate.condensed.modes @ amounts[:, column]
        at_vertices = plate.condensed.modes.reshape(-1, 3, count)[plate.condensed.mesh.vertex_nodes]
        in_cases = np.einsum("nik,kc->cni", at_vertices, amounts[:, told], optimize=True)
        found.append(
            PlateField(
                plate.condensed.plate.name,
                plate.condensed.mesh,
                moved.reshape(-1, 3),
                _most_everywhere(plate.stress, amounts),
                plate.survey.allowable_mpa,
                np.isin(plate.condensed.mesh.vertex_nodes, plate.survey.nodes),
                load.columns[column].words,
                in_cases.astype(np.float32),
            )
        )
    return tuple(found)


def _most_everywhere(modes: Floats, amounts: Floats) -> Floats:
    """Return the largest equivalent stress of all columns at every vertex (v,), MPa."""
    most = np.empty(len(modes))
    for rows, part in von_mises_in_parts(modes.reshape(-1, modes.shape[2]), amounts):
        most[rows] = part.max(axis=1)
    return most


def _told(load: Loaded) -> list[int]:
    """Return the columns that are told of as cases: ranges at their low ends, the factored loads."""
    return [
        i for i, column in enumerate(load.columns) if not column.high and column.case.kind != "as measured"
    ]


def _sheets(load: Loaded, column: int) -> tuple[ConnectionSheet, ...]:
    sheets = []
    for row, connection in enumerate(load.structure.connections):
        local = load.forces.local[row, :, column]
        sheets.append(
            ConnectionSheet(
                connection.bolt, connection.axes @ local[:3], connection.axes @ local[3:], connection.at_mm
            )
        )
    return tuple(sheets)


def _unbalance(solved: Solved, load: Loaded) -> np.ndarray:
    """Return, per column, the largest unbalanced force of any plate over the largest connection force."""
    largest = np.maximum(np.abs(load.forces.local[:, :3]).max(axis=(0, 1)), 1e-9)
    worst = np.zeros(len(load.columns))
    for i, plate in enumerate(solved.plates):
        amounts = load.amounts[i]
        gravities = amounts[-3:]
        wrenches = plate_wrenches(load.structure, i, amounts[:-3], gravities).reshape(-1, 6, amounts.shape[1])
        weight = plate.mass_kg * 9.80665 * gravities
        rest = np.abs(wrenches[:, :3].sum(axis=0) + weight).max(axis=0)
        worst = np.maximum(worst, rest / largest)
    return worst
