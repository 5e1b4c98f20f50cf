"""Openings made, moved, sized, named and taken away."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.editing import openings as edit
from app.editing.refused import EditRefused
from geometry.flat_pattern import flat_pattern
from geometry.plate import CutOut, Hole
from tests.app.editing.plates import MAIN, bracket, near, steps

places = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


@given(at=places, diameter=st.floats(0.1, 200))
def test_a_hole_added_and_removed_leaves_no_trace(at: tuple[float, float], diameter: float) -> None:
    start = bracket()
    more = edit.add_hole(start, "L", at, diameter)
    hole = more.plate("L").openings[-1]
    assert hole == Hole(name="hole 1", centre_mm=at, diameter_mm=diameter)
    assert edit.remove_opening(more, "L", "hole 1") == start


def test_new_names_count_on_and_are_never_taken_twice() -> None:
    many = bracket()
    for _ in range(3):
        many = edit.add_hole(many, "L", (10, 10), 5)
    many = edit.remove_opening(many, "L", "hole 1")
    many = edit.add_slot(edit.add_hole(many, "L", (10, 10), 5), "L", (0, 0), 20, 8, 200)
    many = edit.add_rectangle(edit.rename(many, "L", "left", "cut-out 7"), "L", (0, 0), (9, 9))
    assert [o.name for o in many.plate("L").openings] == [
        "cut-out 7", "slot 1", "window", "hole 2", "hole 3", "hole 4", "slot 2", "cut-out 8",
    ]  # fmt: skip
    assert many.plate("L").opening("slot 2").angle_deg == 20  # type: ignore[union-attr]


def test_a_rectangle_has_round_corners_that_fit() -> None:
    big = edit.add_rectangle(bracket(), "L", (110, 50), (80, 10)).plate("L").openings[-1]
    thin = edit.add_rectangle(bracket(), "L", (0, 0), (30, 5)).plate("L").openings[-1]
    assert isinstance(big, CutOut)
    assert isinstance(thin, CutOut)
    assert {c.radius_mm for c in big.corners} == {4}
    assert {c.radius_mm for c in thin.corners} == {2.5}
    flat_pattern(bracket().plate("L").but(openings=(thin,)))
    with pytest.raises(EditRefused, match="encloses nothing"):
        edit.add_rectangle(bracket(), "L", (0, 0), (30, 0))


def test_a_free_cut_out_is_rounded_where_the_material_turns_inward() -> None:
    corners = [(0, 0), (40, 0), (40, 40), (20, 40), (20, 20), (0, 20)]
    made = edit.add_cut_out(bracket(), "L", corners).plate("L").openings[-1]
    assert isinstance(made, CutOut)
    assert {c.at_mm: c.radius_mm for c in made.corners if c.radius_mm == 0} == {(20, 20): 0}
    assert [c.radius_mm for c in made.corners if c.radius_mm] == [4] * 5


@given(name=st.sampled_from(["left", "slot 1", "window"]), by=steps)
def test_an_opening_moved_there_and_back_is_where_it_was(name: str, by: tuple[float, float]) -> None:
    start = bracket()
    there = edit.move_opening(start, "L", name, by)
    back = edit.move_opening(there, "L", name, (-by[0], -by[1]))
    assert near(back.plate("L"), start.plate("L"))
    assert there.bolts == start.bolts


def test_bolts_go_and_follow_with_their_hole() -> None:
    start = bracket()
    renamed = edit.rename(start, MAIN, "left", "  west ")
    assert renamed.bolt("1").hole == "west"
    assert {o.name for o in renamed.plate(MAIN).openings} >= {"west", "right"}
    assert {b.name for b in edit.remove_opening(start, MAIN, "left").bolts} == {"2", "3", "4"}
    through = start.bolt("1").but(joins={"to": "hole", "plate": "L", "opening": "left"})
    joined = start.with_bolt(through)
    assert edit.rename(joined, "L", "left", "x").bolt("1").joins.opening == "x"  # type: ignore[union-attr]
    assert edit.rename(joined, MAIN, "left", "x").bolt("1").joins.opening == "left"  # type: ignore[union-attr]
    assert {b.name for b in edit.remove_opening(joined, "L", "left").bolts} == {"2", "3", "4"}
    assert edit.rename_plate(joined, "L", "foot").bolt("1").joins.plate == "foot"  # type: ignore[union-attr]
    assert edit.rename_plate(joined, MAIN, "face").bolt("2").plate == "face"
    assert edit.remove_plate(joined, "L").bolts == start.bolts[1:]


def test_sizes_change_and_what_makes_no_sense_is_refused() -> None:
    start = bracket()
    assert edit.resize_hole(start, "L", "left", 11).plate("L").opening("left").diameter_mm == 11  # type: ignore[union-attr]
    assert edit.resize_slot(start, "L", "slot 1", width_mm=10).plate("L").opening("slot 1").width_mm == 10  # type: ignore[union-attr]
    for refused, words in (
        (lambda: edit.resize_hole(start, "L", "slot 1", 11), "slot slot 1 of plate L has no diameter"),
        (lambda: edit.resize_hole(start, "L", "left", 0), "a hole's diameter of 0 mm"),
        (lambda: edit.resize_slot(start, "L", "slot 1", width_mm=30), "cannot be 30 mm wide"),
        (lambda: edit.resize_slot(start, "L", "left", width_mm=30), "is no slot"),
        (lambda: edit.add_slot(start, "L", (0, 0), 5, math.nan), "a slot's width"),
        (lambda: edit.add_slot(start, "L", (0, 0), 50, 5, math.inf), "cannot lie at inf"),
        (lambda: edit.add_hole(start, "L", (math.inf, 0), 5), "off any sheet"),
        (lambda: edit.add_hole(start, "M", (0, 0), 5), "no plate 'M'; there is: main, L"),
        (lambda: edit.rename(start, "L", "left", "window"), "'window' is taken"),
        (lambda: edit.rename(start, "L", "left", " "), "type one"),
        (lambda: edit.rename(start, "L", "left", "x" * 81), "at most 80"),
        (lambda: edit.remove_opening(start, "L", "nothing"), "no opening 'nothing'"),
    ):
        with pytest.raises(EditRefused, match=words):
            refused()
