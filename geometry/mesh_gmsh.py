"""Triangles between given lines: the one file that uses gmsh.

One plane surface, the lines inside it embedded, every line already divided, so that what gmsh decides is
only where the points between them go. One thread and no random choice: the same lines give the same
triangles, bit for bit. Processors differ in the last digit of a sine, and by it four points on one circle
are joined this way or that; so gmsh is told places and sizes in steps, far coarser than rounding and far
finer than any mesh.
"""

from __future__ import annotations

import ctypes
import math
import signal
import sys
from collections.abc import Callable
from typing import Any, Final

import numpy as np

from geometry.mesh_bulges import crowded
from geometry.mesh_lines import DividedLines
from geometry.one_line import on_one_line
from geometry.size_grid import SizeGrid
from geometry.solid_mesh import Floats, Ints

UNFINISHED: Final = 3.0
"""A triangle this many times larger than was asked for tells that gmsh gave up before the end, which it
does silently."""
_WAYS: Final = (5, 6, 1)
"""Delaunay, frontal Delaunay, adaptive: the first that finishes and leaves all but a few arcs room for their
bulge, or else the one that crowds the fewest."""
FEW_CROWDED: Final = 0.02
"""Share of the stretches of arcs that may stay straight without another try."""
_STEPS: Final = 31
"""Steps are a power of two, so that a plate twice as large is meshed alike: 2^-31 of the plate or more."""
_BESIDE_NICE: Final = 1.03
"""Keeps the bound between two steps off sizes that plates have."""
_TRIANGLES: Final = 2
_POINTS: Final = 15


class MeshError(RuntimeError):
    """A flat pattern that could not be meshed, in a sentence."""

    def __init__(self, sentence: str) -> None:
        super().__init__(on_one_line(sentence))


def triangulate(
    lines: DividedLines, grid: SizeGrid, size_at: Callable[[Floats], Floats], name: str
) -> tuple[Floats, Ints]:
    """Return vertices (nv, 2), the points of the lines first and in their order, and triangles (nt, 3).

    gmsh is told the sizes on the `grid`; what it made is held against `size_at`. MeshError, naming the plate,
    if gmsh cannot do it.
    """
    import gmsh

    already = bool(gmsh.isInitialized())
    if not already:
        _start(gmsh)
    try:
        gmsh.model.add("plate")
        for option, value in _OPTIONS.items():
            gmsh.option.setNumber(option, value)
        step_mm = _step_mm(lines.points)
        _draw(gmsh, lines, step_mm)
        _tell_size(gmsh, grid, step_mm)
        return _best(gmsh, lines, size_at, name)
    except MeshError:
        raise
    except Exception as fault:
        raise _refused(name, f" ({fault})") from fault
    finally:
        if already:
            gmsh.model.remove()
        else:
            gmsh.finalize()


def _start(gmsh: Any) -> None:  # noqa: ANN401 - gmsh has no types
    """Start gmsh, and take back that a write into a closed pipe then ends the process without a word."""
    gmsh.initialize(readConfigFiles=False, interruptible=False)
    if sys.platform != "win32" and signal.getsignal(signal.SIGPIPE) == signal.SIG_IGN:
        # Python's own call is for the main thread alone.
        ctypes.CDLL(None).signal(int(signal.SIGPIPE), ctypes.c_void_p(int(signal.SIG_IGN)))


def _best(
    gmsh: Any,  # noqa: ANN401 - gmsh has no types
    lines: DividedLines,
    size_at: Callable[[Floats], Floats],
    name: str,
) -> tuple[Floats, Ints]:
    """Mesh in one way after the other until one is finished and crowds few arcs."""
    best: tuple[int, Floats, Ints] | None = None
    for way in _WAYS:
        gmsh.option.setNumber("Mesh.Algorithm", way)
        gmsh.model.mesh.clear()
        gmsh.model.mesh.generate(2)
        vertices, triangles = _read(gmsh, len(lines.points), name)
        vertices[: len(lines.points)] = lines.points
        if not _is_finished(vertices, triangles, size_at):
            continue
        count = int(crowded(lines, vertices, triangles).sum())
        if best is None or count < best[0]:
            best = count, vertices, triangles
        if count <= FEW_CROWDED * len(lines.arcs):
            break
    if best is None:
        raise _refused(name)
    return best[1], best[2]


def _refused(name: str, why: str = "") -> MeshError:
    step = "look for edges or openings that all but touch"
    return MeshError(f"plate {name}: its flat pattern could not be meshed{why}; {step}")


_OPTIONS: Final = {
    "General.Terminal": 0,
    "General.NumThreads": 1,
    "Mesh.RandomSeed": 1,
    "Mesh.MeshSizeExtendFromBoundary": 0,
    "Mesh.MeshSizeFromPoints": 0,
    "Mesh.MeshSizeFromCurvature": 0,
    "Mesh.ElementOrder": 1,
}


def _draw(gmsh: Any, lines: DividedLines, step_mm: float) -> None:  # noqa: ANN401 - gmsh has no types
    geo = gmsh.model.geo
    for number, (x, y) in enumerate(_told(lines.points, step_mm).tolist()):
        geo.addPoint(x, y, 0.0, 0.0, number + 1)
    loops, curves = [], []
    for ring in lines.loops:
        ends = zip((ring + 1).tolist(), (np.roll(ring, -1) + 1).tolist(), strict=True)
        drawn = [geo.addLine(a, b) for a, b in ends]
        loops.append(geo.addCurveLoop(drawn))
        curves += drawn
    inner = [geo.addLine(a, b) for a, b in (lines.inner + 1).tolist()]
    surface = geo.addPlaneSurface(loops)
    geo.synchronize()
    for curve in curves + inner:
        gmsh.model.mesh.setTransfiniteCurve(curve, 2)
    if inner:
        gmsh.model.mesh.embed(1, inner, 2, surface)


def _tell_size(gmsh: Any, grid: SizeGrid, step_mm: float) -> None:  # noqa: ANN401 - gmsh has no types
    """Tell the sizes wanted, each cell of the grid as two triangles."""
    corner = _told(np.dstack([grid.places, np.zeros_like(grid.sizes), grid.sizes]), step_mm)
    a, b, c, d = corner[:-1, :-1], corner[1:, :-1], corner[1:, 1:], corner[:-1, 1:]
    # A list triangle is x of its corners, then y, z and the values.
    cells = np.concatenate([np.stack(t, axis=-1).reshape(-1, 12) for t in ((a, b, c), (a, c, d))])
    view = gmsh.view.add("size")
    gmsh.view.addListData(view, "ST", len(cells), cells.ravel())
    told = gmsh.model.mesh.field.add("PostView")
    gmsh.model.mesh.field.setNumber(told, "ViewTag", view)
    gmsh.model.mesh.field.setAsBackgroundMesh(told)


def _step_mm(points: Floats) -> float:
    """Return the step of what gmsh is told: for flat points (n, 2) up to 124 mm apart it is 2^-24 mm."""
    extent = float(np.ptp(points, axis=0).max())
    return math.ldexp(1.0, math.frexp(_BESIDE_NICE * extent)[1] - _STEPS)


def _told(values_mm: Floats, step_mm: float) -> Floats:
    return np.asarray(np.round(values_mm / step_mm) * step_mm)


def _is_finished(vertices: Floats, triangles: Ints, size_at: Callable[[Floats], Floats]) -> bool:
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    area = 0.5 * np.abs((b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0]))
    asked = size_at(vertices)[triangles].max(axis=1)
    return bool((area < UNFINISHED * math.sqrt(3.0) / 4.0 * asked**2).all())


def _read(gmsh: Any, given: int, name: str) -> tuple[Floats, Ints]:  # noqa: ANN401
    tags, places, _ = gmsh.model.mesh.getNodes()
    kinds, _, of_points = gmsh.model.mesh.getElements(0)
    kinds2, _, of_triangles = gmsh.model.mesh.getElements(2)
    if list(kinds) != [_POINTS] or list(kinds2) != [_TRIANGLES] or len(of_points[0]) != given:
        raise _refused(name)
    rank = np.full(int(tags.max()) + 1, -1, dtype=np.int64)
    rank[of_points[0].astype(np.int64)] = np.arange(given)
    triangles = of_triangles[0].astype(np.int64).reshape(-1, 3)
    used = np.unique(triangles)
    others = used[rank[used] < 0]
    rank[others] = given + np.arange(len(others))
    vertices = np.empty((given + len(others), 2))
    row = np.full(len(rank), -1, dtype=np.int64)
    row[tags.astype(np.int64)] = np.arange(len(tags))
    known = np.flatnonzero(rank >= 0)
    vertices[rank[known]] = places.reshape(-1, 3)[row[known], :2]
    return vertices, rank[triangles]
