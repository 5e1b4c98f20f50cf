"""Brackets solved once for all tests of the solver: coarse meshes, for laws hold on any."""

from __future__ import annotations

import pytest

from solver.solved import Solved
from tests.brackets import NO_BEARINGS, one_piece, solved_once, straps

COARSE_MM = 20.0


@pytest.fixture(scope="session")
def flat() -> Solved:
    """One flat plate square to the shaft, two bearings."""
    return solved_once(one_piece(), COARSE_MM)


@pytest.fixture(scope="session")
def folded() -> Solved:
    """The same with a folded foot."""
    return solved_once(one_piece(folded=True), COARSE_MM)


@pytest.fixture(scope="session")
def side_by_side() -> Solved:
    """Two straps that rack, nothing else holds the column."""
    return solved_once(straps("side by side", column=NO_BEARINGS), COARSE_MM)


@pytest.fixture(scope="session")
def in_line() -> Solved:
    """Two straps in line along the shaft, nothing else holds the column."""
    return solved_once(straps("in line", column=NO_BEARINGS), COARSE_MM)
