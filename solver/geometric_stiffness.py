"""What a stress makes of a solid's stiffness: compression takes some away, tension adds to it.

With an own stress s of the loads, a further displacement u meets, beside the elastic stiffness, the work

    u' K_g u = int s_ij du_k/dx_i du_k/dx_j

(Bathe, Finite Element Procedures, 6.3, from memory, to be verified). Each component of u meets the same, so
K_g is one scalar matrix over the nodes, three times over. It is applied element by element: nothing is added
up that is needed a few times only.
"""

from __future__ import annotations

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from geometry.solid_mesh import SolidMesh
from solver.elasticity import chunks, physical_gradients
from solver.shape_functions import tetrahedron

Floats = NDArray[np.float64]


class GeometricStiffness:
    """The elements of a mesh, ready to say what any stress makes of their stiffness."""

    def __init__(self, mesh: SolidMesh) -> None:
        """Take a mesh; SolverError for an element that is turned inside out."""
        self.mesh = mesh
        parts = [physical_gradients(mesh, chunk, tetrahedron()) for chunk in chunks(len(mesh.tets))]
        self.gradients = np.concatenate([part[0] for part in parts])
        """(ne, q, 10, 3), 1/mm."""
        self.volumes = np.concatenate([part[1] for part in parts])
        """(ne, q), mm3."""
        corners = mesh.tets.size
        self._sum = sp.csr_matrix(
            (np.ones(corners), (mesh.tets.ravel(), np.arange(corners))), shape=(len(mesh.points), corners)
        )

    def own_stress(self, displacement: Floats, elastic_modulus_mpa: float, poisson: float) -> Floats:
        """Return the elements' own stress (ne, q, 3, 3), MPa, under a displacement (3n,)."""
        moved = displacement.reshape(-1, 3)[self.mesh.tets]
        slopes = self.gradients.transpose(0, 1, 3, 2) @ moved[:, None]
        shear = elastic_modulus_mpa / (2.0 * (1.0 + poisson))
        lame = 2.0 * shear * poisson / (1.0 - 2.0 * poisson)
        stress = shear * (slopes + slopes.transpose(0, 1, 3, 2))
        stress += (lame * np.trace(slopes, axis1=2, axis2=3))[..., None, None] * np.eye(3)
        return np.asarray(stress)

    def of(self, stress: Floats) -> Floats:
        """Return the elements' scalar matrices (ne, 10, 10), N/mm, under a stress (ne, q, 3, 3)."""
        weighed = (self.gradients * self.volumes[..., None, None]) @ stress
        count = len(weighed)
        rows = weighed.transpose(0, 2, 1, 3).reshape(count, 10, -1)
        columns = self.gradients.transpose(0, 2, 1, 3).reshape(count, 10, -1)
        return np.asarray(rows @ columns.transpose(0, 2, 1))

    def apply(self, matrices: Floats, displacement: Floats) -> Floats:
        """Return the forces (3n, k), N, of elements' matrices (ne, 10, 10) on displacements (3n, k)."""
        moved = displacement.reshape(len(self.mesh.points), -1)
        forces = matrices @ moved[self.mesh.tets]
        return np.asarray((self._sum @ forces.reshape(-1, moved.shape[1])).reshape(displacement.shape))
