"""How deep a place lies inside the dash bar, by hand, and what must not matter to it."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bar_face import depth_inside_bar
from geometry.bar_section import RectangularTube
from geometry.fixing import DashBar
from tests.brackets import one_piece

PLACES = np.array([[0.0, 18.0, 0.0], [0.0, 0.0, 9.0], [0.0, 7.0, 8.0], [0.0, 21.0, 0.0], [-101.0, 0.0, 0.0]])


def bar_of(**changed: object) -> DashBar:
    bar = one_piece().dash_bar
    assert bar is not None
    box = RectangularTube(width_mm=20.0, height_mm=40.0, wall_mm=2.0)
    return bar.but(from_mm=(-100.0, 0.0, 0.0), to_mm=(100.0, 0.0, 0.0), section=box, **changed)


def test_depth_inside_a_box_by_hand() -> None:
    """20 wide along Z, 40 high along Y, 200 long along X."""
    assert depth_inside_bar(bar_of(), PLACES) == pytest.approx([2.0, 1.0, 2.0, -1.0, -1.0])


@pytest.mark.parametrize("length", [1e-7, 1e-3, 1e5])
def test_how_long_up_is_drawn_does_not_matter(length: float) -> None:
    turned = depth_inside_bar(bar_of(up=(0.0, length, 0.0)), PLACES)
    assert turned == pytest.approx(depth_inside_bar(bar_of(), PLACES))
