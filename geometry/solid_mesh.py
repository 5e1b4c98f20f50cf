"""The solid mesh of a plate: quadratic tetrahedra and the named faces on its skin.

Node order of a tetrahedron: four vertices, then the middles of the edges 01, 12, 02, 03, 13, 23.
Node order of a face triangle: three vertices, then the middles of 01, 12, 02. Edges may be curved: a middle
node may lie off the straight line, on the arc of a bend or of a hole.

A plate's mesh is a flat triangulation swept through the thickness: nodes come level by level, 0 on the back
face, the last on the front face, and in each by flat number; flat numbers count the triangles' vertices
first, then their edges' middles. Back and front have all n_flat nodes; where there are fewer layers than
elsewhere, levels between have some of them only (`lattice`).
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


EDGES: Final = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
"""Vertices at the ends of a tetrahedron's edges, in the order of the edges' middles."""
STRAIGHT_MM: Final = 1e-10
"""A middle node this near to the middle of its edge lies there but for rounding."""


def _no_numbers() -> Ints:
    return np.zeros(0, dtype=np.int64)


@dataclass(frozen=True)
class SolidMesh:
    """Quadratic tetrahedra in space, in millimetres."""

    points: Floats
    """(n, 3) positions of all nodes, mm."""
    tets: Ints
    """(ne, 10) node numbers."""
    patches: dict[str, Ints] = field(default_factory=dict)
    """Named parts of the skin: each (nf, 6) node numbers, normals outward. A plate's mesh has `front`,
    `back`, `edge` (the outline's wall), `wall NAME` for each opening, `bolt NAME front` and `bolt NAME
    back` for each footprint."""
    vertex_nodes: Ints = field(default_factory=_no_numbers)
    """Sorted numbers of the nodes that are corners of tetrahedra; filled in when left empty."""
    flat_points: Floats = field(default_factory=lambda: np.zeros((0, 3)))
    """(n, 3) the same nodes before folding, in the plate's own axes, z from 0 (back) to thickness (front);
    a plate's mesh."""
    n_flat: int = 0
    """Nodes on one level."""
    levels: int = 0
    """Levels through the thickness: two per layer, where there are most, and one."""
    lattice: Ints = field(default_factory=_no_numbers)
    """(n,) level * n_flat + flat number of each node."""
    n_flat_vertices: int = 0
    """Flat numbers below this are vertices of the flat triangles, the others middles of their edges."""
    flat_triangles: Ints = field(default_factory=lambda: np.zeros((0, 6), dtype=np.int64))
    """(nt, 6) flat numbers, turning from x toward y."""
    tet_triangle: Ints = field(default_factory=_no_numbers)
    """(ne,) the flat triangle each tetrahedron stands on."""
    flat_size_mm: Floats = field(default_factory=lambda: np.zeros(0))
    """(n_flat_vertices,) size that was asked for at each flat vertex."""
    lines: dict[str, Ints] = field(default_factory=dict)
    """Named circles that are mesh lines: sorted numbers of all nodes on them, all levels."""
    line_radii_mm: dict[str, float] = field(default_factory=dict)
    """Radius of each of them as meshed."""
    clipped: frozenset[str] = frozenset()
    """Names of lines and footprint patches cut short by an edge or a bend."""
    least_quality: float = 0.0
    """Worst tetrahedron: 1 is regular, 0 flat, below 0 inside out."""

    def __post_init__(self) -> None:
        """Fill in the vertex nodes."""
        if self.vertex_nodes.size == 0 and self.tets.size:
            object.__setattr__(self, "vertex_nodes", np.unique(self.tets[:, :4]).astype(np.int64))

    @property
    def thickness_mm(self) -> float:
        """Return how thick the sheet is as it is meshed: from a node on the back to the one on the front.

        Only back and front have a node for every flat number, so that the front is counted from the end.
        """
        return float(np.linalg.norm(self.points[-self.n_flat] - self.points[0]))


def scaled_through(mesh: SolidMesh, share: float) -> SolidMesh:
    """Return a plate's mesh of `share` of its thickness, about its middle surface.

    Its flat places stay those of the nominal sheet, so that what is judged where does not change. ValueError
    for a mesh that was not swept through a thickness, or a share that is not above 0.
    """
    if mesh.levels < 2 or len(mesh.lattice) != len(mesh.points):
        raise ValueError("only a mesh swept through a plate's thickness can be made thinner")
    if not share > 0.0:
        raise ValueError(f"a plate cannot have {share:g} of its thickness")
    # Back and front have every flat number, levels between some of them only.
    back, front = mesh.points[: mesh.n_flat], mesh.points[-mesh.n_flat :]
    middle = 0.5 * (back + front)[mesh.lattice % mesh.n_flat]
    return replace(mesh, points=middle + share * (mesh.points - middle))


def tet_quality(points: Floats, tets: Ints) -> Floats:
    """Return (ne,) 6 sqrt(2) volume / (rms edge)^3: 1 for a regular tetrahedron, below 0 inside out.

    The volume is that of the curved map at the element's middle, the edges are the chords.
    """
    nodes = points[tets]
    v = nodes[:, :4]
    edges = np.stack([v[:, b] - v[:, a] for a, b in EDGES], axis=1)
    volume = _determinant(nodes, _PLACES[-1]) / 6.0
    rms = np.sqrt(np.einsum("eki,eki->e", edges, edges) / 6.0)
    quality: Floats = 6.0 * np.sqrt(2.0) * volume / np.maximum(rms, 1e-300) ** 3
    return quality


def least_jacobian(points: Floats, tets: Ints) -> Floats:
    """Return (ne,) the least determinant of the curved map at the ten nodes and the middle, mm3.

    Positive everywhere means that no tetrahedron is turned inside out by its curved edges.
    """
    nodes = points[tets]
    least = _determinant(nodes, _PLACES[-1])
    # Straight edges: the same everywhere.
    bent = np.zeros(len(tets), dtype=bool)
    for middle, (i, j) in zip(range(4, 10), EDGES, strict=True):
        off = np.abs(nodes[:, middle] - 0.5 * (nodes[:, i] + nodes[:, j])).max(axis=1)
        bent |= off > STRAIGHT_MM
    curved = nodes[bent]
    for place in _PLACES[:-1]:
        least[bent] = np.minimum(least[bent], _determinant(curved, place))
    return least


def _determinant(nodes: Floats, place: Floats) -> Floats:
    """Return (ne,) the determinant of the map of tetrahedra (ne, 10, 3) at a place, mm3."""
    a, b, c = np.moveaxis(_gradients(place).T @ nodes, 1, 0)
    volume: Floats = (
        a[:, 0] * (b[:, 1] * c[:, 2] - b[:, 2] * c[:, 1])
        + a[:, 1] * (b[:, 2] * c[:, 0] - b[:, 0] * c[:, 2])
        + a[:, 2] * (b[:, 0] * c[:, 1] - b[:, 1] * c[:, 0])
    )
    return volume


_CORNERS = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=np.float64)
_PLACES = np.concatenate(
    [
        _CORNERS,
        [0.5 * (_CORNERS[a] + _CORNERS[b]) for a, b in EDGES],
        [[0.25, 0.25, 0.25]],
    ]
)


def _gradients(place: Floats) -> Floats:
    """(10, 3) gradients of the quadratic shape functions at a place of the reference tetrahedron."""
    share = np.array([1.0 - place.sum(), *place])
    slope = np.array([[-1, -1, -1], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=np.float64)
    corner = (4.0 * share - 1.0)[:, None] * slope
    middle = [4.0 * (share[a] * slope[b] + share[b] * slope[a]) for a, b in EDGES]
    return np.concatenate([corner, np.array(middle)])
