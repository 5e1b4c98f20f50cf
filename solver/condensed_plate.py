"""One plate, condensed to its bolts.

Glossary
--------
body      the rigid end of a bed: six freedoms at the middle of a mating face
bed       an elastic layer between a footprint and a body; it stands for the clamped faces and settles the stress round them
head      the body of the washer face, joined to the mating body by the bolt's shank; eliminated with the plate
modes     how the plate moves when one freedom of one body moves by one and all others stay
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse

from geometry.bracket import Bracket
from geometry.fixing import AtHole
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
    """(3 n, 6 b + 3) displacement of every node, mm: a unit of each body's freedom, then weight along X, Y, Z."""
    mass_kg: float
    mass_centre_mm: Floats

    def movement(self, bodies: Floats, gravities: Floats) -> Floats:
        """Return the (3 n, columns) displacement for motions of the bodies (6 b, columns) and weights (3, columns)."""
        return np.asarray(self.modes @ np.vstack([bodies, gravities]))

    def stress_modes(self, vertices: np.ndarray) -> Floats:
        """Return (v, 6, 6 b + 3) stress at vertex nodes in MPa, in the order of solver.stress, for every mode."""
        return vertex_stress(
            self.mesh, self.modes, self.metal.elastic_modulus_mpa, self.metal.poisson, vertices=vertices
        )


def condense_plate(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    places: Sequence[BoltPlace],
    *,
    out: Collection[str] = (),
    bed_factor: float = 1.0,
) -> CondensedPlate:
    """Return the plate condensed to the bolts at `places`; bolts in `out` have no bed.

    `bed_factor` multiplies every bed's stiffness. Raises SolverError if the plate is not held by its beds.
    """
    metal = material(plate.material or "", bracket.materials)
    modulus = metal.elastic_modulus_mpa
    kept = tuple(p for p in places if p.bolt not in out)
    count = mesh.points.shape[0] * 3
    heads = 6 * len(kept)
    corner = assemble_stiffness(mesh, modulus, metal.poisson)
    to_heads, head_own = [], np.zeros((heads, heads))
    boundary = np.zeros((count + heads, 6 * len(kept)))
    own = np.zeros((6 * len(kept), 6 * len(kept)))
    for i, place in enumerate(kept):
        rows = slice(6 * i, 6 * i + 6)
        mating_k = bed_factor / (plate.thickness_mm * (1.0 / modulus + 1.0 / _partner_modulus(bracket, place)))
        head_k = bed_factor / (plate.thickness_mm * (1.0 / modulus + 1.0 / STEEL[0]))
        head_side = "front" if place.mating_side == "back" else "back"
        head_at = place.mating_mm - place.axis * plate.thickness_mm
        near = bed(mesh, mesh.patches[f"bolt {place.bolt} {place.mating_side}"], place.mating_mm, place.axis, *_both(mating_k))
        far = bed(mesh, mesh.patches[f"bolt {place.bolt} {head_side}"], head_at, place.axis, *_both(head_k))
        corner = corner + near[0] + far[0]
        boundary[:count, rows] = near[1]
        to_heads.append(far[1])
        shank = beam_stiffness(
            ring_section(place.bolt_diameter_mm, 0.0), plate.thickness_mm, *STEEL, axes_along(-place.axis)
        )
        own[rows, rows] = near[2] + shank[:6, :6]
        head_own[rows, rows] = far[2] + shank[6:, 6:]
        boundary[count + 6 * i : count + 6 * i + 6, rows] = shank[6:, :6]
    coupling = sparse.csc_matrix(np.hstack(to_heads)) if kept else sparse.csc_matrix((count, 0))
    inner = sparse.bmat([[corner, coupling], [coupling.T, sparse.csc_matrix(head_own)]], format="csc")
    weight = np.vstack([_weights(mesh, metal), np.zeros((heads, 3))])
    modes = Factor(inner, _elimination_places(mesh, kept, plate)).solve(np.hstack([-boundary, weight]))
    stiffness = own + boundary.T @ modes[:, : 6 * len(kept)]
    mass, centre = _mass(mesh, metal, weight)
    return CondensedPlate(
        plate,
        metal,
        mesh,
        kept,
        0.5 * (stiffness + stiffness.T),
        np.asarray(modes[:, : 6 * len(kept)].T @ weight),
        np.ascontiguousarray(modes[:count]),
        mass,
        centre,
    )


def rigid_modes(plate: CondensedPlate) -> Floats:
    """Return the (6 b, 6) motions of the bodies when the plate moves as a rigid body about the origin."""
    return np.vstack([carry(np.zeros(3), place.mating_mm) for place in plate.places])


def _both(normal: float) -> tuple[float, float]:
    """Return a bed's stiffness square to the face and along it: a layer is softer in shear by E over G."""
    return normal, normal / (2.0 * (1.0 + STEEL[1]))


def _partner_modulus(bracket: Bracket, place: BoltPlace) -> float:
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


def _weights(mesh: SolidMesh, metal: Material) -> Floats:
    """Return the (3 n, 3) nodal forces of the plate's own weight along X, Y, Z, in N."""
    per_volume = weight_n(metal.density_kg_m3 * 1e-9)
    return np.column_stack([body_force(mesh, per_volume * axis) for axis in np.eye(3)])


def _mass(mesh: SolidMesh, metal: Material, weight: Floats) -> tuple[float, Floats]:
    along = weight[: 3 * len(mesh.points) : 3, 0]
    total = float(along.sum())
    return total / weight_n(1.0), np.asarray(along @ mesh.points / total)


def _elimination_places(mesh: SolidMesh, places: Sequence[BoltPlace], plate: Plate) -> Floats:
    """Return where the unknowns stand in the flat pattern, for the order of elimination: nodes, then two points a head."""
    flat = mesh.flat_points
    heads = [np.array([*place.flat_mm, plate.thickness_mm / 2.0]) for place in places for _ in range(2)]
    return np.vstack([flat, *heads]) if heads else flat
