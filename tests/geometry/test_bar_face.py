"""How deep a place lies inside the dash bar, by hand, and what must not matter to it."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bar_face import (
    bar_normal,
    bar_spots,
    clamped_of_bar_mm,
    depth_inside_bar,
    depth_to_bar,
    has_face,
)
from geometry.bar_section import Angle, Channel, FlatBar, RectangularTube, RoundTube
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


ALONG = np.array([1.0, 0.0, 0.0])
ROUND = RoundTube(outer_mm=36.0, wall_mm=2.0)


@pytest.mark.parametrize("angle_deg", [0.0, 30.0, 44.0, 130.0, 255.0])
def test_a_bolt_comes_at_a_round_bar_squarely_from_any_side_and_at_a_box_by_its_nearest_face(
    angle_deg: float,
) -> None:
    """A cylinder's normal is its radius; the faces of the box look along Y, its height, and along Z."""
    angle = np.radians(angle_deg)
    way = np.array([0.3, np.cos(angle), np.sin(angle)])
    normal = bar_normal(bar_of().but(section=ROUND), ALONG, way)
    assert normal == pytest.approx([0.0, -np.cos(angle), -np.sin(angle)])
    nearest = 1 if abs(way[1]) > abs(way[2]) else 2
    assert bar_normal(bar_of(), ALONG, way) == pytest.approx(-np.sign(way[nearest]) * np.eye(3)[nearest])


@pytest.mark.parametrize("off_mm", [0.0, 5.0, 17.9])
def test_how_far_a_round_bar_and_a_box_lie_along_a_bolt(off_mm: float) -> None:
    """Pythagoras on the circle; the box begins at half its height, and what passes beside meets neither."""
    start, beside = np.array([100.0, 50.0, off_mm]), np.array([100.0, 50.0, 20.0 + off_mm])
    down = np.array([0.0, -1.0, 0.0])
    around = depth_to_bar(bar_of().but(section=ROUND), ALONG, start, down)
    assert around == pytest.approx(50.0 - np.sqrt(18.0**2 - off_mm**2))
    straight = depth_to_bar(bar_of(), ALONG, start, down)
    assert straight == (pytest.approx(30.0) if off_mm <= 10.0 else None)
    for section in (ROUND, bar_of().section):
        assert depth_to_bar(bar_of().but(section=section), ALONG, beside, down) is None


def test_a_bolt_clamps_a_wall_or_all_of_a_solid_bar_that_way() -> None:
    solid = bar_of().but(section=FlatBar(width_mm=20.0, height_mm=40.0))
    for way, through in (((0.0, -1.0, 0.1), 40.0), ((0.0, 0.2, 1.0), 20.0)):
        assert clamped_of_bar_mm(solid, ALONG, np.array(way)) == through
        for hollow in (bar_of(), bar_of().but(section=ROUND)):
            assert clamped_of_bar_mm(hollow, ALONG, np.array(way)) == 2.0


def test_only_the_closed_sides_of_an_open_bar_have_a_face() -> None:
    """A channel has no metal at one of its four sides, an angle at two; a tube has all."""
    sides = [np.array(side) for side in ((0, 1, 0), (0, -1, 0), (0, 0, 1), (0, 0, -1))]
    sizes = {"width_mm": 20.0, "height_mm": 40.0, "wall_mm": 2.0}
    for section, faces in ((RectangularTube(**sizes), 4), (Channel(**sizes), 3), (Angle(**sizes), 2)):
        assert sum(has_face(bar_of().but(section=section), side) for side in sides) == faces


@pytest.mark.parametrize("section", [None, ROUND])
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
