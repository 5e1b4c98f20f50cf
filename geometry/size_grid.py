"""The sizes a mesh is wanted in, looked at once on a grid over the plate."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.solid_mesh import Floats

STEPS: Final = 110
"""Steps of the grid along the longer side of the plate."""


@dataclass(frozen=True)
class SizeGrid:
    """Places in columns and rows, and the size wanted at each."""

    places: Floats
    """(columns, rows, 2) mm."""
    sizes: Floats
    """(columns, rows) mm."""
    step_mm: float


def size_grid(points: Floats, size_at: Callable[[Floats], Floats]) -> SizeGrid:
    """Return the sizes over flat points (n, 2), and a step or more beyond them on every side."""
    low, high = points.min(axis=0), points.max(axis=0)
    step = float((high - low).max()) / STEPS
    columns, rows = (math.ceil(side / step) + 3 for side in (high - low).tolist())
    x = low[0] + step * (np.arange(columns) - 1.0)
    y = low[1] + step * (np.arange(rows) - 1.0)
    places = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1)
    return SizeGrid(places, size_at(places.reshape(-1, 2)).reshape(columns, rows), step)
