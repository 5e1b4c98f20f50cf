"""Mesh lines of welds: cuts of the outline at their segments, lines beside them that stress is judged on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely

from geometry.bend_zones import FoldedPattern
from geometry.flat_segments import Edge, Flat, Line, Loop
from geometry.mesh_lines import MeshLine
from geometry.weld_mark import WeldMark

_LOOKED_AT: Final = 64
_MOST_BESIDE: Final = 4
"""A line of which more places than this run beside another is left out: no slivers."""
_SAME_MM: Final = 1e-3


def cut_at_welds(outline: Loop, welds: Sequence[WeldMark]) -> Loop:
    """Return the outline with its straight edges cut at the segments of welds."""
    cuts = [cut for weld in welds if weld.on == "edge" for cut in weld.cuts]
    if not cuts:
        return outline
    whole: list[Edge] = []
    for edge in outline:
        whole.extend(_cut(edge, np.array(cuts)) if isinstance(edge, Line) else [edge])
    return tuple(whole)


def weld_sizes(welds: Sequence[WeldMark]) -> list[tuple[Edge, float]]:
    """Return the line of each weld with the size wanted along it."""
    return [(Line(weld.from_mm, weld.to_mm), weld.size_mm) for weld in welds]


def judged_lines(
    welds: Sequence[WeldMark], folded: FoldedPattern, others: Sequence[Edge], beside_mm: float
) -> list[MeshLine]:
    """Return the judged lines beside welds as mesh lines of their panels.

    One that runs beside an edge or another line for more than a crossing is left out; stress is then judged
    on the vertices that happen to lie beyond it.
    """
    found: list[MeshLine] = []
    drawn = list(others)
    for weld in welds:
        middle = (0.5 * (weld.from_mm[0] + weld.to_mm[0]), 0.5 * (weld.from_mm[1] + weld.to_mm[1]))
        panel = folded.panel_at(_inward(weld, folded, middle))
        for line in weld.judged_lines:
            places = shapely.points(line.at(np.linspace(0.0, 1.0, _LOOKED_AT)))
            inside = shapely.contains(panel, places)
            near = shapely.distance(shapely.boundary(panel), places) < beside_mm
            for other in drawn:
                near |= shapely.distance(_path(other), places) < beside_mm
            if not inside.any() or int((near & inside).sum()) > _MOST_BESIDE:
                continue
            found.append(MeshLine(line, f"weld {weld.name} judged", 1, panel))
            drawn.append(line)
    return found


def _inward(weld: WeldMark, folded: FoldedPattern, middle: Flat) -> Flat:
    """Return a place on the weld's panel: beside its middle where that lies on the outline."""
    if weld.on != "edge":
        return middle
    way = np.subtract(weld.to_mm, weld.from_mm)
    aside = np.array([-way[1], way[0]]) / float(np.linalg.norm(way))
    for sign in (1.0, -1.0):
        x, y = np.asarray(middle) + sign * 1e-3 * aside
        if shapely.contains_xy(folded.pattern.polygon, float(x), float(y)):
            return float(x), float(y)
    return middle


def _path(edge: Edge) -> shapely.LineString:
    return shapely.LineString(edge.at(np.linspace(0.0, 1.0, 2 if isinstance(edge, Line) else 33)))


def _cut(edge: Line, cuts: np.ndarray) -> list[Edge]:
    a, way = np.asarray(edge.start), np.subtract(edge.end, edge.start)
    length = float(np.linalg.norm(way))
    along = (cuts - a) @ way / length
    across = np.abs((cuts - a) @ np.array([-way[1], way[0]])) / length
    kept = np.unique(
        np.round(along[(across < _SAME_MM) & (along > _SAME_MM) & (along < length - _SAME_MM)], 6)
    )
    ends = [edge.start, *((float(x), float(y)) for x, y in a + np.outer(kept / length, way)), edge.end]
    return [Line(ends[i], ends[i + 1]) for i in range(len(ends) - 1)]
