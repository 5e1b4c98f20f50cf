"""The stress of a plate on its flat pattern, as areas and labelled lines: it reads in grey print. No Qt.

Pale below 80 % of the allowable, amber from there to 100 %, vermilion and hatched above. At every place
stands the worse of both faces, worst of all load cases; inside the judged circles nothing is shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from app.mounted.field_shapes import NEAR
from app.mounted.isolines import Carried, line_at, nice_levels, split
from app.paper.page import SMALL_MM, Figure, Mark, Stroke, Words
from app.theme import PAPER
from app.wording.figures import Units, bare, in_units
from solver.results import Floats, PlateField

_VALUE: Final = 2
_HATCH_MM: Final = 1.6
_GRID_MM: Final = 1e-3
"""Places are rounded to it, so that lines join whatever the last digits of a figure are."""
_LETTERS_MM: Final = 2.1
_PLACES: Final = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Shares along a line at which its figure may stand, the best first."""
_LEAST_LABELLED_MM: Final = 9.0
"""On paper."""


def flat_values(field: PlateField) -> Carried:
    """Return the judged triangles of the flat pattern with x, y and the worse of both faces' stress, MPa."""
    mesh = field.mesh
    count = mesh.n_flat_vertices
    worst = np.zeros(count)
    judged = np.ones(count, dtype=bool)
    flat_number = mesh.lattice[mesh.vertex_nodes] % mesh.n_flat
    np.maximum.at(worst, flat_number, field.von_mises_mpa)
    np.logical_and.at(judged, flat_number, field.judged)
    triangles = mesh.flat_triangles[:, :3]
    kept = judged[triangles].all(axis=1)
    attributes = np.column_stack([mesh.flat_points[:count, :2], worst])
    return Carried(attributes, triangles[kept]).without_spares()


def map_marks(
    field: PlateField,
    low_mm: tuple[float, float],
    high_y_mm: float,
    scale: float,
    units: Units = "mm",
) -> list[Mark]:
    """Return the map's marks: the flat pattern's `low_mm` x and `high_y_mm` at nought, y down, to scale."""
    per_mpa, _ = in_units(1.0, "MPa", units)
    whole = flat_values(field)
    if not len(whole.triangles):
        return []
    placed = whole.attributes.copy()
    placed[:, 0] = (placed[:, 0] - low_mm[0]) * scale
    placed[:, 1] = (high_y_mm - placed[:, 1]) * scale
    placed[:, _VALUE] *= per_mpa
    whole = Carried(placed, whole.triangles)
    limit = field.allowable_mpa * per_mpa
    low, rest = split(whole, _VALUE, NEAR * limit)
    near, over = split(rest, _VALUE, limit)
    marks: list[Mark] = []
    for part, colour in ((low, PAPER.map_low), (near, PAPER.map_near), (over, PAPER.map_over)):
        marks += _areas(part, colour)
    marks += _hatching(over)
    highest = float(whole.attributes[:, _VALUE].max())
    limits = (NEAR * limit, limit)
    taken: list[BaseGeometry] = []
    for level in nice_levels(highest, limits):
        if level <= highest:
            marks += _contour(whole, level, taken, heavy=level in limits)
    return marks


def map_words(field: PlateField, units: Units = "mm") -> str:
    """Return what the map shows, in words."""
    values = flat_values(field)
    highest = float(values.attributes[:, _VALUE].max()) if len(values.triangles) else 0.0
    _, unit = in_units(1.0, "MPa", units)
    least, most = (
        f"{mpa:.0f}" if units == "mm" else bare(mpa, "MPa", units) for mpa in (highest, field.allowable_mpa)
    )
    return (
        f"worst stress of all cases on {field.plate}, {unit}, worse of both faces: {least} where"
        f" {most} is allowed; amber from 80 %, hatched above 100 %"
    )


def _areas(part: Carried, colour: str) -> Iterator[Stroke]:
    if not len(part.triangles):
        return
    corners = part.attributes[part.triangles][:, :, :2]
    whole = shapely.union_all(shapely.polygons(corners), grid_size=_GRID_MM)
    for area in _polygons(whole):
        # a hole in an area is reached by a cut from its rim, so that one closed line bounds the whole
        yield Stroke(_with_cuts(area), "hair", closed=True, bare=True, fill=colour)


def _polygons(shape: BaseGeometry) -> Iterator[shapely.Polygon]:
    for part in getattr(shape, "geoms", [shape]):
        if part.geom_type == "Polygon" and part.area > 1e-3:
            yield shapely.simplify(part, 0.01)


def _with_cuts(area: shapely.Polygon) -> tuple[tuple[float, float], ...]:
    ring = list(area.exterior.coords)[:-1]
    for hole in sorted(area.interiors, key=lambda h: min(x for x, _ in h.coords)):
        inner = list(hole.coords)[:-1]
        points, others = np.asarray(ring), np.asarray(inner)
        apart = np.linalg.norm(points[:, None] - others[None], axis=2)
        at, start = np.unravel_index(int(np.argmin(apart)), apart.shape)
        turned = inner[start:] + inner[: start + 1]
        ring = ring[: at + 1] + turned + ring[at:]
    return tuple((float(x), float(y)) for x, y in ring)


def _hatching(over: Carried) -> Iterator[Stroke]:
    if not len(over.triangles):
        return
    corners = over.attributes[over.triangles][:, :, :2]
    whole = shapely.union_all(shapely.polygons(corners), grid_size=_GRID_MM)
    x0, y0, x1, y1 = whole.bounds
    long = (x1 - x0) + (y1 - y0)
    for along in np.arange(0.0, long, _HATCH_MM * np.sqrt(2.0)):
        stroke = shapely.LineString([(x0 + along, y0), (x0 + along - (y1 - y0), y1)])
        yield from _strokes(whole.intersection(stroke), "hair")


def _strokes(lines: BaseGeometry, kind: str) -> Iterator[Stroke]:
    for part in getattr(lines, "geoms", [lines]):
        if part.geom_type == "LineString" and part.length > 0.05:
            yield Stroke(tuple((float(x), float(y)) for x, y in part.coords), kind)  # type: ignore[arg-type]


def _contour(whole: Carried, level: float, taken: list[BaseGeometry], *, heavy: bool) -> Iterator[Mark]:
    pieces, _ = line_at(whole, _VALUE, level)
    if not len(pieces):
        return
    long = np.round(pieces[:, :, :2] / _GRID_MM) * _GRID_MM
    long = long[np.any(long[:, 0] != long[:, 1], axis=1)]
    joined = shapely.line_merge(shapely.multilinestrings(list(long)))
    lines = [line for line in getattr(joined, "geoms", [joined]) if line.geom_type == "LineString"]
    for line in lines:
        yield from _strokes(shapely.simplify(line, 0.02), "thin" if heavy else "hair")
    words = f"{level:.3g}"
    for line in sorted(lines, key=lambda x: -x.length)[:2]:
        if line.length >= _LEAST_LABELLED_MM:
            yield from _label(line, words, taken)


def _label(line: shapely.LineString, words: str, taken: list[BaseGeometry]) -> Iterable[Mark]:
    """Return a figure on a line, where it lies over no other; none if there is no such place."""
    half, high = 0.32 * _LETTERS_MM * len(words) + 0.3, 0.56 * _LETTERS_MM
    for along in _PLACES:
        at = line.interpolate(along, normalized=True)
        patch = shapely.box(at.x - half, at.y - high, at.x + half, at.y + high)
        if not any(patch.intersects(other) for other in taken):
            break
    else:
        return ()
    taken.append(patch)
    return (
        Stroke(tuple(patch.exterior.coords)[:-1], "hair", closed=True, bare=True, fill="#ffffff"),
        Words(words, (at.x, at.y + 0.36 * _LETTERS_MM), _LETTERS_MM, "middle"),
    )


def box_of(field: PlateField) -> Floats:
    """Return the (2, 2) least and greatest x, y of the flat pattern, mm."""
    flat = field.mesh.flat_points[: field.mesh.n_flat_vertices, :2]
    return np.array([flat.min(axis=0), flat.max(axis=0)])


def captioned(figure: Figure, caption: tuple[str, ...]) -> Figure:
    """Return a figure with lines of words under it."""
    step = SMALL_MM * 1.3
    below = tuple(
        Words(words, (figure.width_mm / 2.0, figure.height_mm + (n + 1) * step), SMALL_MM, "middle")
        for n, words in enumerate(caption)
    )
    height = figure.height_mm + len(caption) * step + 1.0
    return Figure(figure.width_mm, height, (*figure.marks, *below))
