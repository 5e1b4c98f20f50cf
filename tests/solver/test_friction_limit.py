"""The couple at which friction fails, of random bodies and connections, against linear programmes.

Those come from a library of their own (HiGHS, in scipy): every cone is cut by planes until no answer lies
outside, on the equations as they are written. Planes about a cone allow more than it does, never less.
"""

import numpy as np
import pytest
from scipy.optimize import linprog

from solver.cone import friction_limit
from solver.grip import Grip
from solver.rigid import Floats

CONNECTIONS = 6


def arm_of(place: Floats) -> Floats:
    x, y, z = place
    arm = np.eye(6)
    arm[3:, :3] = [[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]]
    return arm


def balance_of(random: np.random.Generator, bodies: int) -> Floats:
    """Return the equations of bodies bolted to the ground and to one another, bolts in any direction."""
    columns = []
    for i in range(CONNECTIONS):
        turn, _ = np.linalg.qr(random.normal(size=(3, 3)))
        both = np.kron(np.eye(2), turn)
        column = np.zeros((6 * bodies, 6))
        place, one = random.normal(size=3) * 50.0, i % bodies
        column[6 * one : 6 * one + 6] = arm_of(place) @ both
        if one and i >= bodies:
            column[:6] -= arm_of(place) @ both
        columns.append(column)
    return np.hstack(columns)


def by_planes(balance: Floats, steady: Floats, growing: Floats, grips: list[Grip]) -> float:
    size = balance.shape[1]
    most = float(np.abs(growing).max())
    friction = np.array([grip.friction for grip in grips])
    preload = np.array([grip.preload_n for grip in grips]) / most
    lengths = np.ones(size)
    for i, grip in enumerate(grips):
        lengths[6 * i + 3 : 6 * i + 6] = grip.radius_mm
    equal = np.column_stack([balance * lengths, growing / most])
    of_rows = np.abs(equal).max(axis=1)
    rows: list[Floats] = []
    heights: list[float] = []

    def cut(i: int, way: Floats) -> None:
        for share in (0.8, 0.0):
            row = np.zeros(size + 1)
            row[[6 * i, 6 * i + 1, 6 * i + 5]] = way
            row[6 * i + 2] = friction[i] * share
            rows.append(row)
            heights.append(friction[i] * preload[i])

    for i in range(len(grips)):
        for way in (*np.eye(3), *-np.eye(3)):
            cut(i, way)
    for _ in range(60):
        found = linprog(
            -np.eye(size + 1)[-1],
            A_ub=np.array(rows),
            b_ub=heights,
            A_eq=equal / of_rows[:, None],
            b_eq=-steady / most / of_rows,
            bounds=[(None, None)] * size + [(0.0, 1e4)],
        )
        if found.x is None:
            return 0.0
        shear_1, shear_2, pull, spin = (found.x[place:-1:6] for place in (0, 1, 2, 5))
        carried = np.column_stack([shear_1, shear_2, spin])
        length = np.linalg.norm(carried, axis=1)
        over = np.flatnonzero(length > friction * (preload - 0.8 * np.maximum(pull, 0.0)) + 1e-8)
        for i in over:
            cut(i, carried[i] / length[i])
        if not len(over):
            break
    return float("inf") if found.x[-1] > 9900.0 else float(found.x[-1])


@pytest.mark.parametrize("seed", [*range(12), 34, 35, 47, 54])
def test_friction_limit_is_what_planes_about_the_cones_close_in_on(seed: int) -> None:
    """Some have no friction, some no preload; pressure alone then closes no equation that says anything."""
    random = np.random.default_rng(seed)
    bodies = int(random.integers(1, 4))
    balance = balance_of(random, bodies)
    grips = [
        Grip(float(random.choice([0.0, 0.14, 0.5])), float(random.choice([0.0, 1e3, 2e4])), 8.0, 0.5)
        for _ in range(CONNECTIONS)
    ]
    growing, steady = np.zeros(6 * bodies), random.normal(size=6 * bodies) * 10.0
    growing[5] = 1000.0
    limit = friction_limit(balance, steady, growing, grips)
    # HiGHS meets equations to 1e-7, and a small factor is that much less sure.
    assert limit == pytest.approx(by_planes(balance, steady, growing, grips), rel=1e-4, abs=1e-4)
