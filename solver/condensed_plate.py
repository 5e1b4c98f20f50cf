"""One plate, condensed to its bolts.

Glossary
--------
body      the rigid end of a bed: six freedoms at the middle of a mating face
bed       an elastic layer between a footprint and a body; it stands for the clamped faces and settles the
stress round them
head      the body of the washer face, joined to the mating body by the bolt's shank; eliminated with the
plate
modes     how the plate moves when one freedom of one body moves by one and all others stay
"""

from __future__ import annotations

import functools
import operator
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse

from geometry.bracket import Bracket
from geometry.fixing import AtHole
from geometry.footprint import ring_name
from geometry.materials import Material, backing_metal, material
from geometry.placing import BoltPlace
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from solver.beam import beam_stiffness, ring_section
from solver.cholesky import Factor
from solver.elasticity import assemble_stiffness, bed, body_force
from solver.load_cases import weight_n
from solver.rigid import Floats, axes_along, carry
from solver.stress import vertex_stress

STEEL = (210_000.0, 0.3)


@dataclass(frozen=True)
class CondensedPlate:
    """A plate as its bolts feel it, with what gives the rest back."""

    plate: Plate
    metal: Material
    mesh: SolidMesh
    places: tuple[BoltPlace, ...]
    stiffness: Floats
    """(6 b, 6 b) over the bodies, X, Y, Z about the middle of each mating face; six zero eigenvalues."""
    weight_wrench: Floats
    """(6 b, 3): what the plate's own weight along X, Y, Z puts on bodies that stay."""
    modes: Floats
    """(3 n, 6 b + 3) displacement of every node, mm: a unit of each body's freedom, then weight along X, Y,
    Z."""
    mass_kg: float
    mass_centre_mm: Floats

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


def condense_plate(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    places: Sequence[BoltPlace],
    *,
    out: Collection[str] = (),
    bed_factor: float = 1.0,
    bare: sparse.spmatrix | None = None,
) -> CondensedPlate:
    """Return the plate condensed to the bolts at `places`; bolts in `out` have no bed.

    `bed_factor` multiplies every bed's stiffness. `bare` is the stiffness without beds, from
    `bare_stiffness`, if it is known already. Raises SolverError if the plate is not held by its beds.
    """
    metal = material(plate.material or "", bracket.materials)
    modulus = metal.elastic_modulus_mpa
    kept = tuple(p for p in places if p.bolt not in out)
    count = 6 * len(kept)
    beds, coupling = [], []
    own = np.zeros((2 * count, 2 * count))
    shanks = np.zeros_like(own)
    for i, (place, face) in enumerate([(p, "mating") for p in kept] + [(p, "head") for p in kept]):
        rows = slice(6 * i, 6 * i + 6)
        on_nodes, to_body, on_body = _bed_of(bracket, plate, mesh, place, face, bed_factor, modulus)
        beds.append(on_nodes)
        coupling.append(to_body)
        own[rows, rows] = on_body
    for i, place in enumerate(kept):
        shank = beam_stiffness(
            ring_section(place.bolt_diameter_mm, 0.0), plate.thickness_mm, *STEEL, axes_along(-place.axis)
        )
        both = np.r_[6 * i : 6 * i + 6, count + 6 * i : count + 6 * i + 6]
        shanks[np.ix_(both, both)] += shank
    stiffness = bare_stiffness(bracket, plate, mesh) if bare is None else bare
    if beds:
        # Beds are small: added up first, the large matrix is copied once.
        stiffness = stiffness + functools.reduce(operator.add, beds)
    factor = Factor(mesh, stiffness, sparse.hstack(coupling) if coupling else None, own)
    weight = _weights(mesh, metal)
    # Heads follow: they are eliminated from the small system, mating bodies stay.
    whole = factor.condensed + shanks
    at_border = factor.condensed_loads(weight)
    give = np.linalg.inv(whole[count:, count:]) if count else np.zeros((0, 0))
    follow = -give @ whole[count:, :count]
    sag = give @ at_border[count:]
    border = np.block([[np.eye(count), np.zeros((count, 3))], [follow, sag]])
    modes = np.hstack(
        [
            factor.solve(np.zeros((len(weight), count)), border[:, :count]),
            factor.solve(weight, border[:, count:]),
        ]
    )
    condensed = whole[:count, :count] + whole[:count, count:] @ follow
    mass, centre = _mass(mesh, weight)
    return CondensedPlate(
        plate,
        metal,
        mesh,
        kept,
        0.5 * (condensed + condensed.T),
        at_border[:count] - whole[:count, count:] @ sag,
        modes,
        mass,
        centre,
    )


def bare_stiffness(bracket: Bracket, plate: Plate, mesh: SolidMesh) -> sparse.spmatrix:
    """Return the stiffness (3 n, 3 n) of a plate without its beds, N/mm."""
    metal = material(plate.material or "", bracket.materials)
    return assemble_stiffness(mesh, metal.elastic_modulus_mpa, metal.poisson)


def rigid_modes(plate: CondensedPlate) -> Floats:
    """Return the (6 b, 6) motions of the bodies when the plate moves as a rigid body about the origin."""
    return np.vstack([carry(np.zeros(3), place.mating_mm) for place in plate.places])


def partner_modulus(bracket: Bracket, place: BoltPlace) -> float:
    """Return the elastic modulus of what a bolt's mating face rests on, MPa."""
    if place.partner == "boss" and bracket.casing is not None:
        return backing_metal(bracket.casing.boss(place.partner_name).metal).elastic_modulus_mpa[0]
    if place.partner == "anchor":
        metals = {anchor.name: anchor.metal for anchor in bracket.anchors}
        return backing_metal(metals[place.partner_name]).elastic_modulus_mpa[0]
    joins = bracket.bolt(place.bolt).joins
    if isinstance(joins, AtHole):
        other = joins.plate if place.side == "head" else bracket.bolt(place.bolt).plate
        return material(bracket.plate(other).material or "", bracket.materials).elastic_modulus_mpa
    return STEEL[0]


def _bed_of(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    place: BoltPlace,
    face: str,
    bed_factor: float,
    modulus: float,
) -> tuple[sparse.spmatrix, sparse.spmatrix, Floats]:
    """Return one footprint's bed: E/t of the plate in series with as thick a layer of what it rests on."""
    side, at, partner = place.mating_side, place.mating_mm, partner_modulus(bracket, place)
    if face == "head":
        side = "front" if place.mating_side == "back" else "back"
        at, partner = place.mating_mm - place.axis * plate.thickness_mm, STEEL[0]
    normal = bed_factor / (plate.thickness_mm * (1.0 / modulus + 1.0 / partner))
    # Along the face a layer is softer by E over G.
    return bed(
        mesh,
        mesh.patches[ring_name(place.bolt, side)],
        at,
        place.axis,
        normal,
        normal / (2.0 * (1.0 + STEEL[1])),
    )


def _weights(mesh: SolidMesh, metal: Material) -> Floats:
    """Return the (3 n, 3) nodal forces of the plate's own weight along X, Y, Z, in N."""
    per_volume = weight_n(metal.density_kg_m3 * 1e-9)
    return np.column_stack([body_force(mesh, per_volume * axis) for axis in np.eye(3)])


def _mass(mesh: SolidMesh, weight: Floats) -> tuple[float, Floats]:
    along = weight[::3, 0]
    total = float(along.sum())
    return total / weight_n(1.0), np.asarray(along @ mesh.points / total)
