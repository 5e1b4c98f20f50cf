"""Motions and forces of rigid bodies.

A motion is six numbers: a translation (mm) of a named point and a rotation (rad), small. A wrench is six
numbers: a force (N) and a moment about a named point (N.mm). Both are in the axes of design: X, Y, Z of the
shaft.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def cross_matrix(arm: ArrayLike) -> Floats:
    """Return the (3, 3) matrix A with A v = arm x v."""
    x, y, z = np.asarray(arm, dtype=float)
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])


def carry(from_mm: ArrayLike, to_mm: ArrayLike) -> Floats:
    """Return the (6, 6) matrix that turns a body's motion at one point into its motion at another.

    Its transpose turns a wrench at `to_mm` into the same wrench about `from_mm`.
    """
    moved = np.eye(6)
    moved[:3, 3:] = -cross_matrix(np.asarray(to_mm, dtype=float) - np.asarray(from_mm, dtype=float))
    return moved


def turned(axes: Floats) -> Floats:
    """Return the (6, 6) matrix that expresses a motion or wrench given in X, Y, Z in `axes` (its columns)."""
    both = np.zeros((6, 6))
    both[:3, :3] = axes.T
    both[3:, 3:] = axes.T
    return both


def axes_along(direction: ArrayLike, up: ArrayLike | None = None) -> Floats:
    """Return a right-handed (3, 3) frame whose third column is the unit vector along `direction`.

    `up` steers the second column; without it, or along it, the frame is turned to the least tilted axis.
    Raises ValueError for a direction of no length.
    """
    # Plain floats: numpy takes ten times as long over three numbers, and a quick answer asks for hundreds.
    third = _unit(direction)
    if third is None:
        raise ValueError("a direction of no length has no frame: give it one")
    wish = None if up is None else _unit(up)
    first = None if wish is None else _unit(_cross(wish, third), 1e-6)
    if first is None:
        least = min(range(3), key=lambda i: abs(third[i]))
        first = _unit(_cross([float(i == least) for i in range(3)], third))
    second = _cross(third, first or third)
    return np.array([first, second, third], dtype=float).T


def pulled_at(force_n: ArrayLike, at_mm: ArrayLike, about_mm: ArrayLike) -> Floats:
    """Return the wrench about a point, of a force that acts at another."""
    force = np.asarray(force_n, dtype=float)
    arm = np.asarray(at_mm, dtype=float) - np.asarray(about_mm, dtype=float)
    return np.concatenate([force, np.cross(arm, force)])


def _cross(a: Sequence[float], b: Sequence[float]) -> list[float]:
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def _unit(vector: ArrayLike, least: float = 0.0) -> list[float] | None:
    """Return the vector made one long; None if it is no longer than `least`."""
    x, y, z = (float(v) for v in np.asarray(vector, dtype=float))
    length = math.sqrt(x * x + y * y + z * z)
    return [x / length, y / length, z / length] if length > least else None
