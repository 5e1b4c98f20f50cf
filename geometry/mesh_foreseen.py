"""How many unknowns a mesh will have, told from its lines and sizes before anything is meshed."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

import numpy as np
import shapely

from geometry.mesh_lines import DividedLines
from geometry.solid_mesh import Floats

PER_LINE_POINT: Final = 2.0
"""Triangles that come on top of those the sizes ask for, for each point the lines are divided at."""
PER_TRIANGLE: Final = 19.3
"""Unknowns for each triangle of one layer: measured, 18.7 to 19.4 on the samples."""
PER_TRIANGLE_DOUBLED: Final = 23.0
"""The same with two layers in bends and footprints: measured, 20.7 to 26.5 on a folded sample."""
_STEPS: Final = 110
"""Of the grid on which sizes are looked at, along the longer side. Between them small holes count by the
points of their lines."""


def unknowns_foreseen(
    lines: DividedLines, size_at: Callable[[Floats], Floats], inside: shapely.Polygon, layers: int
) -> int:
    """Return about how many unknowns a plate's mesh will have; `layers` 0 is two in bends and footprints.

    Measured: from 8 % too few to 25 % too many on the samples, up to 43 % too few with hundreds of small
    holes.
    """
    low, high = lines.points.min(axis=0), lines.points.max(axis=0)
    step = float((high - low).max()) / _STEPS
    x, y = (np.arange(low[k] + 0.5 * step, high[k], step) for k in (0, 1))
    places = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
    places = places[shapely.contains_xy(inside, places[:, 0], places[:, 1])]
    size = np.maximum(size_at(places), step)
    triangles = float((step**2 / (math.sqrt(3.0) / 4.0 * size**2)).sum()) + PER_LINE_POINT * len(lines.points)
    return round(triangles * (PER_TRIANGLE * layers if layers else PER_TRIANGLE_DOUBLED))
