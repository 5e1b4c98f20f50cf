"""How easily a plate's sheet turns out of its plane between its bolts: what a bound on buckling rests on.

The work that a uniform compression of 1 MPa does as the plate moves by u is, with the slopes of u averaged
over the thickness,

    u' G u = int |grad u|^2 dV

Divided by the strain energy u' K u it is the plate's suppleness, in 1/MPa: what is s times as compressed
nowhere buckles while s times the largest suppleness stays below one. Bodies move the plate in its modes;
everything else it can do, its bolts held, is K-orthogonal to them. Of that the supplest ways are found here,
by two inverse iterations that ride along with the back-substitutions of the drifts.

Slopes are averaged over the thickness because a thin sheet's bending stress does no such work: what it takes
on one face it gives on the other (plate theory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import scipy.sparse as sp

from geometry.solid_mesh import SolidMesh
from solver.elasticity import physical_gradients
from solver.other_beds import Ways
from solver.rigid import Floats
from solver.shape_functions import tetrahedron

COLUMNS = 16
"""Ways that are iterated at once."""
KEPT = 8
"""Of them, what is kept; more would not have settled in two iterations."""
REST_FACTOR = 1.5
"""On the suppleness of what is not kept.

Measured on four plates of the samples: two iterations leave it 5 to 32 % low, so half of it is added.
"""
_NOTHING = 1e-12


@dataclass(frozen=True)
class Suppleness:
    """What a plate's screen for buckling is worked out from."""

    volumes: Floats
    """(nt,) mm3 of each flat triangle's prism."""
    of_modes: Floats
    """(nt, 9, 6 b + 3) slopes of every mode, 1/mm: along X of X, Y, Z, then along Y, then along Z."""
    of_ways: Floats
    """(nt, 9, k) slopes of the supplest ways, each of twice the strain energy one."""
    gram: Floats
    """(6 b + k, 6 b + k) u' G u of bodies and ways, mm3."""
    rest: float
    """Suppleness, at most, of everything else the plate can do with its bolts held, 1/MPa."""


class Riders:
    """Columns that ride along with somebody else's back-substitutions."""

    def __init__(self, mesh: SolidMesh, answer: Callable[[Ways], Ways]) -> None:
        """Take the mesh, and what gives the ways that hold against forces while the mating bodies stay."""
        self._answer = answer
        self._slopes, self.volumes = _mean_slopes(mesh)
        self._forces = [np.random.default_rng(0).standard_normal((3 * len(mesh.points), COLUMNS))]
        self._found: list[Floats] = []

    def answer(self, forces: Ways) -> Ways:
        """Return what was asked for; the columns that ride along are kept here."""
        count = forces[0].shape[1]
        own = self._forces[-1]
        beside = np.zeros((len(forces[1]), own.shape[1]))
        nodes, bodies = self._answer((np.hstack([forces[0], own]), np.hstack([forces[1], beside])))
        self._found.append(nodes[:, count:])
        self._forces.append(self._weighed(nodes[:, count:]))
        return nodes[:, :count], bodies[:, :count]

    def suppleness(self, modes: Floats) -> Suppleness:
        """Return the plate's suppleness, its modes (3 n, 6 b + 3), once all have ridden."""
        bodies = modes.shape[1] - 3
        moved = np.hstack(self._found)
        energy = moved.T @ np.hstack(self._forces[: len(self._found)])
        work = moved.T @ np.hstack(self._forces[1 : len(self._found) + 1])
        size = 1.0 / np.sqrt(np.diag(energy))
        values, vectors = np.linalg.eigh(0.5 * (energy + energy.T) * np.outer(size, size))
        sound = values > _NOTHING * values[-1]
        onto = size[:, None] * vectors[:, sound] / np.sqrt(values[sound])
        supple, mixed = np.linalg.eigh(onto.T @ (0.5 * (work + work.T)) @ onto)
        ways = moved @ (onto @ mixed[:, ::-1][:, :KEPT])
        rest = REST_FACTOR * float(supple[::-1][KEPT])
        of_modes, of_ways = self._slopes_of(modes), self._slopes_of(ways)
        both = np.concatenate([of_modes[:, :, :bodies], of_ways], axis=2)
        flat = both.reshape(-1, both.shape[2])
        gram = (flat * np.repeat(self.volumes, 9)[:, None]).T @ flat
        return Suppleness(self.volumes, of_modes, of_ways, gram, rest)

    def _slopes_of(self, moved: Floats) -> Floats:
        slopes = self._slopes @ moved.reshape(self._slopes.shape[1], -1)
        return np.asarray(slopes.reshape(len(self.volumes), 9, -1))

    def _weighed(self, moved: Floats) -> Floats:
        """Return G u of ways (3 n, k)."""
        slopes = self._slopes @ moved.reshape(self._slopes.shape[1], -1)
        slopes *= np.repeat(self.volumes, 3)[:, None]
        return np.asarray((self._slopes.T @ slopes).reshape(moved.shape))


def _mean_slopes(mesh: SolidMesh) -> tuple[sp.csr_matrix, Floats]:
    """Return the operator (3 nt, n) from values at nodes to their slopes, averaged over each prism.

    With it the prisms' volumes (nt,), mm3.
    """
    gradients, volumes = physical_gradients(mesh, slice(None), tetrahedron(1))
    prisms = len(mesh.flat_triangles)
    total = np.bincount(mesh.tet_triangle, volumes[:, 0], prisms)
    shares = volumes[:, 0] / total[mesh.tet_triangle]
    values = gradients[:, 0].transpose(0, 2, 1) * shares[:, None, None]
    rows = np.broadcast_to(3 * mesh.tet_triangle[:, None, None] + np.arange(3)[:, None], values.shape)
    columns = np.broadcast_to(mesh.tets[:, None, :], values.shape)
    shape = (3 * prisms, len(mesh.points))
    return sp.csr_matrix((values.ravel(), (rows.ravel(), columns.ravel())), shape=shape), np.asarray(
        total, dtype=np.float64
    )
