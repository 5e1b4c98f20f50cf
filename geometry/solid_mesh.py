"""The solid mesh of a plate: quadratic tetrahedra and the named faces on its skin.

Node order of a tetrahedron: four vertices, then the middles of the edges 01, 12, 02, 03, 13, 23.
Node order of a face triangle: three vertices, then the middles of 01, 12, 02. Edges may be curved: a middle
node may lie off the straight line, on the arc of a bend or of a hole.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class SolidMesh:
    """Quadratic tetrahedra in space, in millimetres."""

    points: Floats
    """(n, 3) positions of all nodes, mm."""
    tets: Ints
    """(ne, 10) node numbers."""
    patches: dict[str, Ints] = field(default_factory=dict)
    """Named parts of the skin: each (nf, 6) node numbers."""
    vertex_nodes: Ints = field(default_factory=lambda: np.zeros(0, dtype=np.int64))
    """Sorted numbers of the nodes that are corners of tetrahedra; filled in when left empty."""

    def __post_init__(self) -> None:
        """Fill in the vertex nodes."""
        if self.vertex_nodes.size == 0 and self.tets.size:
            object.__setattr__(self, "vertex_nodes", np.unique(self.tets[:, :4]).astype(np.int64))
