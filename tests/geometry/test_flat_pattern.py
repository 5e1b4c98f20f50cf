"""The flat pattern against closed forms of plane geometry, and shapes that cannot be made."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.edge_crossings import crossings
from geometry.flat_pattern import flat_pattern, refuse_unsound
from geometry.flat_segments import Arc, Line, ShapeError, arc_through
from geometry.plate import Corner, CutOut, FoldLine, Hole, Opening, Plate, Slot


def plate(
    corners: tuple[Corner, ...], openings: tuple[Opening, ...] = (), folds: tuple[FoldLine, ...] = ()
) -> Plate:
    return Plate(name="foot", material=None, thickness_mm=4, outline=corners, openings=openings, folds=folds)


def rectangle(width: float, height: float, radius: float = 0.0) -> tuple[Corner, ...]:
    return tuple(
        Corner(at_mm=at, radius_mm=radius) for at in ((0, 0), (width, 0), (width, height), (0, height))
    )


def test_rounded_rectangle() -> None:
    pattern = flat_pattern(plate(rectangle(100, 60, 8)))
    assert pattern.area_mm2 == pytest.approx(100 * 60 - (4 - math.pi) * 8**2, rel=1e-12)
    assert pattern.cut_length_mm == pytest.approx(2 * (100 + 60) - (8 - 2 * math.pi) * 8, rel=1e-12)
    assert pattern.polygon.area == pytest.approx(pattern.area_mm2, rel=1e-4)
    assert pattern.sharp_inside_corners() == ()


def test_corner_radii_may_use_up_an_edge() -> None:
    pattern = flat_pattern(plate(rectangle(40, 40, 20)))
    assert pattern.area_mm2 == pytest.approx(math.pi * 20**2, rel=1e-12)


def test_two_arcs_make_a_disc() -> None:
    disc = (
        Corner(at_mm=(-10, 0), arc_via_mm=(0, -10)),
        Corner(at_mm=(10, 0), arc_via_mm=(0, 10)),
    )
    pattern = flat_pattern(plate(disc))
    assert pattern.area_mm2 == pytest.approx(math.pi * 100, rel=1e-12)
    assert pattern.cut_length_mm == pytest.approx(2 * math.pi * 10, rel=1e-12)


def test_hollow_arc_takes_away_its_segment() -> None:
    # A half circle of radius 10 bitten out of the upper edge.
    corners = (
        Corner(at_mm=(0, 0)),
        Corner(at_mm=(60, 0)),
        Corner(at_mm=(60, 40)),
        Corner(at_mm=(40, 40), arc_via_mm=(30, 30)),
        Corner(at_mm=(20, 40)),
        Corner(at_mm=(0, 40)),
    )
    pattern = flat_pattern(plate(corners))
    assert pattern.area_mm2 == pytest.approx(60 * 40 - math.pi * 100 / 2, rel=1e-12)


def test_slot_and_hole() -> None:
    openings = (
        Slot(name="s", centre_mm=(30, 30), length_mm=30, width_mm=10, angle_deg=33),
        Hole(name="h", centre_mm=(80, 30), diameter_mm=9),
        Slot(name="round", centre_mm=(60, 45), length_mm=8, width_mm=8),
    )
    pattern = flat_pattern(plate(rectangle(100, 60), openings))
    slot = 20 * 10 + math.pi * 25
    assert pattern.area_mm2 == pytest.approx(6000 - slot - math.pi * 4.5**2 - math.pi * 16, rel=1e-12)
    cut = 320 + (2 * 20 + math.pi * 10) + math.pi * 9 + math.pi * 8
    assert pattern.cut_length_mm == pytest.approx(cut, rel=1e-12)


def test_mass_of_a_square_of_steel() -> None:
    assert flat_pattern(plate(rectangle(100, 100))).mass_kg(10, 7850) == pytest.approx(0.785, rel=1e-12)


@pytest.mark.parametrize("turned_round", [False, True])
def test_sharp_inside_corners(turned_round: bool) -> None:
    step = ((0, 0), (100, 0), (100, 50), (60, 50), (60, 90), (0, 90))
    triangle = ((20, 20), (50, 20), (20, 50))
    if turned_round:
        step, triangle = step[::-1], triangle[::-1]
    window = CutOut(name="window", corners=tuple(Corner(at_mm=at) for at in triangle))
    corners = flat_pattern(plate(tuple(Corner(at_mm=at) for at in step), (window,))).sharp_inside_corners()
    found = {(c.where, tuple(round(x) for x in c.at_mm)): c.material_deg for c in corners}
    assert found.pop(("outline", (60, 50))) == pytest.approx(270)
    assert found.pop(("window", (20, 20))) == pytest.approx(270)
    assert found.pop(("window", (50, 20))) == pytest.approx(315)
    assert found.pop(("window", (20, 50))) == pytest.approx(315)
    assert found == {}


def test_a_radius_takes_the_corner_away() -> None:
    step = [Corner(at_mm=at) for at in ((0, 0), (100, 0), (100, 50), (60, 50), (60, 90), (0, 90))]
    step[3] = Corner(at_mm=(60, 50), radius_mm=1.0)
    assert flat_pattern(plate(tuple(step))).sharp_inside_corners() == ()


IMPOSSIBLE = [
    ("corner_radius", rectangle(100, 30, 16), ()),
    ("arc_in_line", (Corner(at_mm=(0, 0), arc_via_mm=(5, 0)), *rectangle(10, 10)[1:]), ()),
    ("edge_of_no_length", (*rectangle(10, 10), Corner(at_mm=(0, 10))), ()),
    ("no_area", rectangle(10, 10)[:2], ()),
    (
        "corner_radius_at_arc",
        (Corner(at_mm=(0, 0), radius_mm=1, arc_via_mm=(5, -1)), *rectangle(10, 10)[1:]),
        (),
    ),
    (
        "edge_doubles_back",
        (
            Corner(at_mm=(0, 0)),
            Corner(at_mm=(20, 0), radius_mm=1),
            Corner(at_mm=(10, 0)),
            Corner(at_mm=(5, 9)),
        ),
        (),
    ),
    ("slot_short", rectangle(100, 60), (Slot(name="s", centre_mm=(30, 30), length_mm=8, width_mm=10),)),
]


@pytest.mark.parametrize(("code", "corners", "openings"), IMPOSSIBLE)
def test_impossible_shapes_are_named(
    code: str, corners: tuple[Corner, ...], openings: tuple[Opening, ...]
) -> None:
    with pytest.raises(ShapeError) as caught:
        flat_pattern(plate(corners, openings))
    assert caught.value.code == code
    assert "plate foot" in caught.value.where
    assert caught.value.found
    assert caught.value.next_step
    assert caught.value.next_step in str(caught.value)


def test_a_figure_of_eight_is_refused() -> None:
    eight = tuple(Corner(at_mm=at) for at in ((0, 0), (50, 50), (50, 0), (0, 50)))
    with pytest.raises(ShapeError, match="cross or touch"):
        refuse_unsound(flat_pattern(plate(eight)))


def test_an_opening_over_the_edge_is_refused() -> None:
    hole = Hole(name="h", centre_mm=(1, 30), diameter_mm=9)
    with pytest.raises(ShapeError, match="cross or touch"):
        refuse_unsound(flat_pattern(plate(rectangle(100, 60), (hole,))))


coordinate = st.floats(-50, 50)
place = st.tuples(coordinate, coordinate)


@given(place, place, place)
def test_an_arc_passes_through_its_three_places(start: tuple, via: tuple, end: tuple) -> None:
    sides = sorted(math.dist(a, b) for a, b in ((start, via), (via, end), (start, end)))
    doubled = abs((via[0] - start[0]) * (end[1] - start[1]) - (via[1] - start[1]) * (end[0] - start[0]))
    if sides[0] < 0.1 or doubled < 1e-2 * sides[2] ** 2:
        return
    arc = arc_through(start, via, end, "arc")
    assert math.dist(arc.start, start) < 1e-6
    assert math.dist(arc.end, end) < 1e-6
    assert math.dist(arc.centre, via) == pytest.approx(arc.radius_mm, rel=1e-9)
    fine = arc.at(np.linspace(0, 1, 4001))
    assert np.hypot(*(fine - np.array(via)).T).min() < 2e-3 * arc.length_mm


@given(place, place, place, st.floats(1, 30), st.floats(0, 6), st.floats(0.5, 6))
def test_edges_meet_where_their_crossings_say(
    a: tuple, b: tuple, centre: tuple, radius: float, begin: float, turn: float
) -> None:
    if math.dist(a, b) < 0.1:
        return
    line, arc = Line(a, b), Arc(centre, radius, begin, turn)
    for share, other in crossings(line, arc):
        assert np.allclose(line.at(np.array([share])), arc.at(np.array([other])), atol=1e-6)
    shifted = Arc((centre[0] + radius, centre[1]), radius, begin, turn)
    for share, other in crossings(arc, shifted):
        assert np.allclose(arc.at(np.array([share])), shifted.at(np.array([other])), atol=1e-6)


def test_crossings_of_circles_and_lines_by_hand() -> None:
    circle = Arc((0, 0), 5, 0, 2 * math.pi)
    found = sorted(share for share, _ in crossings(circle, Line((-10, 3), (10, 3))))
    assert found == pytest.approx([math.atan2(3, 4) / (2 * math.pi), 0.5 - math.atan2(3, 4) / (2 * math.pi)])
    assert len(crossings(circle, Arc((6, 0), 5, 0, 2 * math.pi))) == 2
    assert crossings(circle, Line((-10, 6), (10, 6))) == []
    assert crossings(Line((0, 0), (10, 0)), Line((5, -5), (5, 5))) == [(0.5, 0.5)]
    assert {s for s, _ in crossings(Line((0, 0), (10, 0)), Line((5, 0), (20, 0)))} == {0.5, 1.0}


@pytest.mark.parametrize("slack", [1e-9, 0.1])
def test_parallel_lines_meet_only_where_they_overlap(slack: float) -> None:
    assert crossings(Line((0, 0), (10, 0)), Line((5, 0.2), (20, 0.2)), slack) == []
    overlap = crossings(Line((0, 0), (10, 0)), Line((5, 0), (20, 0)), slack)
    assert sorted({share for share, _ in overlap}) == [0.5, 1.0]
