"""The small dense system, and how it answers loads; `structure_assembly` puts it together.

Condensed plates, casing, dash bar, spacers, bearings, and the connections and welds between them.

Glossary
--------
unknowns    motions that are independent while every connection is stuck, then three slips for every
            connection
slip        sliding of one connection: two shears (mm) square to the bolt, and spin (rad) about it
way         the (6, n) matrix from the unknowns to the motion of one body
stuck       all slips are nought
all slipped spins are free, shears are nought: each bolt is a pin
welded      a segment of a weld moves with what it is welded to in every state; it has no slips
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve, eigh

from geometry.placing import BoltPlace
from geometry.weld_places import WeldSegment
from solver.condensed_plate import CondensedPlate
from solver.dash_bar import BarModel
from solver.load_cases import UNIT_LOADS
from solver.rigid import Floats


@dataclass(frozen=True)
class Connection:
    """One bolt with what it clamps, on the plate that its head side sits on."""

    bolt: str
    plate: int
    body: int
    other: tuple[int, int] | None
    """Plate and body of the nut side, where the partner is another plate."""
    axes: Floats
    """(3, 3), third column along the bolt from the mating face toward the partner."""
    at_mm: Floats
    first_slip: int | None
    """Unknown of the first of its three slips; None for a bolt that is out."""
    spacer_mm: float
    """Length of the spacer, 0 without one."""
    place: BoltPlace


@dataclass(frozen=True)
class WeldJoint:
    """One segment of a weld, on the plate whose edge it is."""

    segment: WeldSegment
    plate: int
    body: int


@dataclass(frozen=True)
class Structure:
    """The assembled system."""

    stiffness: Floats
    """(n, n) over the unknowns."""
    stuck: int
    """Number of unknowns while stuck: they come first."""
    casing_way: Floats
    casing_at_mm: Floats
    plate_ways: tuple[Floats, ...]
    """Per plate (6 bodies, n)."""
    plates: tuple[CondensedPlate, ...]
    connections: tuple[Connection, ...]
    bar: BarModel | None
    bar_first: int
    welds: tuple[WeldJoint, ...] = ()

    @property
    def unit_loads(self) -> Floats:
        """Return the (n, 9) load vectors of the nine unit loads."""
        loads = np.zeros((self.stiffness.shape[0], UNIT_LOADS))
        loads[:, :6] = self.casing_way.T
        for way, plate in zip(self.plate_ways, self.plates, strict=True):
            loads[:, 6:] += way.T @ plate.weight_wrench
        return loads

    @property
    def spins(self) -> Floats:
        """Return the unknowns that are spins."""
        return np.array([c.first_slip + 2 for c in self.connections if c.first_slip is not None], dtype=int)


@dataclass(frozen=True)
class Response:
    """Motions of everything under load vectors, one column each."""

    unknowns: Floats
    structure: Structure

    @property
    def casing(self) -> Floats:
        """Return the (6, columns) motion of the casing about its reference point."""
        return np.asarray(self.structure.casing_way @ self.unknowns)

    def bodies(self, plate: int) -> Floats:
        """Return the (6 bodies, columns) motions of a plate's bolt bodies."""
        return np.asarray(self.structure.plate_ways[plate] @ self.unknowns)

    def bar(self) -> Floats:
        """Return the motions of the dash bar's nodes, (6 nodes, columns); none without a bar."""
        model = self.structure.bar
        if model is None:
            return np.zeros((0, self.unknowns.shape[1]))
        first = self.structure.bar_first
        return model.node_motions(self.unknowns[first : first + model.stiffness.shape[0]])


def respond_stuck(structure: Structure, loads: Floats) -> Response:
    """Return the response with every connection stuck; LinAlgError if something is loose even so."""
    return respond_slipped(structure, loads, ())


def respond_slipped(structure: Structure, loads: Floats, bolts: Collection[str]) -> Response:
    """Return the response with the spins of some bolts free and all other connections stuck."""
    spins = [c.first_slip + 2 for c in structure.connections if c.bolt in bolts and c.first_slip is not None]
    active = np.r_[np.arange(structure.stuck), np.array(spins, dtype=int)]
    unknowns = np.zeros_like(loads)
    unknowns[active] = solve_stiff(structure.stiffness[np.ix_(active, active)], loads[active])
    return Response(unknowns, structure)


def respond_all_slipped(structure: Structure, loads: Floats, free: int) -> tuple[Response, Floats]:
    """Return the response with every spin free, and the (n, free) motions that nothing resists.

    `free` is the number of free motions, known from rigid bodies alone. A load that drives one has no answer:
    its column is then meaningless and the caller leaves it out.
    """
    active = np.concatenate([np.arange(structure.stuck), structure.spins])
    stiffness = structure.stiffness[np.ix_(active, active)]
    loose = np.zeros((len(active), 0))
    if free:
        scale = 1.0 / np.sqrt(np.maximum(np.diag(stiffness), 1e-12 * float(np.max(np.diag(stiffness)))))
        _, vectors = eigh(stiffness * np.outer(scale, scale), subset_by_index=(0, free - 1))
        loose = scale[:, None] * vectors
        held = vectors / scale[:, None]
        stiffness = stiffness + held @ held.T
    unknowns = np.zeros_like(loads)
    unknowns[active] = solve_stiff(stiffness, loads[active])
    motions = np.zeros((loads.shape[0], free))
    motions[active] = loose
    return Response(unknowns, structure), motions


def plate_wrenches(structure: Structure, plate: int, bodies: Floats, gravities: Floats) -> Floats:
    """Return the (6 bodies, columns) wrenches on a plate's bolt bodies, about the middle of each mating face.

    `gravities` (3, columns) is the weight that acts on the plate itself.
    """
    model = structure.plates[plate]
    return np.asarray(model.stiffness @ bodies - model.weight_wrench @ gravities)


def solve_stiff(stiffness: Floats, loads: Floats) -> Floats:
    """Return the motions (n, k) under loads (n, k) on a stiffness (n, n); LinAlgError if not positive."""
    scale = 1.0 / np.sqrt(np.diag(stiffness))
    factor = cho_factor(stiffness * np.outer(scale, scale), lower=True)
    return np.asarray(scale[:, None] * cho_solve(factor, scale[:, None] * loads))
