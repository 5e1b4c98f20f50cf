"""The beds of welds: what ties a plate's cut edge, or a strip of its face, to the rigid segments of a weld.

A segment never slips or opens. Its bed is stiff: a layer of weld metal a tenth of the sheet's thickness deep,
which gives about what two throats at the sheet's faces give (own estimate). What cannot be meshed gives as a
half-space does at the root of a cantilever, theta = 16.67 (1 - nu2) M / (pi E t2) for a unit of length
(O'Donnell, Journal of Applied Mechanics 27, 1960, from memory, to be verified): 0.4 t of it.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy import sparse

from geometry.bracket import Bracket
from geometry.materials import backing_metal, material
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from geometry.weld_mark import WeldMark, weld_marks
from geometry.weld_places import WeldBody, WeldPlace
from solver.elasticity import bed
from solver.errors import SolverError
from solver.rigid import Floats
from solver.shape_functions import ReferenceElement, triangle_evenly

METAL_SHARE: Final = 0.1
"""Depth of the weld's own layer over the sheet's thickness."""
BACKING_SHARE: Final = 0.4
"""Depth of what gives behind a weld to a bar or an anchor, over the sheet's thickness."""
STEEL_MPA: Final = 210_000.0
_FINE: Final = 6
"""Parts along each side of a triangle that a strip's border cuts: where the strip ends inside it."""


def weld_bed(
    bracket: Bracket, plate: Plate, mesh: SolidMesh, body: WeldBody, bed_factor: float
) -> tuple[sparse.spmatrix, sparse.spmatrix, Floats]:
    """Return one segment's bed as `solver.elasticity.bed` does; SolverError where it touches nothing."""
    place = body.segment.place
    metal = material(plate.material or "", bracket.materials)
    depth = _metal_depth_mm(place) / metal.elastic_modulus_mpa
    if body.on == "edge":
        depth += _backing_depth_mm(bracket, place)
        faces, shares, reference = _cut_face(mesh, body)
    else:
        index = place.partner_index
        mark = next(
            m for m in weld_marks(bracket, -1 if index is None else index)
            if m.name == place.weld.name and m.on == place.partner_side
        )  # fmt: skip
        faces, shares, reference = _strip(mesh, mark, body)
    if not len(faces):
        raise SolverError(f"weld {place.weld.name} touches nothing of plate {plate.name}: move either")
    normal = bed_factor / depth
    along_face = normal / (2.0 * (1.0 + metal.poisson))
    return bed(
        mesh,
        faces,
        body.segment.at_mm,
        place.frame[:, 1],
        normal,
        along_face,
        shares=shares,
        reference=reference,
    )


def _metal_depth_mm(place: WeldPlace) -> float:
    """Return the depth of the weld's own layer.

    One throat alone bends about its root: as deep as gives the whole cut face the throat's own stiffness.
    """
    if place.weld.sides == "both":
        return METAL_SHARE * place.thickness_mm
    return max(place.thickness_mm**3 / place.throat_mm**2, METAL_SHARE * place.thickness_mm)


def _backing_depth_mm(bracket: Bracket, place: WeldPlace) -> float:
    """Return depth over modulus of what is not meshed behind a weld, mm/MPa; 0 for a plate, which is."""
    if place.partner == "plate":
        return 0.0
    modulus = STEEL_MPA
    if place.partner == "anchor":
        metals = {anchor.name: anchor.metal for anchor in bracket.anchors}
        modulus = backing_metal(metals[place.partner_name]).elastic_modulus_mpa[0]
    elif bracket.dash_bar is not None:
        modulus = material(bracket.dash_bar.material, bracket.materials).elastic_modulus_mpa
    return BACKING_SHARE * place.thickness_mm / modulus


def _cut_face(
    mesh: SolidMesh, body: WeldBody
) -> tuple[NDArray[np.int64], Floats | None, ReferenceElement | None]:
    """Return the faces of the cut edge within a segment: the mesh is cut at its ends."""
    segment = body.segment
    (start, end), (low, high) = segment.place.flat_mm, segment.shares
    way = np.subtract(end, start) / segment.place.length_mm
    faces = mesh.patches["edge"]
    middle = mesh.flat_points[faces[:, :3], :2].mean(axis=1) - np.asarray(start)
    along = middle @ way / segment.place.length_mm
    corners = mesh.flat_points[faces[:, :3], :2] - np.asarray(start)
    across = np.abs(corners @ np.array([-way[1], way[0]])).max(axis=1)
    return faces[(across < 0.01) & (along > low) & (along < high)], None, None


def _strip(
    mesh: SolidMesh, mark: WeldMark, body: WeldBody
) -> tuple[NDArray[np.int64], Floats | None, ReferenceElement | None]:
    """Return the faces under a strip, and how much of each of their parts lies in the segment.

    No mesh line bounds the strip, so each face is looked at in many places.
    """
    low, high = (share * mark.length_mm for share in body.segment.shares)
    faces = mesh.patches[mark.on]
    corners = mesh.flat_points[faces[:, :3], :2]
    along, across = mark.off(corners.reshape(-1, 2))
    along, across = along.reshape(-1, 3), across.reshape(-1, 3)
    near = (along.max(axis=1) > low) & (along.min(axis=1) < high)
    near &= (across.max(axis=1) > -mark.half_mm) & (across.min(axis=1) < mark.half_mm)
    faces = faces[near]
    reference = triangle_evenly(_FINE)
    spots = np.einsum("qn,fni->fqi", reference.values, mesh.flat_points[faces][..., :2])
    a, c = mark.off(spots.reshape(-1, 2))
    inside = (a > low) & (a < high) & (np.abs(c) < mark.half_mm)
    shares = inside.reshape(len(faces), -1).astype(np.float64)
    touched = shares.any(axis=1)
    return faces[touched], shares[touched], reference
