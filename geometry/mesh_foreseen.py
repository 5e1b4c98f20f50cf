"""How many unknowns a mesh will have, told from its lines and sizes before anything is meshed."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely

from geometry.mesh_lines import DividedLines
from geometry.size_grid import SizeGrid

PER_LINE_POINT: Final = 2.0
"""Triangles that come on top of those the sizes ask for, for each point the lines are divided at."""
PER_TRIANGLE: Final = 19.3
"""Unknowns for each triangle of one layer: measured, 18.7 to 19.4 on the samples."""
PER_TRIANGLE_DOUBLED: Final = 23.0
"""The same with two layers in bends and footprints: measured, 20.7 to 26.5 on a folded sample."""


def unknowns_foreseen(lines: DividedLines, grid: SizeGrid, inside: shapely.Polygon, layers: int) -> int:
    """Return about how many unknowns a plate's mesh will have; `layers` 0 is two in bends and footprints.

    Small holes between the places of the grid count by the points of their lines.

    Measured: from 8 % too few to 25 % too many on the samples, up to 43 % too few with hundreds of small
    holes.
    """
    within = shapely.contains_xy(inside, grid.places[:, :, 0], grid.places[:, :, 1])
    step = grid.step_mm
    size = np.maximum(grid.sizes[within], step)
    triangles = float((step**2 / (math.sqrt(3.0) / 4.0 * size**2)).sum()) + PER_LINE_POINT * len(lines.points)
    return round(triangles * (PER_TRIANGLE * layers if layers else PER_TRIANGLE_DOUBLED))
