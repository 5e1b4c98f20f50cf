"""Names from a stranger's file in sentences: what does not print is a space."""

from __future__ import annotations

import pytest

from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.mesh_gmsh import MeshError
from geometry.one_line import on_one_line
from geometry.plate import Corner, Plate
from solver.errors import SolverError

LIVE = "a\tb\nc\x1b[2Jd\u202ee"
PLAIN = "a b c [2Jd e"


def test_what_prints_stays_and_what_does_not_is_a_space() -> None:
    printed = "sheet 3 \u00e4\u00f6\u00fc \u2014 \u677f"
    assert on_one_line(printed) == printed
    assert on_one_line(LIVE) == PLAIN


def test_a_plate_that_cannot_be_made_is_named_on_one_line() -> None:
    outline = tuple(Corner(at_mm=at) for at in ((0.0, 0.0), (50.0, 0.0)))
    plate = Plate(name=LIVE, material="S275", thickness_mm=4.0, outline=outline)
    with pytest.raises(ShapeError) as told:
        flat_pattern(plate)
    assert str(told.value).startswith(f"plate {PLAIN}, outline: ")


@pytest.mark.parametrize("kind", [MeshError, SolverError])
def test_what_cannot_be_meshed_or_solved_is_named_on_one_line(kind: type[Exception]) -> None:
    assert str(kind(f"plate {LIVE}: it is loose")) == f"plate {PLAIN}: it is loose"
