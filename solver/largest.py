"""Which of several figures is the largest, where rounding may not decide.

Mirrored bolts carry the same, and which of them carries most in the last digit hangs on the processor. Of
figures alike but for rounding the first is taken, so that every machine names the same place and load case.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Final, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

Thing = TypeVar("Thing")

ALIKE: Final = 1e-7
"""Figures that differ by a smaller share of the larger one are alike: rounding is a hundredth of it, and
nobody decides by it."""


def first_of_largest(values: ArrayLike) -> int:
    """Return the flat index of the first figure alike to the largest; that of the first NaN if there is any.

    ValueError if there are none.
    """
    flat = np.ravel(values)
    most = float(flat.max())
    if math.isnan(most):
        return int(np.argmax(np.isnan(flat)))
    return int(np.argmax(flat >= most - abs(most) * ALIKE if math.isfinite(most) else flat == most))


def place_of_largest(values: ArrayLike) -> tuple[int, int]:
    """Return row and column of the first figure of a table alike to the largest; ValueError if none."""
    rows = np.asarray(values)
    row, column = np.unravel_index(first_of_largest(rows), rows.shape)
    return int(row), int(column)


def rows_of_largest(table: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return for each column of a table (rows, columns) the first row alike to its largest."""
    return np.asarray(np.argmax(_alike(table, table.max(axis=0)), axis=0), dtype=np.int64)


def largest_of(things: Iterable[Thing], size: Callable[[Thing], float]) -> Thing:
    """Return the first thing alike in size to the largest; ValueError if there are none."""
    listed = list(things)
    return listed[first_of_largest([size(thing) for thing in listed])]


def settled(sizes: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return sizes without the digits that rounding may have made, to be put in order."""
    shares, powers = np.frexp(sizes)
    return np.asarray(np.ldexp(np.round(shares / ALIKE) * ALIKE, powers))


def alike_to_largest(values: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return whether each figure is alike to the largest of all; ValueError if there are none."""
    return _alike(values, values.max())


def _alike(values: NDArray[np.float64], most: ArrayLike) -> NDArray[np.bool_]:
    # An endless one is alike to endless ones alone.
    near = np.where(np.isfinite(most), np.abs(most) * ALIKE, 0.0)
    return np.asarray(values >= np.asarray(most) - near)
