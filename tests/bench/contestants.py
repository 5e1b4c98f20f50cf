"""The same problem solved by this program, by NGSolve and by scipy.

Assembly, factorisation and ten back-substitutions for a plate held on one edge by springs. Every contestant
is timed on the same mesh in the same run.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np
import scipy.sparse as sp

from geometry.solid_mesh import SolidMesh
from solver.cholesky import Factor
from solver.elasticity import assemble_stiffness
from tests.bench.bench_meshes import ELASTIC_MODULUS_MPA, POISSON, held

RIGHT_HAND_SIDES = 10
SPRING_N_PER_MM = 1e9


@dataclass(frozen=True)
class Timing:
    """Seconds of one contestant, and the largest movement it found, by which the answers are compared."""

    assembly: float
    factorisation: float
    substitutions: float
    movement_mm: float

    @property
    def total(self) -> float:
        """Return all of it."""
        return self.assembly + self.factorisation + self.substitutions


def ours(mesh: SolidMesh) -> Timing:
    """Return the time of this program."""
    clock = [time.perf_counter()]
    stiffness = assemble_stiffness(mesh, ELASTIC_MODULUS_MPA, POISSON) + _springs(mesh)
    clock.append(time.perf_counter())
    factor = Factor(mesh, stiffness)
    clock.append(time.perf_counter())
    moved = factor.solve(_loads(mesh))
    clock.append(time.perf_counter())
    return Timing(*np.diff(clock), float(np.abs(moved).max()))


def scipys(mesh: SolidMesh) -> Timing:
    """Return the time of scipy's own sparse solver on our matrix."""
    from scipy.sparse.linalg import splu

    clock = [time.perf_counter()]
    stiffness = (assemble_stiffness(mesh, ELASTIC_MODULUS_MPA, POISSON) + _springs(mesh)).tocsc()
    clock.append(time.perf_counter())
    factor = splu(stiffness, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
    clock.append(time.perf_counter())
    moved = factor.solve(_loads(mesh))
    clock.append(time.perf_counter())
    return Timing(*np.diff(clock), float(np.abs(moved).max()))


def ngsolves(mesh: SolidMesh) -> Timing:
    """Return the time of NGSolve on the same mesh, straight-edged, same order, its own Cholesky."""
    import ngsolve as ng

    with ng.TaskManager():
        grid = _ng_mesh(mesh)
        space = ng.VectorH1(grid, order=2)
        u, v = space.TnT()
        shear = ELASTIC_MODULUS_MPA / (2.0 * (1.0 + POISSON))
        lame = 2.0 * shear * POISSON / (1.0 - 2.0 * POISSON)
        edge = ng.CoefficientFunction(ng.IfPos(1e-6 - ng.x, 1.0, 0.0))

        def strain(w: ng.CoefficientFunction) -> ng.CoefficientFunction:
            return 0.5 * (ng.Grad(w) + ng.Grad(w).trans)

        clock = [time.perf_counter()]
        form = ng.BilinearForm(space, symmetric=True)
        form += (2.0 * shear * ng.InnerProduct(strain(u), strain(v)) + lame * ng.div(u) * ng.div(v)) * ng.dx
        form += SPRING_N_PER_MM * edge * u * v * ng.ds
        form.Assemble()
        clock.append(time.perf_counter())
        inverse = form.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky")
        clock.append(time.perf_counter())
        load = ng.LinearForm(space)
        load += v[2] * ng.dx
        load.Assemble()
        answer = ng.GridFunction(space)
        begin = time.perf_counter()
        for _ in range(RIGHT_HAND_SIDES):
            answer.vec.data = inverse * load.vec
        spent = time.perf_counter() - begin
        # The first coefficients of each component are its values at the vertices.
        movement = max(float(np.abs(part.vec.FV().NumPy()[: grid.nv]).max()) for part in answer.components)
    return Timing(clock[1] - clock[0], clock[2] - clock[1], spent, float(movement))


def _springs(mesh: SolidMesh) -> sp.bsr_matrix:
    size = 3 * len(mesh.points)
    own = np.zeros(size)
    own.reshape(-1, 3)[held(mesh)] = SPRING_N_PER_MM
    return sp.diags(own).tobsr((3, 3))


def _loads(mesh: SolidMesh) -> np.ndarray:
    """Return a unit pull out of the sheet, spread over the volume, ten times."""
    from solver.elasticity import body_force

    return np.repeat(body_force(mesh, np.array([0.0, 0.0, 1.0]))[:, None], RIGHT_HAND_SIDES, axis=1)


def _ng_mesh(mesh: SolidMesh):  # noqa: ANN202 - NGSolve has no types
    import ngsolve as ng
    from netgen.meshing import Element2D, Element3D, FaceDescriptor, MeshPoint, Pnt
    from netgen.meshing import Mesh as NetgenMesh

    grid = NetgenMesh(dim=3)
    number = np.full(len(mesh.points), -1)
    names = [grid.Add(MeshPoint(Pnt(*mesh.points[node]))) for node in mesh.vertex_nodes]
    number[mesh.vertex_nodes] = np.arange(len(names))
    grid.Add(FaceDescriptor(surfnr=1, domin=1, bc=1))
    for tet in number[mesh.tets[:, :4]]:
        grid.Add(Element3D(1, [names[i] for i in tet[[0, 2, 1, 3]]]))
    skin = np.vstack([mesh.patches[name][:, :3] for name in ("front", "back", "edge", "wall middle")])
    for face in number[skin]:
        grid.Add(Element2D(1, [names[i] for i in face]))
    return ng.Mesh(grid)
