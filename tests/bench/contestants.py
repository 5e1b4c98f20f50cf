"""The same problem solved by this program, by NGSolve and by scipy.

Assembly, factorisation, ten back-substitutions and the stress at the vertices of each answer, for a plate
held on one edge by springs. Every contestant is timed on the same mesh in the same run, with as many threads.

With one core (HOLDSQUARE_CORES=1 OPENBLAS_NUM_THREADS=1) the processor's time is taken, which other work on
the machine lengthens far less than the wall's.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np
import scipy.sparse as sp

from geometry.solid_mesh import SolidMesh
from solver.cholesky import Factor
from solver.cores import CORES
from solver.dissection import dissect
from solver.elasticity import assemble_stiffness
from solver.ordered_blocks import assemble_in_order
from solver.stress import vertex_stress
from tests.bench.bench_meshes import ELASTIC_MODULUS_MPA, POISSON, held

RIGHT_HAND_SIDES = 10
SPRING_N_PER_MM = 1e9

now = time.process_time if CORES == 1 else time.perf_counter


@dataclass(frozen=True)
class Timing:
    """Seconds of one contestant, and the largest movement it found, by which the answers are compared."""

    assembly: float
    factorisation: float
    substitutions: float
    stress: float
    movement_mm: float
    operations: float = 0.0
    """Of the factorisation, where it is known."""

    @property
    def total(self) -> float:
        """Return all of it."""
        return self.assembly + self.factorisation + self.substitutions + self.stress


def ours(mesh: SolidMesh) -> Timing:
    """Return the time of this program."""
    clock = [now()]
    plan = dissect(mesh)
    stiffness = assemble_in_order(mesh, plan, ELASTIC_MODULUS_MPA, POISSON, _springs(mesh))
    clock.append(now())
    factor = Factor(mesh, stiffness, dissection=plan)
    clock.append(now())
    moved = factor.solve(_loads(mesh))
    clock.append(now())
    vertex_stress(mesh, moved, ELASTIC_MODULUS_MPA, POISSON)
    clock.append(now())
    return Timing(*np.diff(clock), float(np.abs(moved).max()), factor.operations)


def multiplications_per_second() -> float:
    """Return the machine's own rate of multiplying dense matrices, in multiplications with an addition."""
    matrix = np.random.default_rng(1).random((2000, 2000))
    best = np.inf
    for _ in range(5):
        begin = now()
        matrix @ matrix
        best = min(best, now() - begin)
    return float(2000**3 / best)


def scipys(mesh: SolidMesh) -> Timing:
    """Return the time of scipy's own sparse solver on our matrix."""
    from scipy.sparse.linalg import splu

    clock = [now()]
    stiffness = (assemble_stiffness(mesh, ELASTIC_MODULUS_MPA, POISSON) + _springs(mesh)).tocsc()
    clock.append(now())
    factor = splu(stiffness, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True})
    clock.append(now())
    moved = factor.solve(_loads(mesh))
    clock.append(now())
    return Timing(*np.diff(clock), 0.0, float(np.abs(moved).max()))


def ngsolves(mesh: SolidMesh) -> Timing:
    """Return the time of NGSolve on the same mesh, straight-edged, same order, its own Cholesky."""
    import ngsolve as ng

    ng.SetNumThreads(CORES)
    with ng.TaskManager():
        grid = _ng_mesh(mesh)
        space = ng.VectorH1(grid, order=2)
        u, v = space.TnT()
        shear = ELASTIC_MODULUS_MPA / (2.0 * (1.0 + POISSON))
        lame = 2.0 * shear * POISSON / (1.0 - 2.0 * POISSON)
        edge = ng.CoefficientFunction(ng.IfPos(1e-6 - ng.x, 1.0, 0.0))

        def strain(w: ng.CoefficientFunction) -> ng.CoefficientFunction:
            return 0.5 * (ng.Grad(w) + ng.Grad(w).trans)

        clock = [now()]
        form = ng.BilinearForm(space, symmetric=True)
        form += (2.0 * shear * ng.InnerProduct(strain(u), strain(v)) + lame * ng.div(u) * ng.div(v)) * ng.dx
        form += SPRING_N_PER_MM * edge * u * v * ng.ds
        form.Assemble()
        clock.append(now())
        inverse = form.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky")
        clock.append(now())
        load = ng.LinearForm(space)
        load += v[2] * ng.dx
        load.Assemble()
        answer = ng.GridFunction(space)
        begin = now()
        for _ in range(RIGHT_HAND_SIDES):
            answer.vec.data = inverse * load.vec
        spent = now() - begin
        # The stress of each answer, made one at the vertices as a field of linear functions.
        recovered = ng.GridFunction(ng.H1(grid, order=1, dim=9))
        bent = strain(answer)
        begin = now()
        for _ in range(RIGHT_HAND_SIDES):
            recovered.Set((2.0 * shear * bent + lame * ng.Trace(bent) * ng.Id(3)).Reshape((9,)))
        recovery = now() - begin
        # The first coefficients of each component are its values at the vertices.
        movement = max(float(np.abs(part.vec.FV().NumPy()[: grid.nv]).max()) for part in answer.components)
    return Timing(clock[1] - clock[0], clock[2] - clock[1], spent, recovery, float(movement))


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
