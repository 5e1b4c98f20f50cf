"""The beds under a plate's footprints and welds: what ties it to its mating bodies, welds and heads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse

from geometry.bracket import Bracket
from geometry.fixing import AtHole
from geometry.footprint import ring_name
from geometry.materials import backing_metal, material
from geometry.placing import BoltPlace
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from geometry.weld_places import WeldBody
from solver.beam import beam_stiffness, ring_section
from solver.elasticity import added_up, bed
from solver.rigid import Floats, axes_along
from solver.weld_beds import weld_bed

STEEL = (210_000.0, 0.3)


@dataclass(frozen=True)
class Beds:
    """All beds of a plate: of the mating faces, of the welds, then of the heads, six freedoms each."""

    on_nodes: sparse.spmatrix
    """(3 n, 3 n)."""
    to_bodies: sparse.spmatrix
    """(3 n, 12 b + 6 w) between nodes and bodies."""
    on_bodies: Floats
    """(12 b + 6 w, 12 b + 6 w)."""


def beds_of(
    bracket: Bracket,
    plate: Plate,
    mesh: SolidMesh,
    places: Sequence[BoltPlace],
    bed_factor: float = 1.0,
    welds: Sequence[WeldBody] = (),
) -> Beds:
    """Return the beds of the bolts at `places` and of welds, all stiffer by a factor."""
    size = 3 * len(mesh.points)
    if not (places or welds):
        return Beds(sparse.csr_matrix((size, size)), sparse.csr_matrix((size, 0)), np.zeros((0, 0)))
    modulus = material(plate.material or "", bracket.materials).elastic_modulus_mpa
    found = [_bed_of(bracket, plate, mesh, place, "mating", bed_factor, modulus) for place in places]
    found += [weld_bed(bracket, plate, mesh, weld, bed_factor) for weld in welds]
    found += [_bed_of(bracket, plate, mesh, place, "head", bed_factor, modulus) for place in places]
    on_nodes, to_bodies = [bed[0] for bed in found], [bed[1] for bed in found]
    own = np.zeros((6 * len(found), 6 * len(found)))
    for i, (_, _, body) in enumerate(found):
        own[6 * i : 6 * i + 6, 6 * i : 6 * i + 6] = body
    return Beds(added_up(on_nodes), sparse.hstack(to_bodies), own)


def shanks_of(plate: Plate, places: Sequence[BoltPlace], welds: int = 0) -> Floats:
    """Return the stiffness (12 b + 6 w, 12 b + 6 w) of the shanks between mating bodies and heads."""
    count = 6 * (len(places) + welds)
    size = count + 6 * len(places)
    shanks = np.zeros((size, size))
    for i, place in enumerate(places):
        shank = beam_stiffness(
            ring_section(place.bolt_diameter_mm, 0.0), plate.thickness_mm, *STEEL, axes_along(-place.axis)
        )
        both = np.r_[6 * i : 6 * i + 6, count + 6 * i : count + 6 * i + 6]
        shanks[np.ix_(both, both)] += shank
    return shanks


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
