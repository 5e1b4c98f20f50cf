"""A bolt's hole is taken off the dash bar's section: second moments worked by hand from rectangles."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.bar_section import Channel, FlatBar, RectangularTube, RoundTube, Section
from geometry.fixing import DashBar
from geometry.placing import place_bolts
from solver.bar_nets import BarHole, bar_nets, net_of_holes
from solver.bar_sections import section_of
from solver.beam import BeamSection
from solver.dash_bar import bar_model
from solver.evaluation import loaded
from solver.plate_checks import bar_checks
from solver.verdict import failures
from tests.brackets import NO_BEARINGS, WELDED, one_piece, solved_once

HOLE_MM = 9.0


def _net(section: Section, way: tuple[float, float], off_mm: float = 0.0) -> BeamSection:
    bar = DashBar(from_mm=(0, 0, 0), to_mm=(500, 0, 0), section=section, ends=(WELDED, WELDED))
    return net_of_holes(bar, section_of(section), [BarHole(HOLE_MM, way, (off_mm, off_mm))])


def test_a_solid_bar_is_two_strips_beside_the_hole() -> None:
    """12 x 40 mm bolted through its 12 mm: 31 mm of its height are left, then 3 mm of its width."""
    net = _net(FlatBar(width_mm=12, height_mm=40), (1.0, 0.0))
    assert net.area_mm2 == pytest.approx(12 * 31)
    assert net.second_moment_1_mm4 == pytest.approx(12 * (40**3 - 9**3) / 12)
    assert net.second_moment_2_mm4 == pytest.approx(31 * 12**3 / 12)
    assert (net.outer_1_mm, net.outer_2_mm) == pytest.approx((6.0, 20.0))
    # through its 40 mm: only 3 of 12 mm are left, at either side
    other = _net(FlatBar(width_mm=12, height_mm=40), (0.0, 1.0))
    assert other.second_moment_1_mm4 == pytest.approx(3 * 40**3 / 12)
    assert other.second_moment_2_mm4 == pytest.approx(40 * (12**3 - 9**3) / 12)


def test_a_tube_loses_the_wall_that_is_clamped_and_its_middle_moves_away() -> None:
    """30 x 20 x 2 as five rectangles by Steiner, the hole 4 mm aside in the upper face."""
    net = _net(RectangularTube(width_mm=30, height_mm=20, wall_mm=2), (0.0, -1.0), 4.0)
    # width, height, x, y of rectangles; the hole as one of negative area
    parts = np.array([(30, 20, 0, 0), (-26, 16, 0, 0), (-9, 2, 4, 9)], dtype=float)
    width, height, x, y = parts.T
    area = width * height
    x_mid, y_mid = (area @ x) / area.sum(), (area @ y) / area.sum()
    about_1 = float((width * height**3 / 12 + area * (y - y_mid) ** 2).sum())
    about_2 = float((height * width**3 / 12 + area * (x - x_mid) ** 2).sum())
    assert net.area_mm2 == pytest.approx(area.sum())
    assert net.second_moment_1_mm4 == pytest.approx(about_1)
    assert net.second_moment_2_mm4 == pytest.approx(about_2)
    assert net.outer_2_mm == pytest.approx(10 - y_mid)
    assert net.outer_1_mm == pytest.approx(15 - x_mid)


def test_two_holes_beside_each_other_are_both_taken_off() -> None:
    """50 x 20 x 2 with holes 10 mm left and 14 mm right in one face; solid 60 x 10 keeps 42 mm."""
    tube, flat = RectangularTube(width_mm=50, height_mm=20, wall_mm=2), FlatBar(width_mm=60, height_mm=10)
    down = (0.0, -1.0)
    bars = [
        DashBar(from_mm=(0, 0, 0), to_mm=(500, 0, 0), section=own, ends=(WELDED, WELDED))
        for own in (tube, flat)
    ]
    holes = [BarHole(HOLE_MM, down, (x, 10.0)) for x in (-10.0, 14.0)]
    net = net_of_holes(bars[0], section_of(tube), holes)
    parts = np.array([(50, 20, 0, 0), (-46, 16, 0, 0), (-9, 2, -10, 9), (-9, 2, 14, 9)], dtype=float)
    width, height, x, y = parts.T
    area = width * height
    x_mid, y_mid = (area @ x) / area.sum(), (area @ y) / area.sum()
    assert net.area_mm2 == pytest.approx(area.sum())
    assert net.second_moment_1_mm4 == pytest.approx(
        float((width * height**3 / 12 + area * (y - y_mid) ** 2).sum())
    )
    assert net.second_moment_2_mm4 == pytest.approx(
        float((height * width**3 / 12 + area * (x - x_mid) ** 2).sum())
    )
    solid = net_of_holes(bars[1], section_of(flat), holes)
    assert solid.area_mm2 == pytest.approx(42 * 10)
    assert solid.second_moment_1_mm4 == pytest.approx(42 * 10**3 / 12)


def test_a_round_tube_is_as_weak_whichever_way_it_is_bolted() -> None:
    tube = RoundTube(outer_mm=40, wall_mm=3)
    one, other = _net(tube, (1.0, 0.0)), _net(tube, (0.6, -0.8))
    assert one == other
    assert one.area_mm2 == pytest.approx(section_of(tube).area_mm2 - 27)
    assert one.second_moment_1_mm4 < 0.9 * section_of(tube).second_moment_1_mm4


def test_a_hole_as_wide_as_the_bar_leaves_next_to_nothing() -> None:
    net = _net(FlatBar(width_mm=9, height_mm=9), (1.0, 0.0))
    assert net.area_mm2 < 1e-3


def test_a_channel_never_passes_and_has_none() -> None:
    bracket = one_piece()
    bar = bracket.dash_bar
    assert bar is not None
    bar = bar.but(section=Channel(width_mm=40, height_mm=40, wall_mm=3))
    places = place_bolts(bracket)
    assert bar_nets(bar, bar_model(bar, [], 210_000.0, 0.3), places) == ()


def test_a_narrow_bar_that_holds_whole_fails_through_its_holes() -> None:
    """A face of 14 mm keeps 5 of them beside a hole of 9 mm: only the whole bar's stress was looked at."""
    bracket = one_piece(column=NO_BEARINGS)
    bar = bracket.dash_bar
    assert bar is not None
    narrow = bracket.but(dash_bar=bar.but(section=FlatBar(width_mm=40, height_mm=14)))
    whole = solved_once(narrow.but(limits=narrow.limits.but(yield_factor=2.8)), 20.0)
    checks = {c.name: c for c in bar_checks(whole, loaded(whole.states, whole.cases, 30.0))}
    gross, net = checks["dash bar"], checks["dash bar at holes"]
    assert net.allowable == gross.allowable == pytest.approx(235 / 2.8)
    assert not failures([gross], ())
    assert "dash bar at holes uses" in failures([net], ())[0]
    assert "through the hole of bolt" in net.where
