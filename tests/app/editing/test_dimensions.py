"""Dimensions of what is selected, and typing over them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.editing.dimensions import Dimension, Selected, dimension, dimensions, set_dimension
from app.editing.refused import EditRefused
from geometry.plate import Corner, Hole, Placement
from tests.app.editing.plates import bracket, plate


def of(kind: str, index: int | None = None, name: str | None = None, loop: str | None = None) -> Selected:
    return Selected("L", kind, index, name, loop)  # type: ignore[arg-type]


SELECTED = [
    *(of("corner", k) for k in range(7)),
    *(of("edge", k) for k in range(7)),
    of("corner", 1, loop="window"),
    of("edge", 2, loop="window"),
    of("opening", name="left"),
    of("opening", name="slot 1"),
    of("opening", name="window"),
    of("fold", name="foot"),
    of("plate"),
]


def told(selected: Selected) -> dict[str, Dimension]:
    return {d.name: d for d in dimensions(plate(), selected)}


def test_a_corner_is_dimensioned_to_the_casings_centre_and_along_its_edges() -> None:
    found = told(of("corner", 1))
    assert {name: d.value_mm for name, d in found.items()} == pytest.approx(
        {"x": 120, "y": 0, "before": 120, "after": 60, "radius": 8}
    )
    assert (found["before"].from_mm, found["before"].to_mm) == ((0, 0), (120, 0))
    assert found["before"].offset_side == -1, "below the plate"
    assert found["radius"].from_mm == pytest.approx((112, 8))
    assert math.dist(found["radius"].from_mm, found["radius"].to_mm) == pytest.approx(8)
    assert set(told(of("corner", 6))) == {"x", "y", "after"}, "no straight edge before, no radius"


def test_the_datum_is_where_the_shaft_meets_the_sheet() -> None:
    aside = plate(placement=Placement(origin_mm=(-30, 10, 50)))
    found = {d.name: d.value_mm for d in dimensions(aside, of("opening", name="left"))}
    assert (found["x"], found["y"]) == pytest.approx((10, 40))
    along = plate(placement=Placement(origin_mm=(-30, 10, 50), x_axis=(0, 0, 1)))
    found = {d.name: d.value_mm for d in dimensions(along, of("opening", name="left"))}
    assert (found["x"], found["y"]) == pytest.approx((20, 30))


def test_edges_holes_folds_and_plates_tell_their_measures() -> None:
    assert {n: d.value_mm for n, d in told(of("edge", 1)).items()} == pytest.approx(
        {"length": 60, "from centre": 120}
    )
    assert set(told(of("edge", 5))) == {"radius"}
    hole = {n: d.value_mm for n, d in told(of("opening", name="left")).items()}
    assert hole == pytest.approx(
        {"diameter": 9, "x": 20, "y": 30, "from centre": math.hypot(20, 30), "edge 7": 20, "edge 1": 30}
    )
    fold = told(of("fold", name="foot"))
    assert {n: d.value_mm for n, d in fold.items()} == pytest.approx(
        {"edge 3": 40, "edge 5": 40, "angle": 90, "inside radius": 5}
    ), "one edge along it on each side"
    assert fold["angle"].unit == "deg"
    box = {n: d.value_mm for n, d in told(of("plate")).items()}
    assert box["height"] == pytest.approx(140)
    assert box["thickness"] == 4
    slot = {n: d.value_mm for n, d in told(of("opening", name="slot 1")).items()}
    assert (slot["length"], slot["width"], slot["angle"]) == (20, 8, 30)
    window = {n: d.value_mm for n, d in told(of("opening", name="window")).items()}
    assert (window["width"], window["height"]) == pytest.approx((40, 30))


@pytest.mark.parametrize("selected", SELECTED, ids=str)
@settings(max_examples=25, deadline=None)
@given(value=st.floats(0.5, 170).map(lambda v: round(v, 2)), pick=st.integers(0, 30))
def test_a_dimension_typed_over_has_that_value(selected: Selected, value: float, pick: int) -> None:
    start = bracket()
    names = [d.name for d in dimensions(start.plate("L"), selected)]
    name = names[pick % len(names)]
    try:
        made = set_dimension(start, "L", selected, name, value)
    except EditRefused as no:
        reasons = ("fits", "at least", "at most", "move", "cross", "arc", "less than 180")
        if any(word in str(no) for word in reasons):
            return
        raise
    assert dimension(made.plate("L"), selected, name).value_mm == pytest.approx(value, abs=1e-6)
    assert made.bolts == start.bolts


def test_a_value_below_nought_crosses_the_datum() -> None:
    made = set_dimension(bracket(), "L", of("opening", name="left"), "x", -25)
    assert made.plate("L").opening("left").centre_mm == (-25, 30)  # type: ignore[union-attr]


def test_a_length_moves_the_far_end_and_a_distance_the_whole_edge() -> None:
    longer = set_dimension(bracket(), "L", of("edge", 0), "length", 150).plate("L")
    assert [c.at_mm for c in longer.outline[:3]] == [(0, 0), (150, 0), (120, 60)]
    wider = set_dimension(bracket(), "L", of("edge", 1), "from centre", 150).plate("L")
    assert [c.at_mm for c in wider.outline[:3]] == [(0, 0), (150, 0), (150, 60)]


def test_an_arc_keeps_its_side_with_another_radius() -> None:
    half = plate(
        outline=(Corner(at_mm=(0, 0), arc_via_mm=(50, 80)), Corner(at_mm=(60, 0)), Corner(at_mm=(30, -40)))
    )
    start = bracket().with_plate(half)
    made = set_dimension(start, "L", of("edge", 0), "radius", 45).plate("L")
    assert made.outline[0].arc_via_mm[1] > 45, "still more than half a circle"  # type: ignore[index]
    with pytest.raises(
        EditRefused, match=r"spans 60\.00 mm and cannot have a radius of 20 mm; give at least 30 mm"
    ):
        set_dimension(start, "L", of("edge", 0), "radius", 20)


def test_a_hole_on_the_casings_centre_has_no_direction_to_move_in() -> None:
    centred = plate(openings=(Hole(name="shaft", centre_mm=(0, 0), diameter_mm=40),))
    assert "from centre" not in {d.name for d in dimensions(centred, of("opening", name="shaft"))}


def test_what_is_not_there_or_cannot_be_is_refused() -> None:
    start = bracket()
    for refused, words in (
        (lambda: dimensions(plate(), of("opening", name="lost")), "no opening 'lost'"),
        (lambda: dimensions(plate(), of("corner", 17)), "corners 1 to 7, not 18"),
        (lambda: dimension(plate(), of("plate"), "depth"), "it has: width, height, thickness"),
        (lambda: set_dimension(start, "L", of("plate"), "thickness", 0), "a thickness of 0 mm"),
        (lambda: set_dimension(start, "L", of("edge", 0), "length", -3), "length cannot be -3"),
        (lambda: set_dimension(start, "L", of("edge", 0), "length", math.nan), "give a figure"),
        (lambda: set_dimension(start, "L", of("opening", name="left"), "edge 1", -1), "give 0 or more"),
        (lambda: set_dimension(start, "L", of("plate"), "height", 1), "need a height of 80 mm"),
        (lambda: set_dimension(start, "L", of("plate"), "width", 1), "need a width of"),
    ):
        with pytest.raises(EditRefused, match=words):
            refused()
