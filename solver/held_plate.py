"""One plate factored with its beds: how it gives while what it is clamped to stays.

Glossary
--------
body      the rigid end of a bed: six freedoms at the middle of a mating face or of a weld's segment
bed       an elastic layer between a footprint and a body; it stands for the clamped faces and settles the
          stress round them
head      the body of the washer face, joined to the mating body by the bolt's shank; it follows, and is
          eliminated with the plate
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy import sparse

from geometry.bracket import Bracket
from geometry.materials import Material, material
from geometry.placing import BoltPlace
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from geometry.wanted import still_wanted
from geometry.weld_places import WeldBody
from solver.cholesky import Factor
from solver.dissection import dissect
from solver.elasticity import body_force
from solver.load_cases import weight_n
from solver.ordered_blocks import assemble_in_order
from solver.other_beds import Ways
from solver.plate_beds import Beds, beds_of, shanks_of
from solver.rigid import Floats

WEIGHT = 3
"""Freedoms of the border node that carries the weight's forces along X, Y, Z."""


@dataclass(frozen=True)
class HeldPlate:
    """A plate's factor, the bodies of its beds and the weight its border."""

    factor: Factor
    beds: Beds
    weight: Floats
    """(3 n, 3) nodal forces of the plate's own weight along X, Y, Z, N."""
    whole: Floats
    """(12 b, 12 b) stiffness of all bodies: those that stay, then the heads, shanks between them."""
    staying: int
    """Freedoms of the bodies that stay: mating faces and welds."""

    @cached_property
    def give(self) -> Floats:
        """How the heads give under forces on them while the others stay."""
        return np.asarray(np.linalg.inv(self.whole[self.staying :, self.staying :]))

    @cached_property
    def wrench(self) -> Floats:
        """What the plate's own weight along X, Y, Z puts on bodies that all stay, (12 b, 3)."""
        bodies = len(self.whole)
        return self.factor.condensed[:bodies, bodies:]

    @cached_property
    def moved(self) -> Floats:
        """How all bodies move (12 b, 6 b + 3): one freedom that stays by a unit, or weight; heads follow."""
        count = self.staying
        follow = -self.give @ self.whole[count:, :count]
        sag = self.give @ self.wrench[count:]
        return np.block([[np.eye(count), np.zeros((count, WEIGHT))], [follow, sag]])

    def modes(self) -> Floats:
        """Return how the nodes (3 n, 6 b + 3) move with that."""
        weighed = -np.eye(WEIGHT, self.staying + WEIGHT, self.staying)
        return self.factor.backward(None, np.vstack([self.moved, weighed]))

    def answer(self, forces: Ways) -> Ways:
        """Return how nodes and bodies move under forces on both while the mating bodies and welds stay."""
        half = self.factor.forward(forces[0])
        heads = self.give @ (forces[1][self.staying :] + half.on_border[self.staying : -WEIGHT])
        bodies = np.vstack([np.zeros((self.staying, heads.shape[1])), heads])
        return self.factor.backward(half, np.pad(bodies, ((0, WEIGHT), (0, 0)))), bodies

    def answer_nodes(self, forces: Floats) -> Floats:
        """Return how the nodes (3 n, k) move under forces (3 n, k) on them alone."""
        return self.answer((forces, np.zeros((len(self.whole), forces.shape[1]))))[0]


def hold_plate(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    places: Sequence[BoltPlace],
    welds: Sequence[WeldBody] = (),
    bed_factor: float = 1.0,
) -> HeldPlate:
    """Return the plate factored with the beds of its bolts and welds, each `bed_factor` times as stiff.

    The weight's forces are taken along as one more border node, moved by -1: no sweep of their own. Raises
    SolverError if the plate is not held by its beds.
    """
    metal = material(plate.material or "", bracket.materials)
    weight = _weights(mesh, metal)
    beds = beds_of(bracket, plate, mesh, places, bed_factor, welds)
    still_wanted()
    plan = dissect(mesh)
    still_wanted()
    stiffness = assemble_in_order(
        mesh,
        plan,
        metal.elastic_modulus_mpa,
        metal.poisson,
        beds.on_nodes if places or welds else None,
    )
    still_wanted()
    border = sparse.hstack([beds.to_bodies, sparse.bsr_matrix(weight, blocksize=(3, 3))])
    factor = Factor(mesh, stiffness, border, np.pad(beds.on_bodies, (0, WEIGHT)), plan)
    bodies = len(beds.on_bodies)
    whole = factor.condensed[:bodies, :bodies] + shanks_of(plate, places, len(welds))
    return HeldPlate(factor, beds, weight, whole, 6 * (len(places) + len(welds)))


def _weights(mesh: SolidMesh, metal: Material) -> Floats:
    """Return the (3 n, 3) nodal forces of the plate's own weight along X, Y, Z, in N."""
    per_volume = weight_n(metal.density_kg_m3 * 1e-9)
    share = body_force(mesh, np.array([per_volume, 0.0, 0.0]))[::3]
    return np.asarray(np.kron(share[:, None], np.eye(3)))
