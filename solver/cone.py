"""Cone programmes, solved by clarabel: when friction fails, and what slides when it does.

Coulomb friction in shear and spin together is taken as a second-order cone, |(V, T / r)| <= mu (F - 0.8 N),
with r the friction radius of the mating ring. Both programmes have one answer, which letting go of bolts one
by one has not.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import clarabel
import numpy as np
from scipy.sparse import csc_matrix

from solver.errors import SolverError
from solver.grip import Grip
from solver.joint_rules import FACE_SHARE
from solver.rigid import Floats

Rows: TypeAlias = tuple[Floats, Floats]
"""A (m, n) and b (m,) of conditions on b - A x."""


def friction_limit(balance: Floats, steady: Floats, growing: Floats, grips: list[Grip]) -> float:
    """Return the largest factor on `growing` at which friction alone can balance the loads.

    Inf if there is none.

    `balance` (m, 6 c + h): equilibrium of every body; columns are, per connection, shear 1, shear 2, pull
    (positive draws the plate toward its partner), tilt 1, tilt 2, spin, then reactions of the column. balance
    x + steady + factor growing = 0. Returns 0 if even the steady loads cannot be balanced. Limit theorem of
    rigid bodies with friction, lower bound.
    """
    scale_n = max(float(np.max(np.abs(growing))), float(np.max(np.abs(steady))), 1.0)
    gripped, left_over, grips = _told_apart(balance, grips)
    # What friction does not limit can take on any value: only equations that leave it out say anything.
    said = _left_null_space(left_over)
    # Every unknown is a force: a spin counts as a force at the friction radius. Rows are made of one size.
    lengths = np.ones(4 * len(grips))
    lengths[3::4] = [grip.radius_mm for grip in grips]
    columns = said.T @ np.column_stack([gripped * lengths, growing / scale_n])
    rows, right, consistent = _independent(columns, said.T @ (-steady / scale_n))
    if not consistent:
        return 0.0
    count, held = gripped.shape[1], len(grips)
    # A grip holds what its preload gives, or what a pull leaves of that; shear and spin stay within the less.
    linear, heights = np.zeros((3 * held, count + held + 1)), np.zeros(3 * held)
    cones: list[Rows] = []
    # Faces bear any pressure, but one without end is what rounding in the equations would be multiplied by.
    heights[2::3] = 1e3 * max(1.0, max((grip.preload_n for grip in grips), default=0.0) / scale_n)
    for i, grip in enumerate(grips):
        linear[3 * i : 3 * i + 2, count + i] = 1.0
        linear[3 * i, 4 * i + 2] = grip.friction * FACE_SHARE
        linear[3 * i + 2, 4 * i + 2] = -1.0
        heights[3 * i : 3 * i + 2] = grip.friction * grip.preload_n / scale_n
        cone = np.zeros((4, count + held + 1))
        cone[0, count + i] = cone[1, 4 * i] = cone[2, 4 * i + 1] = cone[3, 4 * i + 3] = -1.0
        cones.append((cone, np.zeros(4)))
    most = 1e4
    ceiling = np.zeros((2, count + held + 1))
    ceiling[0, -1], ceiling[1, -1] = 1.0, -1.0
    answer = least_in_cones(
        np.concatenate([np.zeros(count + held), [-1.0]]),
        equal=(np.hstack([rows[:, :count], np.zeros((len(rows), held)), rows[:, count:]]), right),
        below=(np.vstack([linear, ceiling]), np.concatenate([heights, [most, 0.0]])),
        cones=cones,
    )
    if answer is None:
        return 0.0
    factor = float(answer[-1])
    return float("inf") if factor > 0.99 * most else factor


def slide(stiffness: Floats, driving: Floats, grips: list[Grip]) -> Floats:
    """Return the (3 c,) slips of every connection: two shears in mm and spin in rad.

    They make elastic energy plus friction work least, with every bolt kept inside its hole: minimise
    s.C s / 2 - F.s + sum V |(s1, s2, r spin)| with |(s1, s2)| at most the clearance. `stiffness` (3 c, 3 c)
    is C and `driving` (3 c,) is F, the forces that stuck connections would carry. Raises SolverError if no
    least is found.
    """
    bolts = len(grips)
    lengths = np.array([[1.0, 1.0, g.radius_mm] for g in grips]).ravel()
    # Slips in mm at the friction ring keep the numbers of one size.
    whole = stiffness / np.outer(lengths, lengths)
    push = driving / lengths
    force = max(float(np.max(np.abs(push))), max(g.friction * g.preload_n for g in grips), 1.0)
    length = force / max(float(np.max(np.diag(whole))), 1e-9)
    quadratic = np.zeros((4 * bolts, 4 * bolts))
    quadratic[: 3 * bolts, : 3 * bolts] = whole * length / force
    linear = np.concatenate([-push / force, [g.friction * g.preload_n / force for g in grips]])
    cones: list[Rows] = []
    for i, grip in enumerate(grips):
        cone, pin = np.zeros((4, 4 * bolts)), np.zeros((3, 4 * bolts))
        cone[0, 3 * bolts + i] = -1.0
        cone[1:, 3 * i : 3 * i + 3] = -np.eye(3)
        pin[1:, 3 * i : 3 * i + 2] = -np.eye(2)
        cones += [(cone, np.zeros(4)), (pin, np.array([max(grip.clearance_mm, 1e-6) / length, 0.0, 0.0]))]
    answer = least_in_cones(linear, cones=cones, quadratic=quadratic)
    if answer is None:
        raise SolverError(
            "the sliding of the connections could not be settled: check preloads and hole sizes"
        )
    return np.asarray(answer[: 3 * bolts] * length / lengths)


def least_in_cones(
    linear: Floats,
    *,
    equal: Rows | None = None,
    below: Rows | None = None,
    cones: Sequence[Rows] = (),
    quadratic: Floats | None = None,
) -> Floats | None:
    """Return the x (n,) that makes x.P x / 2 + q.x least, P `quadratic` and q `linear`.

    With A x = b of `equal`, A x <= b of `below`, and b - A x of each of `cones` no longer in what follows its
    first than that first is large. None if there is none, no least, or none that can be believed. Close to
    the end the library may lose its way in rounding: it is then asked for less.
    """
    kinds = [
        *([] if equal is None else [clarabel.ZeroConeT(len(equal[1]))]),
        *([] if below is None else [clarabel.NonnegativeConeT(len(below[1]))]),
        *(clarabel.SecondOrderConeT(len(heights)) for _, heights in cones),
    ]
    parts = [*(part for part in (equal, below) if part is not None), *cones]
    whole = np.zeros((len(linear), len(linear))) if quadratic is None else quadratic
    rows, right = np.vstack([part[0] for part in parts]), np.concatenate([part[1] for part in parts])
    programme = csc_matrix(np.triu(whole)), linear, csc_matrix(rows), right, kinds
    for accuracy in (1e-10, 1e-8, 1e-6):
        answer = clarabel.DefaultSolver(*programme, _settings(accuracy)).solve()
        if answer.status == clarabel.SolverStatus.Solved:
            return np.asarray(answer.x)
        if answer.status in (clarabel.SolverStatus.PrimalInfeasible, clarabel.SolverStatus.DualInfeasible):
            return None
    return None


def _settings(accuracy: float) -> clarabel.DefaultSettings:
    """One thread and the library's own factor: the same answer to the last digit on any machine."""
    settings = clarabel.DefaultSettings()
    settings.verbose, settings.max_threads, settings.direct_solve_method = False, 1, "qdldl"
    settings.tol_gap_abs = settings.tol_gap_rel = settings.tol_feas = accuracy
    return settings


def _told_apart(balance: Floats, grips: list[Grip]) -> tuple[Floats, Floats, list[Grip]]:
    """Return the columns that friction limits (shear 1, shear 2, pull, spin), all others, and whose they are.

    A connection without friction holds no shear and no spin, and its pull, limited by nothing, goes with the
    others: left in, in no equation, it runs off to where the library takes any rest of the others for none.
    """
    limited, others, holding = [np.zeros((balance.shape[0], 0))], [], []
    for i, grip in enumerate(grips):
        column = balance[:, 6 * i : 6 * i + 6]
        if grip.friction > 0.0:
            limited.append(column[:, [0, 1, 2, 5]])
            others.append(column[:, 3:5])
            holding.append(grip)
        else:
            others.append(column[:, 2:5])
    others.append(balance[:, 6 * len(grips) :])
    return np.hstack(limited), np.hstack(others), holding


def _left_null_space(matrix: Floats) -> Floats:
    """Return an orthonormal basis (m, k) of the rows' combinations that leave a matrix out."""
    scale = np.maximum(np.linalg.norm(matrix, axis=0), 1e-300)
    left, sizes, _ = np.linalg.svd(matrix / scale, full_matrices=True)
    rank = int(np.sum(sizes > 1e-10 * max(float(sizes.max(initial=0.0)), 1e-300)))
    return np.asarray(left[:, rank:])


def _independent(rows: Floats, right: Floats) -> tuple[Floats, Floats, bool]:
    """Reduce equations to independent ones, as the cone solver needs; False if they contradict each other."""
    left, sizes, back = np.linalg.svd(rows, full_matrices=False)
    rank = int(np.sum(sizes > 1e-10 * sizes.max(initial=0.0)))
    turned = left.T @ right
    lost = right - left[:, :rank] @ turned[:rank]
    consistent = bool(
        np.max(np.abs(lost), initial=0.0) < 1e-7 * max(1.0, float(np.max(np.abs(right), initial=0.0)))
    )
    return back[:rank], turned[:rank] / sizes[:rank], consistent
