"""What the casing's turn under the couple comes from: plates, bolts, spacers, dash bar, its ends, the column.

A couple M that turns a linear structure by t does the work M t / 2, and that work is the sum of what is
stored in its parts (Clapeyron). So each part's energy over the whole is its share of the turn: the shares add
up to one whatever the order, which making one part after another rigid does not give.

Glossary
--------
bolts   the beds under heads and mating faces, with what they rest on; the shank within a plate counts with it
ends    what the dash bar's ends give in bending, where a stiffness was measured or estimated
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from geometry.bracket import Bracket
from solver.evaluation import State
from solver.load_cases import NMM_PER_NM
from solver.mesh_stage import MeshedPlate
from solver.results import TurnShare
from solver.rigid import Floats
from solver.structure import Structure, plate_wrenches
from solver.structure_assembly import column_springs, spacer_stiffness

_TURN = 5
"""Unit load, and motion of the casing, about the shaft."""
_LEAST = 1e-9
"""A part that stores less than this share stores nothing."""


def turn_shares(bracket: Bracket, meshed: Sequence[MeshedPlate], stuck: State) -> tuple[TurnShare, ...]:
    """Return the share of each part in the casing's turn, the largest first; they add up to one.

    `meshed` are the plates that `stuck` was answered with, every connection stuck. Where they were condensed
    without their beds' own energy, plates and bolts are one part. None if nothing turns.
    """
    stored = works_of(bracket, meshed, stuck)
    whole = sum(stored.values())
    if not whole > 0.0:
        return ()
    shares = [TurnShare(name, energy / whole) for name, energy in stored.items()]
    return tuple(sorted((s for s in shares if s.share > _LEAST), key=lambda s: -s.share))


def works_of(bracket: Bracket, meshed: Sequence[MeshedPlate], stuck: State) -> dict[str, float]:
    """Return twice the energy of each part under 1 N.m about the shaft, N.mm: in all couple times turn."""
    unknowns = stuck.response.unknowns[:, _TURN] * NMM_PER_NM
    structure = stuck.structure
    stored = _plates(structure, meshed, unknowns)
    stored["spacers"] = _spacers(bracket, structure, unknowns)
    stored |= _bar(structure, unknowns)
    stored["column"] = sum(
        float(spring @ (way @ unknowns) ** 2)
        for way, spring in column_springs(bracket, structure.casing_way, structure.casing_at_mm, stuck.high)
    )
    return stored


def _plates(structure: Structure, meshed: Sequence[MeshedPlate], unknowns: Floats) -> dict[str, float]:
    """Return twice the energy of the plates' metal and of the beds under their bolts."""
    whole = beds = 0.0
    for way, plate in zip(structure.plate_ways, meshed, strict=True):
        bodies = way @ unknowns
        whole += float(bodies @ plate.condensed.stiffness @ bodies)
        if plate.bed_energy is not None:
            beds += float(bodies @ plate.bed_energy @ bodies)
    name = "plate" if len(meshed) == 1 else "plates"
    if any(plate.bed_energy is None for plate in meshed):
        return {f"{name} with bolts": whole}
    joints = "bolts and welds" if structure.welds else "bolts"
    return {name: whole - beds, joints: beds}


def _spacers(bracket: Bracket, structure: Structure, unknowns: Floats) -> float:
    """Return twice their energy, from what each is loaded with at its plate, the other end held."""
    bolts = {bolt.name: bolt for bolt in bracket.bolts}
    none = np.zeros((3, 1))
    stored = 0.0
    for i, way in enumerate(structure.plate_ways):
        wrenches = plate_wrenches(structure, i, (way @ unknowns)[:, None], none)[:, 0]
        for joint in structure.connections:
            spacer = bolts[joint.bolt].spacer
            if joint.plate != i or spacer is None:
                continue
            wrench = wrenches[6 * joint.body : 6 * joint.body + 6]
            own = spacer_stiffness(bolts[joint.bolt], spacer, joint.place, bracket)[:6, :6]
            stored += float(wrench @ np.linalg.solve(own, wrench))
    return stored


def _bar(structure: Structure, unknowns: Floats) -> dict[str, float]:
    """Return twice the energy of the dash bar, of its ends and of its stays."""
    model = structure.bar
    if model is None:
        return {}
    own = unknowns[structure.bar_first : structure.bar_first + model.stiffness.shape[0]]
    ends, stays = (float(own @ held @ own) for held in (model.ends, model.stays))
    return {
        "dash bar": float(own @ model.stiffness @ own) - ends - stays,
        "ends of the dash bar": ends,
        "stays of the dash bar": stays,
    }
