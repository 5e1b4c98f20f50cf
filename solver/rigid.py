"""Motions and forces of rigid bodies.

A motion is six numbers: a translation (mm) of a named point and a rotation (rad), small. A wrench is six
numbers: a force (N) and a moment about a named point (N.mm). Both are in the axes of design: X, Y, Z of the
shaft.
"""

from __future__ import annotations

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
    third = np.asarray(direction, dtype=float)
    length = float(np.linalg.norm(third))
    if not length > 0.0:
        raise ValueError("a direction of no length has no frame: give it one")
    third = third / length
    wish = None if up is None else np.asarray(up, dtype=float)
    if wish is None or np.linalg.norm(np.cross(wish, third)) < 1e-6 * max(
        float(np.linalg.norm(wish)), 1e-300
    ):
        wish = np.eye(3)[int(np.argmin(np.abs(third)))]
    first = np.cross(wish, third)
    first /= np.linalg.norm(first)
    return np.column_stack([first, np.cross(third, first), third])


def pulled_at(force_n: ArrayLike, at_mm: ArrayLike, about_mm: ArrayLike) -> Floats:
    """Return the wrench about a point, of a force that acts at another."""
    force = np.asarray(force_n, dtype=float)
    arm = np.asarray(at_mm, dtype=float) - np.asarray(about_mm, dtype=float)
    return np.concatenate([force, np.cross(arm, force)])
