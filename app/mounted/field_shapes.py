"""A solved plate: its skin banded by stress, contour lines with their values, and how it has moved.

Glossary
--------
low, near, over  below 80 % of the allowable, from there to 100 %, above it
hatch            lines across what is over, a fixed distance apart along the sheet: they read in grey print
"""

from __future__ import annotations

from typing import Final

import numpy as np

from app.mounted.isolines import Carried, line_at, nice_levels, split
from app.mounted.shapes import (
    Bools,
    Edges,
    Fill,
    Floats,
    Ints,
    Lines,
    Mark,
    Pen,
    Rounds,
    Shapes,
    Surface,
    skin_edges,
)
from app.wording.figures import Units, in_units
from geometry.flat_segments import ShapeError
from geometry.fold_map import fold_map_of
from geometry.plate import Plate
from geometry.solid_mesh import SolidMesh
from solver.results import PlateField

NEAR: Final = 0.8
HATCH_THICKNESSES: Final = 0.6
"""Distance between hatch lines, in thicknesses of the plate."""
SHORTEST_LABELLED_MM: Final = 18.0
LABELS_PER_LEVEL: Final = 2
_VALUE: Final = 6
_SLANT: Final = 7
_HEIGHT: Final = 8


def field_shapes(
    field: PlateField,
    plate: Plate,
    moved: Floats,
    *,
    stress: bool = True,
    highest_mpa: float | None = None,
    units: Units = "mm",
) -> Shapes:
    """Return the plate as solved; `plate` gives the thickness and the fold lines.

    `moved` (n_vertex, 3) is how its vertices move, mm. Without `stress` it is bare metal, and no map. Contour
    lines are spaced for `highest_mpa`, so that several maps share them; for the plate's own where None. They
    stand at round values of the units.
    """
    mesh = field.mesh
    vertex = mesh.vertex_nodes
    triangles = np.searchsorted(vertex, skin_triangles(mesh))
    points = mesh.points[vertex]
    skin = skin_edges(points, triangles)
    body = ("plate", field.plate)
    shapes = _edged(field.plate, points, moved, skin)
    tangents = _tangents(mesh, plate, vertex)
    shapes += Shapes(lines=(Lines("plate", field.plate, body, points[tangents], "thin", moved[tangents]),))
    flat = (mesh.flat_points if len(mesh.flat_points) else mesh.points)[vertex]
    slant = (flat[:, 0] + flat[:, 1]) / np.sqrt(2.0)
    attributes = np.column_stack([points, moved, field.von_mises_mpa, slant, flat[:, 2]])
    if not stress:
        return shapes + Shapes((_surface(field, Carried(attributes, triangles), "plate"),))
    mapped = np.asarray(field.judged[triangles].all(axis=1))
    return shapes + _map(field, attributes, triangles, mapped, plate.thickness_mm, (highest_mpa, units))


def skin_triangles(mesh: SolidMesh) -> Ints:
    """Return the corners (m, 3) of the mesh's skin, normals outward, by node number."""
    named = [
        faces
        for name, faces in mesh.patches.items()
        if name in ("front", "back", "edge") or name[:5] == "wall "
    ]
    if named:
        return np.concatenate(named)[:, :3]
    corners = mesh.tets[:, :4]
    faces = np.concatenate([corners[:, list(side)] for side in ((0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2))])
    _, first, count = np.unique(np.sort(faces, axis=1), axis=0, return_index=True, return_counts=True)
    outer: Ints = faces[first[count == 1]]
    return outer


def _edged(name: str, points: Floats, moved: Floats, edges: Edges) -> Shapes:
    body = ("plate", name)
    sharp, rounds = edges.sharp, edges.rounds
    return Shapes(
        lines=(Lines("plate", name, body, points[sharp], "edge", moved[sharp]),),
        rounds=(Rounds("plate", name, body, points[rounds], edges.normals, moved[rounds]),),
    )


def _tangents(mesh: SolidMesh, plate: Plate, vertex: Ints) -> Ints:
    """Return the mesh edges (k, 2) on tangent lines of bends, both faces, as places in `vertex`."""
    none = np.zeros((0, 2), dtype=np.int64)
    if not plate.folds or mesh.n_flat == 0:
        return none
    try:
        zones = fold_map_of(plate).folded.zones
    except ShapeError:
        return none
    corners = mesh.flat_triangles[:, :3]
    sides = np.unique(
        np.sort(np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]]), axis=1), axis=0
    )
    flat = mesh.flat_points[: mesh.n_flat, :2]
    found = [none]
    for zone in zones:
        off = np.abs((flat - np.asarray(zone.middle)) @ np.asarray(zone.aside))
        on = np.abs(off - zone.width_mm / 2.0) < 1e-5
        mine = sides[on[sides].all(axis=1)]
        found += [mine, mine + len(mesh.points) - mesh.n_flat]
    return np.searchsorted(vertex, np.concatenate(found))


def _map(
    field: PlateField,
    attributes: Floats,
    triangles: Ints,
    mapped: Bools,
    thickness_mm: float,
    spacing: tuple[float | None, Units],
) -> Shapes:
    whole = Carried(attributes, triangles[mapped])
    limit = field.allowable_mpa
    low, rest = split(whole, _VALUE, NEAR * limit)
    near, over = split(rest, _VALUE, limit)
    under = Carried(attributes, triangles[~mapped]).without_spares()
    bands: tuple[tuple[Carried, Fill], ...] = ((under, "plate"), (low, "low"), (near, "near"), (over, "over"))
    surfaces = tuple(_surface(field, band, fill) for band, fill in bands if len(band.triangles))
    return Shapes(surfaces, _hatching(field, over, HATCH_THICKNESSES * thickness_mm)) + _contours(
        field, whole, thickness_mm, *spacing
    )


def _surface(field: PlateField, band: Carried, fill: Fill) -> Surface:
    at = band.attributes
    return Surface(
        "plate",
        field.plate,
        ("plate", field.plate),
        np.ascontiguousarray(at[:, :3]),
        band.triangles,
        fill,
        np.ascontiguousarray(at[:, 3:6]),
        np.ascontiguousarray(at[:, _VALUE]),
    )


def _lines(field: PlateField, pieces: Floats, pen: Pen) -> Lines:
    return Lines("plate", field.plate, ("plate", field.plate), pieces[:, :, :3], pen, pieces[:, :, 3:6])


def _hatching(field: PlateField, over: Carried, apart_mm: float) -> tuple[Lines, ...]:
    if len(over.triangles) == 0:
        return ()
    slant = over.attributes[:, _SLANT]
    first, last = int(np.ceil(slant.min() / apart_mm)), int(np.floor(slant.max() / apart_mm))
    pieces = [line_at(over, _SLANT, k * apart_mm)[0] for k in range(first, last + 1)]
    return (_lines(field, np.concatenate(pieces), "hatch"),) if pieces else ()


def _contours(
    field: PlateField, whole: Carried, thickness_mm: float, highest_mpa: float | None, units: Units
) -> Shapes:
    """Return contour lines with their values on them; 80 % and 100 % of the allowable are heavier."""
    if len(whole.triangles) == 0:
        return Shapes()
    highest = float(whole.attributes[np.unique(whole.triangles), _VALUE].max())
    per_mpa, unit = in_units(1.0, "MPa", units)
    limits = (NEAR * field.allowable_mpa * per_mpa, field.allowable_mpa * per_mpa)
    shapes = Shapes()
    top = highest if highest_mpa is None else max(highest, highest_mpa)
    for level in (level for level in nice_levels(top * per_mpa, limits) if level <= highest * per_mpa):
        pieces, chains = line_at(whole, _VALUE, level / per_mpa)
        pen: Pen = "limit" if level in limits else "contour"
        words = f"{level:.3g}" + (f" {unit}" if level in limits else "")
        marks = tuple(_marks(field, pieces, chains, words, thickness_mm))
        shapes += Shapes(lines=(_lines(field, pieces, pen),), marks=marks)
    return shapes


def _marks(field: PlateField, pieces: Floats, chains: Ints, words: str, thickness_mm: float) -> list[Mark]:
    """Return places for a level's value: halfway along its longest lines on either face."""
    marks = []
    heights = pieces[:, :, _HEIGHT].mean(axis=1)
    for face in (heights > 0.99 * thickness_mm, heights < 0.01 * thickness_mm):
        lengths = np.linalg.norm(pieces[face][:, 1, :3] - pieces[face][:, 0, :3], axis=1)
        totals = np.bincount(chains[face], weights=lengths) if len(lengths) else np.zeros(0)
        for chain in np.argsort(-totals)[:LABELS_PER_LEVEL]:
            if totals[chain] >= SHORTEST_LABELLED_MM:
                marks.append(_mark(field, pieces[face & (chains == chain)], words))
    return marks


def _mark(field: PlateField, pieces: Floats, words: str) -> Mark:
    # Pieces lie in no order along the line; the one nearest to their middle place is on it.
    middles = pieces[:, :, :6].mean(axis=1)
    best = int(np.argmin(np.linalg.norm(middles[:, :3] - middles[:, :3].mean(axis=0), axis=1)))
    at = middles[best]
    along = pieces[best, 1, :3] - pieces[best, 0, :3]
    return Mark("contour", "plate", field.plate, words, ("plate", field.plate), at[:3], at[3:6], along)
