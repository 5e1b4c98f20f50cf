"""A plate that cannot be meshed is told in a sentence, not by a fault of the program."""

from __future__ import annotations

import pytest

from geometry.mesh_gmsh import MeshError
from solver import mesh_stage
from solver.analyse import analyse
from solver.errors import SolverError
from tests.brackets import straps


def test_a_mesh_error_says_there_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise MeshError("plate strap cannot be meshed near (10, 5): move the opening away")

    monkeypatch.setattr(mesh_stage, "mesh_plate", refuse)
    with pytest.raises(SolverError, match="strap cannot be meshed near"):
        analyse(straps("side by side"))
