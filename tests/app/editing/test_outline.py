"""Outlines drawn and reshaped corner by corner."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.editing.loops import area_mm2, edge_of
from app.editing.outline import (
    insert_corner,
    move_corner,
    move_edge,
    new_plate,
    remove_corner,
    round_inside_corners,
    sharp_inside_corners,
)
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.casing import Boss
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import Arc
from geometry.plate import Corner
from tests.app.editing.plates import near, plate, steps
from tests.geometry.example_bracket import example_bracket

L_PLACES = [(0, 0), (0, 80), (30, 80), (30, 30), (90, 30), (90, 0)]


def drawn(places: list[tuple[float, float]], **given: object) -> Bracket:
    fields: dict[str, object] = {"thickness_mm": 6, "material": "S275"}
    return new_plate(Bracket(), places, **(fields | given))  # type: ignore[arg-type]


def test_a_clicked_outline_closes_turns_anticlockwise_and_rounds_its_inside_corner() -> None:
    made = drawn([*L_PLACES, (0, 0), (0, 0.001)]).plates[-1]
    assert made.name == "plate"
    assert len(made.outline) == 6
    assert area_mm2(made.outline) == pytest.approx(30 * 80 + 60 * 30)
    assert {c.at_mm: c.radius_mm for c in made.outline if c.radius_mm} == {(30, 30): 6}
    assert not flat_pattern(made).sharp_inside_corners()


def test_a_radius_that_does_not_fit_is_what_there_is_room_for() -> None:
    made = drawn(L_PLACES, thickness_mm=80).plates[-1]
    assert [c.radius_mm for c in made.outline if c.radius_mm] == [50]
    assert flat_pattern(made).area_mm2 > 0


def test_names_count_on_and_a_taken_name_is_refused() -> None:
    two = new_plate(drawn(L_PLACES), L_PLACES, thickness_mm=3, material=None)
    assert [p.name for p in two.plates] == ["plate", "plate 2"]
    assert two.plates[1].material is None
    with pytest.raises(EditRefused, match="'plate 2' is taken"):
        new_plate(two, L_PLACES, thickness_mm=3, material=None, name="plate 2")


@pytest.mark.parametrize(
    ("places", "words"),
    [
        ([(0, 0), (10, 0), (10, 0)], "2 corners, which enclose nothing"),
        ([(0, 0), (10, 10), (20, 20)], "in one line"),
        ([(0, 0), (math.nan, 0), (0, 9)], "off any sheet"),
        ([(0, 0), (1e9, 0), (0, 9)], "off any sheet"),
    ],
)
def test_an_outline_that_encloses_nothing_is_refused(places: list[tuple[float, float]], words: str) -> None:
    with pytest.raises(EditRefused, match=words):
        drawn(places)


def test_a_material_with_an_endless_name_is_refused() -> None:
    assert drawn(L_PLACES, material="  ").plates[-1].material is None
    with pytest.raises(EditRefused, match="the material cannot have a name of 99 letters"):
        drawn(L_PLACES, material="s" * 99)


@pytest.mark.parametrize("thickness", [0, -1, math.nan, math.inf])
def test_an_impossible_thickness_is_refused(thickness: float) -> None:
    with pytest.raises(EditRefused, match="thickness"):
        drawn(L_PLACES, thickness_mm=thickness)


def test_a_new_plate_lies_against_the_bosses() -> None:
    base = example_bracket()
    assert base.casing is not None
    made = new_plate(base, L_PLACES, thickness_mm=3, material="S235").plates[-1]
    assert (made.placement.origin_mm, made.placement.origin_on) == ((0, 0, 0), "back")
    rear = [
        Boss(name=n, at_mm=(x, 0, -90), direction=(0, 0, -2), thread="M8", face_diameter_mm=20)
        for n, x in (("a", -40), ("b", 40))
    ]
    behind = base.but(casing=base.casing.but(bosses=tuple(rear)))
    made = new_plate(behind, L_PLACES, thickness_mm=3, material="S235").plates[-1]
    assert (made.placement.origin_mm, made.placement.origin_on) == ((0, 0, -90), "front")


@given(index=st.integers(0, 6), by=steps)
def test_a_corner_moved_there_and_back_is_where_it_was(index: int, by: tuple[float, float]) -> None:
    start = plate()
    x, y = start.outline[index].at_mm
    there = move_corner(start, index, (x + by[0], y + by[1]))
    assert there.outline[index].at_mm == (x + by[0], y + by[1])
    if (
        min(math.dist(there.outline[index].at_mm, there.outline[k].at_mm) for k in (index - 1, index - 6))
        > 1e-3
    ):
        assert near(move_corner(there, index, (x, y)), start)


@given(index=st.integers(0, 6), by=steps)
def test_an_edge_moved_there_and_back_is_where_it_was(index: int, by: tuple[float, float]) -> None:
    start = plate()
    there = move_edge(start, index, by)
    after = (index + 1) % 7
    for k in (index, after):
        x, y = start.outline[k].at_mm
        assert there.outline[k].at_mm == pytest.approx((x + by[0], y + by[1]))
    ends = [there.outline[k].at_mm for k in ((index - 1) % 7, index, after, (index + 2) % 7)]
    if min(math.dist(*ends[:2]), math.dist(*ends[2:])) > 1e-3:
        assert near(move_edge(there, index, (-by[0], -by[1])), start)


def test_an_arc_keeps_its_shape_when_an_end_moves() -> None:
    before, after = (edge_of(p.outline, 5) for p in (plate(), move_corner(plate(), 6, (-15, 60))))
    assert isinstance(before, Arc)
    assert isinstance(after, Arc)
    assert after.turn_rad == pytest.approx(before.turn_rad)
    assert after.end == pytest.approx((-15, 60))


@given(index=st.integers(0, 6), share=st.floats(0.2, 0.8))
def test_a_corner_put_into_an_edge_and_taken_out_again_leaves_the_shape(index: int, share: float) -> None:
    start = plate()
    edge = edge_of(start.outline, index)
    at = edge.at(np.array([share]))[0]
    more = insert_corner(start, index, (float(at[0]), float(at[1])))
    assert len(more.outline) == 8
    assert more.outline[index + 1].at_mm == pytest.approx(tuple(at))
    if index != 5:  # on an arc the new corner is sharp, as it lies at the end of arcs
        assert flat_pattern(more.but(openings=())).area_mm2 == pytest.approx(
            flat_pattern(start.but(openings=())).area_mm2, rel=1e-9
        )
    back = remove_corner(more, index + 1)
    assert [c.at_mm for c in back.outline] == [c.at_mm for c in start.outline]
    assert flat_pattern(back).area_mm2 == pytest.approx(flat_pattern(start).area_mm2, rel=1e-9)


def test_a_corner_dragged_out_of_an_edge_rounds_the_inside_corner_it_makes() -> None:
    notched = insert_corner(plate(), 1, (100, 30))
    assert notched.outline[2] == Corner(at_mm=(100, 30), radius_mm=4)


def test_corners_that_come_to_turn_inward_are_rounded_at_the_end_of_a_drag() -> None:
    start = plate(outline=tuple(Corner(at_mm=at) for at in ((0, 0), (50, 0), (100, 0), (100, 80), (0, 80))))
    dragged = move_corner(start, 1, (50, 30))
    assert sharp_inside_corners(dragged) == (1,)
    assert round_inside_corners(dragged, before=start).outline[1].radius_mm == 4
    assert round_inside_corners(dragged, before=dragged) == dragged


def test_what_is_left_has_to_enclose_something() -> None:
    triangle = plate(outline=tuple(Corner(at_mm=at) for at in ((0, 0), (50, 0), (0, 50))))
    with pytest.raises(EditRefused, match=r"corner 2 of the outline of plate L has to stay"):
        remove_corner(triangle, 1)
    with pytest.raises(EditRefused, match="corners 1 to 3, not 9"):
        move_corner(triangle, 8, (0, 0))
    with pytest.raises(EditRefused, match="corner 1 of the outline of plate L is already"):
        insert_corner(triangle, 0, (0, 0))
    lens = plate(
        outline=(Corner(at_mm=(0, 0), arc_via_mm=(20, -10)), Corner(at_mm=(40, 0), arc_via_mm=(20, 10)))
    )
    with pytest.raises(EditRefused, match="has to stay"):
        remove_corner(lens, 0)
    assert near(move_edge(move_edge(lens, 0, (3, 4)), 0, (-3, -4)), lens)


def test_a_cut_out_is_edited_by_its_name() -> None:
    moved = move_corner(plate(), 2, (100, 45), loop="window")
    assert moved.opening("window").corners[2].at_mm == (100, 45)  # type: ignore[union-attr]
    assert moved.outline == plate().outline
    assert sharp_inside_corners(plate(), "window") == (0, 1, 2)
    with pytest.raises(EditRefused, match="hole left of plate L has no corners"):
        move_corner(plate(), 0, (0, 0), loop="left")
    with pytest.raises(EditRefused, match="no opening 'lost'"):
        move_corner(plate(), 0, (0, 0), loop="lost")
