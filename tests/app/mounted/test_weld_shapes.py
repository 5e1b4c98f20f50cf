"""Beads of welds as mounted: one on each welded side, in the corner between the two parts."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from app.mounted.scene import Scene
from app.mounted.weld_shapes import weld_shapes
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket

SAMPLE = Path(__file__).parents[3] / "sample_brackets" / "sluice_welded.bracket.json"


def _welded() -> Bracket:
    bracket = read_bracket(SAMPLE).bracket
    assert bracket is not None
    return bracket


def test_a_bead_on_each_side_below_the_foot_plate() -> None:
    front, back = weld_shapes(_welded()).surfaces
    leg = 4.0 * 2**0.5
    for bead, low, high in ((front, 6.0, 6.0 + leg), (back, -leg, 0.0)):
        assert np.allclose(bead.points[:, 0].min(), -76.0)
        assert np.allclose([bead.points[:, 1].min(), bead.points[:, 1].max()], [90.0 - leg, 90.0])
        assert np.allclose([bead.points[:, 2].min(), bead.points[:, 2].max()], [low, high])
        a, b, c = (bead.points[bead.triangles[:, k]] for k in range(3))
        volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6.0
        assert np.isclose(volume, leg**2 / 2.0 * 152.0)


def test_one_side_alone_has_one_bead() -> None:
    bracket = _welded()
    alone = bracket.with_weld(bracket.welds[0].but(sides="back"))
    assert len(weld_shapes(alone).surfaces) == 1


def test_the_scene_shows_it() -> None:
    scene = Scene()
    scene.show(_welded())
    assert any(line.kind == "weld" for line in scene._shapes.lines)
