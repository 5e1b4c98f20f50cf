"""Welds loaded off their middle: Bhandari, Design of Machine Elements, examples 8.9 and 8.11."""

from __future__ import annotations

import numpy as np

from solver.weld_group import group_line_forces
from tests.validation.reference import agrees

SOURCE = "Bhandari, Design of Machine Elements, chapter 8 (published)"


def test_two_welds_with_a_force_beside_them() -> None:
    runs = (((-25.0, 25.0), (25.0, 25.0)), ((-25.0, -25.0), (25.0, -25.0)))
    lines = group_line_forces(runs, (0.0, -7500.0), (125.0, 0.0))
    throat = float(np.linalg.norm(lines, axis=2).max()) / 100.0
    agrees(throat, 4.539, 1e-3, source=SOURCE, name="example 8.9, throat of two 50 mm welds, mm")


def test_three_welds_as_a_c() -> None:
    # The force runs along the 150 mm welds, 150 mm from the line midway between them: of the ways to read the
    # example's short note it is the one that gives its throat.
    runs = (((0.0, 50.0), (150.0, 50.0)), ((0.0, -50.0), (0.0, 50.0)), ((0.0, -50.0), (150.0, -50.0)))
    lines = group_line_forces(runs, (25_000.0, 0.0), (0.0, 150.0))
    throat = float(np.linalg.norm(lines, axis=2).max()) / 55.0
    agrees(throat, 4.630, 1e-3, source=SOURCE, name="example 8.11, throat of a C of welds, mm")
