"""One plate, condensed to its bolts and welds.

Glossary
--------
body      the rigid end of a bed: six freedoms at the middle of a mating face or of a weld's segment
bed       an elastic layer between a footprint and a body; it stands for the clamped faces and settles the
stress round them
head      the body of the washer face, joined to the mating body by the bolt's shank; eliminated with the
plate
modes     how the plate moves when one freedom of one body moves by one and all others stay
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse

from geometry.bracket import Bracket
from geometry.materials import Material, material
from geometry.placing import BoltPlace
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from geometry.weld_places import WeldBody
from solver.cholesky import Factor
from solver.dissection import dissect
from solver.elasticity import body_force
from solver.load_cases import weight_n
from solver.ordered_blocks import assemble_in_order
from solver.other_beds import OtherBeds, Ways, drifts_of
from solver.plate_beds import Beds, beds_of, shanks_of
from solver.rigid import Floats, carry
from solver.stress import vertex_stress
from solver.suppleness import Riders, Suppleness

_WEIGHT = 3
"""Freedoms of the border node that carries the weight's forces along X, Y, Z."""


@dataclass(frozen=True)
class CondensedPlate:
    """A plate as its bolts and welds feel it, with what gives the rest back.

    Its b bodies are those of `places`, then those of `welds`.
    """

    plate: Plate
    metal: Material
    mesh: SolidMesh
    places: tuple[BoltPlace, ...]
    stiffness: Floats
    """(6 b, 6 b) over the bodies, X, Y, Z about the middle of each; six zero eigenvalues."""
    weight_wrench: Floats
    """(6 b, 3): what the plate's own weight along X, Y, Z puts on bodies that stay."""
    modes: Floats
    """(3 n, 6 b + 3) displacement of every node, mm: a unit of each body's freedom, then weight along X, Y,
    Z."""
    mass_kg: float
    mass_centre_mm: Floats
    drifts: Drifts | None = None
    """How the modes change with the beds, where that was asked for."""
    welds: tuple[WeldBody, ...] = ()

    @property
    def body_count(self) -> int:
        """Return the number of its bodies."""
        return len(self.places) + len(self.welds)

    def movement(self, bodies: Floats, gravities: Floats) -> Floats:
        """Return the (3 n, columns) displacement for motions of the bodies and weights.

        `bodies` (6 b, columns), `gravities` (3, columns).
        """
        return np.asarray(self.modes @ np.vstack([bodies, gravities]))

    def stress_modes(self) -> Floats:
        """Return (v, 6, 6 b + 3) stress at mesh.vertex_nodes in MPa for every mode.

        Components are in the order of solver.stress.
        """
        return vertex_stress(self.mesh, self.modes, self.metal.elastic_modulus_mpa, self.metal.poisson)


@dataclass(frozen=True)
class Drifts:
    """How a plate's modes begin to change as all beds become stiffer by one factor; and its suppleness."""

    modes: Floats
    """(3 n, drifts of every mode), mm."""
    beds: OtherBeds
    suppleness: Suppleness


def condense_plate(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    places: Sequence[BoltPlace],
    *,
    out: Collection[str] = (),
    bed_factor: float = 1.0,
    drifts: bool = False,
    welds: Sequence[WeldBody] = (),
) -> CondensedPlate:
    """Return the plate condensed to the bolts at `places` and to welds; bolts in `out` have no bed.

    `bed_factor` multiplies every bed's stiffness; `drifts` asks how the modes change with it. Raises
    SolverError if the plate is not held by its beds.
    """
    metal = material(plate.material or "", bracket.materials)
    kept = tuple(p for p in places if p.bolt not in out)
    count = 6 * (len(kept) + len(welds))
    weight = _weights(mesh, metal)
    factor, beds = _factored(bracket, plate, mesh, kept, welds, bed_factor, weight)
    bodies = len(beds.on_bodies)
    wrench = factor.condensed[:bodies, bodies:]
    # Heads follow: they are eliminated from the small system, mating bodies and welds stay.
    whole = factor.condensed[:bodies, :bodies] + shanks_of(plate, kept, len(welds))
    give = _give_of_heads(whole, count)
    follow = -give @ whole[count:, :count]
    sag = give @ wrench[count:]
    moved = np.block([[np.eye(count), np.zeros((count, 3))], [follow, sag]])
    modes = factor.backward(None, np.vstack([moved, -np.eye(3, count + 3, count)]))
    condensed = whole[:count, :count] + whole[:count, count:] @ follow
    condensed = 0.5 * (condensed + condensed.T)
    mass, centre = _mass(mesh, weight)
    return CondensedPlate(
        plate,
        metal,
        mesh,
        kept,
        condensed,
        wrench[:count] - whole[:count, count:] @ sag,
        modes,
        mass,
        centre,
        _drifts(mesh, factor, beds, give, (modes, moved), condensed, weight) if drifts else None,
        tuple(welds),
    )


def _drifts(
    mesh: SolidMesh, factor: Factor, beds: Beds, give: Floats, modes: Ways, stiffness: Floats, weight: Floats
) -> Drifts:
    """Return how the modes (nodes, bodies) change with the beds; `give` is the heads' own."""

    def answer(forces: Ways) -> Ways:
        return _held(factor, give, forces)

    riders = Riders(mesh, answer)
    drifts, other_beds = drifts_of(beds, modes, weight, stiffness, riders.answer)
    return Drifts(drifts, other_beds, riders.suppleness(modes[0]))


def _held(factor: Factor, give: Floats, forces: Ways) -> Ways:
    """Return how nodes and bodies move under forces on both while the mating bodies stay."""
    half = factor.forward(forces[0])
    kept = len(forces[1]) - len(give)
    heads = give @ (forces[1][kept:] + half.on_border[kept:-_WEIGHT])
    bodies = np.vstack([np.zeros((kept, heads.shape[1])), heads])
    return factor.backward(half, np.pad(bodies, ((0, _WEIGHT), (0, 0)))), bodies


def answer_with_bodies_held(bracket: Bracket, plate: CondensedPlate) -> Callable[[Floats], Floats]:
    """Factor a plate once more; return what gives its movement (3 n, k) under forces (3 n, k).

    The mating bodies and welds stay, heads follow. SolverError as `condense_plate`.
    """
    weight = _weights(plate.mesh, plate.metal)
    factor, beds = _factored(bracket, plate.plate, plate.mesh, plate.places, plate.welds, 1.0, weight)
    count, bodies = 6 * (len(plate.places) + len(plate.welds)), len(beds.on_bodies)
    whole = factor.condensed[:bodies, :bodies] + shanks_of(plate.plate, plate.places, len(plate.welds))
    give = _give_of_heads(whole, count)

    def answer(forces: Floats) -> Floats:
        return _held(factor, give, (forces, np.zeros((len(whole), forces.shape[1]))))[0]

    return answer


def _factored(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    places: Sequence[BoltPlace],
    welds: Sequence[WeldBody],
    bed_factor: float,
    weight: Floats,
) -> tuple[Factor, Beds]:
    """Return the plate's factor with its beds, the bodies its border.

    The weight's forces (3 n, 3) are taken along as one more border node, moved by -1: no sweep of their own.
    """
    metal = material(plate.material or "", bracket.materials)
    beds = beds_of(bracket, plate, mesh, places, bed_factor, welds)
    held = bool(places or welds)
    plan = dissect(mesh)
    stiffness = assemble_in_order(
        mesh, plan, metal.elastic_modulus_mpa, metal.poisson, beds.on_nodes if held else None
    )
    border = sparse.hstack([beds.to_bodies, sparse.bsr_matrix(weight, blocksize=(3, 3))])
    return Factor(mesh, stiffness, border, np.pad(beds.on_bodies, (0, _WEIGHT)), plan), beds


def _give_of_heads(whole: Floats, count: int) -> Floats:
    return np.asarray(np.linalg.inv(whole[count:, count:]))


def rigid_modes(plate: CondensedPlate) -> Floats:
    """Return the (6 b, 6) motions of the bodies when the plate moves as a rigid body about the origin."""
    at = [place.mating_mm for place in plate.places] + [body.segment.at_mm for body in plate.welds]
    return np.vstack([carry(np.zeros(3), place) for place in at])


def _weights(mesh: SolidMesh, metal: Material) -> Floats:
    """Return the (3 n, 3) nodal forces of the plate's own weight along X, Y, Z, in N."""
    per_volume = weight_n(metal.density_kg_m3 * 1e-9)
    share = body_force(mesh, np.array([per_volume, 0.0, 0.0]))[::3]
    return np.asarray(np.kron(share[:, None], np.eye(3)))


def _mass(mesh: SolidMesh, weight: Floats) -> tuple[float, Floats]:
    along = weight[::3, 0]
    total = float(along.sum())
    return total / weight_n(1.0), np.asarray(along @ mesh.points / total)
