"""What the pointer is caught by."""

from __future__ import annotations

import math
import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.editing.catches import Catch, Catcher, catch
from app.editing.selected import Selected
from geometry.bracket import Bracket
from geometry.casing import Casing, Envelope
from geometry.plate import Corner, Hole, Plate
from tests.app.editing.plates import MAIN, plate
from tests.geometry.example_bracket import example_bracket
from tests.pace import paced

REACH = 3.0


def at(x: float, y: float, *, grid: float | None = None, **given: object) -> Catch:
    return catch(example_bracket(), MAIN, (x, y), REACH, grid_mm=grid, **given)  # type: ignore[arg-type]


def test_a_boss_wins_over_the_hole_at_it() -> None:
    assert at(-41, 1) == Catch((-40, 0), "at boss a")


def test_places_are_said_in_words() -> None:
    assert at(44, 111) == Catch((45, 110), "at the centre of hole upper right")
    assert at(71, 139) == Catch((70, 140), "at corner 3")
    assert at(1, 141) == Catch((0, 140), "at the middle of edge 3")
    assert at(1, -1) == Catch((0, 0), "on the shaft axis")
    window = Bracket(plates=(plate(),))
    assert catch(window, "L", (110, 39), 3, grid_mm=None).words == "at corner 3 of cut-out window"


def test_in_line_with_a_place_the_distance_is_a_step_of_the_grid() -> None:
    found = at(-38, 36.2, grid=1)
    assert found == Catch((-40, 36), "in line with boss a, 36 mm from its centre")
    assert at(-38, 36.2).at_mm == (-40, 36.2)
    assert at(20, 138) == Catch((20, 140), "in line with corner 3, 50 mm from it")


def test_in_line_with_two_places_at_once() -> None:
    assert at(-44.5, 1.5) == Catch((-45, 0), "in line with hole upper left and boss a")


def test_a_line_is_drawn_straight_from_where_it_began() -> None:
    found = at(31.2, 73, grid=5, from_mm=(30, 30))
    assert found == Catch((30, 75), "straight up, 45 mm")
    assert at(-20.3, 31, grid=5, from_mm=(30, 30)) == Catch((-20, 30), "straight left, 50 mm")


def test_a_line_is_drawn_square_to_the_one_before() -> None:
    catcher = Catcher(Bracket(plates=(plate(),)), "L")
    begun, before = (200.0, 200.0), (170.0, 160.0)
    x, y = 200 - 0.8 * 41 + 0.5, 200 + 0.6 * 41 + 0.5
    found = catcher.catch((x, y), 3, grid_mm=10, from_mm=begun, before_mm=before)
    assert found.words == "square to the line before, 40 mm long"
    assert found.at_mm == pytest.approx((168, 224))
    found = catcher.catch(
        (200 + 0.6 * 52, 200 + 0.8 * 52 + 1), 3, grid_mm=10, from_mm=begun, before_mm=before
    )
    assert found.words == "in line with the line before, 50 mm long"


def test_a_line_from_a_corner_is_square_to_its_edges() -> None:
    slanted = plate(
        outline=tuple(Corner(at_mm=p) for p in ((0, 0), (60, 80), (-40, 200))), openings=(), folds=()
    )
    found = catch(Bracket(plates=(slanted,)), "L", (60 + 33, 80 - 24), 3, grid_mm=None, from_mm=(60, 80))
    assert found.words == "square to edge 1, 40.8 mm long"


def test_the_grid_comes_last_and_nothing_has_no_words() -> None:
    assert at(20.8, 61.1, grid=5) == Catch((20, 60), "on the 5 mm grid")
    assert at(22.5, 62.5, grid=5) == Catch((22.5, 62.5), "")
    assert at(20.8, 61.1, grid=0) == Catch((20.8, 61.1), "")


def test_what_is_moved_catches_nothing() -> None:
    assert at(44, 111, ignore=["upper right"]).words.startswith("in line")
    assert at(44, 111, ignore=[Selected(MAIN, "opening", name="upper right")]).words.startswith("in line")
    moved = [Selected(MAIN, "corner", 2)]
    assert at(71, 139, ignore=moved).words == "in line with corner 2 and corner 4"
    assert at(1, 141, ignore=moved).words == "in line with the shaft axis and corner 4"
    edge = [Selected(MAIN, "edge", 2)]
    assert at(71, 60, ignore=edge).words == "in line with corner 2, 110 mm from it"


def test_lengths_are_worded_as_asked() -> None:
    catcher = Catcher(example_bracket(), MAIN, length=lambda mm: f"{mm / 25.4:.2f} in")
    words = catcher.catch((-38, 36), REACH, grid_mm=25.4).words
    assert words == "in line with boss a, 1.00 in from its centre"


@given(x=st.floats(-200, 200), y=st.floats(-200, 200), grid=st.sampled_from([None, 1.0, 5.0]))
def test_a_catch_is_within_reach_or_is_the_point(x: float, y: float, grid: float | None) -> None:
    found = at(x, y, grid=grid)
    if found.words:
        off = np.abs(np.subtract(found.at_mm, (x, y)))
        # In line, the other figure is rounded to the grid: at most half a step.
        assert off.max() <= max(REACH, (grid or 0.0) / 2.0) + 1e-9
    else:
        assert found.at_mm == (x, y)


def test_a_large_plate_answers_at_once() -> None:
    ring = [(200 * math.cos(a), 200 * math.sin(a)) for a in np.linspace(0, 2 * math.pi, 61)[:-1]]
    holes = [Hole(name=f"hole {k}", centre_mm=(9 * k - 90, 7), diameter_mm=5) for k in range(20)]
    large = Plate(
        name="large",
        material=None,
        thickness_mm=3,
        outline=tuple(Corner(at_mm=p) for p in ring),
        openings=tuple(holes),
    )
    casing = Casing(envelope=Envelope(low_mm=(0, 0, 0), high_mm=(1, 1, 1)), mass_kg=1)
    catcher = Catcher(Bracket(plates=(large,), casing=casing), "large")
    points = np.random.default_rng(1).uniform(-220, 220, (400, 2)).tolist()
    began = time.process_time()
    for x, y in points:
        catcher.catch((x, y), 3, grid_mm=1, from_mm=(0, 0), before_mm=(-30, 40))
    assert (time.process_time() - began) / len(points) < paced(5e-3)
