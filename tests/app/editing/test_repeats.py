"""Openings and plates repeated and mirrored, copied and pasted."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from app.editing import openings as edit
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.flat_pattern import flat_pattern
from tests.app.editing.plates import bracket, near, steps


@given(centre=steps, count=st.integers(2, 12), name=st.sampled_from(["left", "slot 1"]))
def test_places_round_a_centre_lie_on_the_circle(centre: tuple[float, float], count: int, name: str) -> None:
    start = bracket()
    first = start.plate("L").opening(name)
    radius = math.dist(first.centre_mm, centre)  # type: ignore[union-attr]
    assume(radius > 0.1)
    made = edit.repeat_round(start, "L", name, centre, count).plate("L")
    ring = [first, *made.openings[len(start.plate("L").openings) :]]
    assert len(ring) == count
    assert len({o.name for o in made.openings}) == len(made.openings)
    places = [o.centre_mm for o in ring]  # type: ignore[union-attr]
    assert [math.dist(at, centre) for at in places] == pytest.approx([radius] * count)
    apart = [math.dist(a, b) for a, b in zip(places, places[1:] + places[:1], strict=True)]
    assert apart == pytest.approx([2 * radius * math.sin(math.pi / count)] * count)


def test_a_slot_turns_with_the_circle() -> None:
    made = edit.repeat_round(bracket(), "L", "slot 1", (45, 60), 4).plate("L")
    assert [o.angle_deg for o in made.openings if o.kind == "slot"] == pytest.approx([30, -60, 30, -60])
    assert made.opening("slot 2").centre_mm == pytest.approx((85, 60))  # type: ignore[union-attr]


def test_a_line_of_holes() -> None:
    made = edit.repeat_in_line(bracket(), "L", "left", (20, 5), 4).plate("L")
    holes = [o for o in made.openings if o.kind == "hole"]
    assert [(o.name, o.centre_mm) for o in holes] == [
        ("left", (20, 30)), ("left 2", (40, 35)), ("left 3", (60, 40)), ("left 4", (80, 45)),
    ]  # fmt: skip


@given(ends=st.tuples(steps, steps), name=st.sampled_from(["left", "slot 1", "window"]))
def test_mirrored_twice_is_where_it_was(
    ends: tuple[tuple[float, float], tuple[float, float]], name: str
) -> None:
    assume(math.dist(*ends) > 1)
    start = bracket()
    once = edit.mirror_opening(start, "L", name, ends, keep=False)
    assert near(edit.mirror_opening(once, "L", name, ends, keep=False).plate("L"), start.plate("L"))
    whole = edit.mirror_plate(start, "L", ends)
    assert flat_pattern(whole.plate("L")).area_mm2 == pytest.approx(flat_pattern(start.plate("L")).area_mm2)
    assert near(edit.mirror_plate(whole, "L", ends).plate("L"), start.plate("L"))


def test_a_mirror_image_stands_beside_the_first() -> None:
    made = edit.mirror_opening(bracket(), "L", "slot 1", ((60, 0), (60, 9))).plate("L")
    image = made.opening("slot 2")
    assert image.centre_mm == pytest.approx((75, 20))  # type: ignore[union-attr]
    assert image.angle_deg == pytest.approx(-30)  # type: ignore[union-attr]


def test_what_would_lie_on_itself_is_refused() -> None:
    start = bracket()
    for refused, words in (
        (lambda: edit.repeat_in_line(start, "L", "left", (0, 0), 3), "give a longer step"),
        (lambda: edit.repeat_in_line(start, "L", "left", (9, 0), 1), "give 2 to 200"),
        (lambda: edit.repeat_round(start, "L", "left", (20, 30), 3), "on the centre"),
        (lambda: edit.mirror_opening(start, "L", "left", ((20, 0), (20, 9))), "choose another line"),
        (lambda: edit.mirror_plate(start, "L", ((20, 0), (20, 0))), "choose two places"),
        (lambda: edit.copied(start.plate("L"), ["lost"]), "nothing to copy under lost"),
    ):
        with pytest.raises(EditRefused, match=words):
            refused()


def test_openings_and_folds_are_pasted_by_their_middle_under_free_names() -> None:
    start = bracket()
    clip = edit.copied(start.plate("L"), {"left", "slot 1"})
    made = edit.pasted(start, "L", clip, (clip.middle_mm[0] + 50, clip.middle_mm[1])).plate("L")
    assert [(o.name, o.centre_mm) for o in made.openings[-2:]] == [  # type: ignore[union-attr]
        ("left 2", (70, 30)), ("slot 2", (95, 20)),
    ]  # fmt: skip
    fold = edit.copied(start.plate("L"), {"foot"})
    assert edit.pasted(start, "L", fold, (30, 120)).plate("L").folds[-1].name == "foot 2"
    assert edit.pasted(start, "main", clip, (0, 0)).plate("main").openings[-2].name == "left 2"


def test_a_plate_is_pasted_beside_the_first_with_its_own_material() -> None:
    source = bracket()
    clip = edit.copied_plate(source, "L")
    two = edit.pasted_plate(source, clip)
    assert [p.name for p in two.plates] == ["main", "L", "L 2"]
    assert two.plate("L 2").placement.origin_mm == (140, 0, 0)
    assert two.bolts == source.bolts
    assert edit.pasted_plate(Bracket(), clip).plates[0].name == "L"
