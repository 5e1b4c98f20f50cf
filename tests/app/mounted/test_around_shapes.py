"""The measured shaft and blocks kept clear are drawn where they are, and do not widen the view."""

from __future__ import annotations

import numpy as np

from app.mounted.around_shapes import around_shapes
from app.mounted.scene import Scene
from geometry.installation import Installation, KeptClear, Room, ShaftLine
from tests.brackets import one_piece

PLACES = ((0.0, 0.0, 410.0), (0.0, 0.0, -190.0), (0.0, -120.0, -480.0))
KNEES = KeptClear(name="knees", low_mm=(-200.0, -400.0, 0.0), high_mm=(200.0, -150.0, 400.0))
AROUND = Installation(shaft=ShaftLine(places_mm=PLACES), room=Room(kept_clear=(KNEES,)))


def test_a_block_has_twelve_edges_as_long_as_its_sides() -> None:
    lines = next(line for line in around_shapes(AROUND).lines if line.name == "knees")
    lengths = np.linalg.norm(lines.ends[:, 1] - lines.ends[:, 0], axis=1)
    assert sorted(np.unique(lengths)) == [250.0, 400.0]
    assert len(lengths) == 12
    assert lengths.sum() == 4 * (400.0 + 250.0 + 400.0)


def test_the_shaft_runs_through_its_places() -> None:
    shaft = next(line for line in around_shapes(AROUND).lines if line.name == "shaft")
    assert np.allclose(shaft.ends.reshape(-1, 3)[[0, 1, 3]], PLACES)
    assert any(line.name == "shaft joint" for line in around_shapes(AROUND).lines)


def test_they_are_in_the_scene_and_leave_the_camera_where_it_was() -> None:
    plain, full = Scene(), Scene()
    plain.show(one_piece())
    full.show(one_piece().but(installation=AROUND))
    assert plain.camera == full.camera
    count = [sum(len(drawn.ends) for drawn in scene.frame().lines.values()) for scene in (plain, full)]
    assert count[1] > count[0]


def test_nothing_said_draws_nothing() -> None:
    assert around_shapes(Installation()).lines == ()
