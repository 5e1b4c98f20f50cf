"""How deep a place lies inside the dash bar, by hand, and what must not matter to it."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bar_face import bar_spots, depth_inside_bar
from geometry.bar_section import RectangularTube, RoundTube
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


@pytest.mark.parametrize("section", [None, RoundTube(outer_mm=36.0, wall_mm=2.0)])
def test_spots_lie_on_the_surface_and_the_middle_line(section: RoundTube | None) -> None:
    bar = bar_of() if section is None else bar_of().but(section=section)
    spots = bar_spots(bar, 4.0)
    inside = np.clip(spots[:, 0], -99.0, 99.0)
    deep = depth_inside_bar(bar, np.column_stack([inside, spots[:, 1:]]))
    middle = np.hypot(spots[:, 1], spots[:, 2]) < 1e-9
    assert np.abs(deep[~middle]).max() < 1e-9
    assert np.ptp(spots[middle], axis=0) == pytest.approx([200.0, 0.0, 0.0])
    # no place of the surface is farther than the step from one of them
    around = spots[~middle & (spots[:, 0] == spots[0, 0])][:, 1:]
    nearest = [np.sort(np.hypot(*(around - spot).T))[1] for spot in around]
    assert max(nearest) <= 4.0


def test_spots_of_a_bar_larger_than_any_are_few() -> None:
    huge = bar_of().but(
        to_mm=(1e9, 0.0, 0.0), section=RectangularTube(width_mm=1e9, height_mm=1e9, wall_mm=2)
    )
    assert len(bar_spots(huge, 4.0)) < 200_000
    assert len(bar_spots(bar_of().but(to_mm=(-100.0, 0.0, 0.0)), 4.0)) == 0
