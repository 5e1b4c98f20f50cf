"""One corner or edge: rounded, chamfered, bent, made straight."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.editing.outline import (
    arc_edge,
    chamfer_corner,
    largest_radius_mm,
    round_corner,
    sharp_inside_corners,
    straighten_edge,
)
from app.editing.refused import EditRefused
from geometry.flat_pattern import flat_pattern
from geometry.plate import Corner
from tests.app.editing.plates import plate


@given(index=st.integers(0, 4), radius=st.floats(0.01, 200))
def test_a_radius_fits_or_is_refused_with_the_largest_that_does(index: int, radius: float) -> None:
    start = plate(openings=(), folds=())
    try:
        made = round_corner(start, index, radius)
    except EditRefused as no:
        told = float(re.findall(r"fits is ([\d.]+) mm", str(no))[0])
        assert told < radius
        assert told == pytest.approx(largest_radius_mm(start, index), abs=0.0101)
        flat_pattern(round_corner(start, index, told))
    else:
        assert made.outline[index].radius_mm == radius
        flat_pattern(made)


def test_a_corner_is_made_sharp_with_nought() -> None:
    assert round_corner(plate(), 0, 0).outline[0].radius_mm == 0
    assert sharp_inside_corners(round_corner(plate(), 3, 0)) == (3, 6)


def test_corners_that_cannot_be_rounded_say_why() -> None:
    with pytest.raises(EditRefused, match="at the end of an arc"):
        round_corner(plate(), 5, 3)
    straight = plate(outline=tuple(Corner(at_mm=at) for at in ((0, 0), (50, 0), (90, 0), (0, 50))))
    with pytest.raises(EditRefused, match="on a straight run"):
        round_corner(straight, 1, 3)
    spike = plate(outline=tuple(Corner(at_mm=at) for at in ((0, 0), (90, 0), (50, 0), (0, 50))))
    with pytest.raises(EditRefused, match="runs back on itself"):
        chamfer_corner(spike, 1, 3)
    with pytest.raises(EditRefused, match="a radius at corner 1"):
        round_corner(plate(), 0, -2)


def test_a_chamfer_puts_two_corners_for_one() -> None:
    start = plate(openings=(), folds=())
    made = chamfer_corner(start, 1, 10)
    assert [c.at_mm for c in made.outline[1:3]] == [(110, 0), (120, 10)]
    assert [c.radius_mm for c in made.outline[1:3]] == [0, 0]
    assert len(made.outline) == 8
    sharp = round_corner(start, 1, 0)
    assert flat_pattern(made).area_mm2 == pytest.approx(flat_pattern(sharp).area_mm2 - 50)


def test_a_chamfered_inside_corner_is_rounded_twice() -> None:
    made = chamfer_corner(plate(), 3, 12)
    assert [c.radius_mm for c in made.outline[3:5]] == [4, 4]
    assert sharp_inside_corners(made) == (7,)  # where the arc begins


def test_a_chamfer_too_long_is_refused_with_the_longest() -> None:
    with pytest.raises(EditRefused, match=r"no room for a chamfer of 70 mm; the largest that fits is 60 mm"):
        chamfer_corner(plate(), 1, 70)
    with pytest.raises(EditRefused, match="cannot be chamfered; make that edge straight"):
        chamfer_corner(plate(), 6, 5)


def test_an_edge_is_bent_and_made_straight_again() -> None:
    start = plate(openings=(), folds=())
    bent = arc_edge(start, 0, (60, -15))
    assert [c.radius_mm for c in bent.outline[:2]] == [0, 0]
    assert flat_pattern(bent).area_mm2 > flat_pattern(start).area_mm2 + 1000
    assert straighten_edge(bent, 0).outline[0] == Corner(at_mm=(0, 0))
    with pytest.raises(EditRefused, match="in line with its ends"):
        arc_edge(plate(), 0, (60, 0))


def test_two_corners_need_an_arc() -> None:
    half = plate(outline=(Corner(at_mm=(0, 0), arc_via_mm=(20, -10)), Corner(at_mm=(40, 0))))
    with pytest.raises(EditRefused, match="has to stay an arc"):
        straighten_edge(half, 0)
    assert straighten_edge(half, 1) == half


def test_sharp_inside_corners_are_those_the_flat_pattern_has() -> None:
    start = plate(outline=tuple(c.but(radius_mm=0) for c in plate().outline))
    found = {start.outline[k].at_mm for k in sharp_inside_corners(start)}
    found |= {plate().opening("window").corners[k].at_mm for k in sharp_inside_corners(start, "window")}  # type: ignore[union-attr]
    told = {tuple(round(v, 6) for v in c.at_mm) for c in flat_pattern(start).sharp_inside_corners()}
    assert found == told
