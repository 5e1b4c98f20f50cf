"""Photographs squared by a sheet of paper: a made-up camera, whose picture is known exactly."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from app.editing.photo_square import SHEETS_MM, Pixel, Sheet, Squaring, squared
from app.editing.refused import EditRefused

SIZE = (4000, 3000)


def camera(
    tilt_deg: float, pan_deg: float, roll_deg: float, away_mm: float = 700.0, focal_px: float = 3200.0
) -> np.ndarray:
    """Return the matrix from mm on the table to pixels of a camera that looks at (150, 100)."""
    a, b, c = np.radians([tilt_deg, pan_deg, roll_deg])
    about_x = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    about_y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    about_z = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
    # the table's y runs up, the picture's down
    turn = np.diag([1.0, -1.0, -1.0]) @ about_z @ about_x @ about_y
    shift = turn @ np.array([-150.0, -100.0, 0.0]) + np.array([0.0, 0.0, away_mm])
    lens = np.array([[focal_px, 0, SIZE[0] / 2], [0, focal_px, SIZE[1] / 2], [0, 0, 1]])
    return lens @ np.column_stack([turn[:, 0], turn[:, 1], shift])


def seen(matrix: np.ndarray, places: list[tuple[float, float]]) -> list[Pixel]:
    moved = np.column_stack([places, np.ones(len(places))]) @ matrix.T
    return [(float(x / w), float(y / w)) for x, y, w in moved]


def sheet_corners(sheet: Sheet = "A4") -> list[tuple[float, float]]:
    long_mm, short_mm = SHEETS_MM[sheet]
    return [(0.0, 0.0), (long_mm, 0.0), (long_mm, short_mm), (0.0, short_mm)]


OFTEN = [(0, 0, 0), (25, 0, 0), (20, 15, 5), (-30, 20, -10), (15, -25, 30)]


@pytest.mark.parametrize("turn", OFTEN)
@pytest.mark.parametrize("sheet", ["A4", "Letter"])
def test_places_are_recovered(turn: tuple[float, float, float], sheet: Sheet) -> None:
    view = camera(*turn)
    squaring = squared(seen(view, sheet_corners(sheet)), sheet, SIZE)
    assert squaring.wide
    places = [(x, y) for x in (-40.0, 60.0, 300.0) for y in (-30.0, 90.0, 250.0)]
    assert np.abs(squaring.places_mm(seen(view, places)) - places).max() < 0.05
    assert np.abs(squaring.pixels(places) - seen(view, places)).max() < 1e-6
    assert squaring.mm_per_px == pytest.approx(700 / 3200, rel=0.15)


def test_corners_may_come_in_any_order() -> None:
    view = camera(20, 15, 5)
    corners = seen(view, sheet_corners())
    wanted = squared(corners, "A4", SIZE)
    for order in itertools.permutations(corners):
        again = squared(order, "A4", SIZE)
        assert np.allclose(again.matrix / again.matrix[2, 2], wanted.matrix / wanted.matrix[2, 2])
        assert again.corners_px == wanted.corners_px


def test_a_sheet_on_end_is_seen_to_be() -> None:
    upright = [(0.0, 0.0), (210.0, 0.0), (210.0, 297.0), (0.0, 297.0)]
    for turn in OFTEN:
        squaring = squared(seen(camera(*turn, away_mm=900), upright), "A4", SIZE)
        assert not squaring.wide
        assert squaring.size_mm == (210.0, 297.0)


def test_a_picture_taken_askew_checks_itself() -> None:
    view = camera(28, 22, 8, away_mm=500)
    corners = seen(view, sheet_corners())
    right = squared(corners, "A4", SIZE)
    assert right.residual_mm == pytest.approx(0.0, abs=0.01)
    assert "The difference is 0.0 mm, where one pixel" in right.words[0]
    corners[2] = (corners[2][0] + 40.0, corners[2][1])
    wrong = squared(corners, "A4", SIZE)
    assert wrong.residual_mm > 1.0
    assert "coarse mistakes only" in wrong.words[0]  # the corner is 9 mm off


def test_a_scan_checks_itself() -> None:
    at = [(100.0, 100.0), (100.0 + 2970, 100.0), (100.0 + 2970, 2200.0), (100.0, 2200.0)]
    squaring = squared(at, "A4", SIZE)
    assert squaring.residual_mm == pytest.approx(0.0, abs=0.05)
    assert squaring.mm_per_px == pytest.approx(0.1)
    with_letter = squared(at, "Letter", SIZE)
    assert with_letter.residual_mm == pytest.approx(abs(math.log(297 / 210 / (11 / 8.5))) * 279.4, abs=0.1)
    assert "nearer to A4" in with_letter.words[0]


def test_a_picture_tilted_one_way_only_cannot_check_itself_and_says_so() -> None:
    view = camera(35, 0, 0)
    squaring = squared(seen(view, sheet_corners()), "A4", SIZE)
    assert squaring.residual_mm is None
    assert "does not show by itself" in squaring.words[0]


def test_a_measured_distance_checks_whatever_the_view() -> None:
    view = camera(35, 0, 0)
    first, second = seen(view, [(50.0, 250.0), (210.0, 250.0)])
    right = squared(seen(view, sheet_corners()), "A4", SIZE, known=[(first, second, 160.0)])
    assert right.residual_mm == pytest.approx(0.0, abs=1e-6)
    off = squared(seen(view, sheet_corners()), "A4", SIZE, known=[(first, second, 158.5)])
    assert off.residual_mm == pytest.approx(1.5, abs=1e-6)
    assert any("158.5 mm is 160.00 mm here: 1.50 mm off" in words for words in off.words)
    with pytest.raises(EditRefused, match="checks nothing"):
        squared(seen(view, sheet_corners()), "A4", SIZE, known=[(first, second, 0.0)])


def _at(squaring: Squaring, pixel: Pixel) -> list[float]:
    place: list[float] = squaring.places_mm([pixel])[0].tolist()
    return place


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        ([(100, 100), (900, 100), (900, 700)], "four corners, and 3 are marked"),
        ([(100, 100), (900, 100), (900, 700), (5000, 700)], "outside the picture"),
        ([(100, 100), (900, 100), (900, 700), (float("nan"), 700)], "outside the picture"),
        ([(100, 100), (900, 100), (900, 700), (105, 105)], "pixels apart"),
        ([(100, 100), (500, 101), (900, 100), (1300, 101)], "nearly in line"),
        ([(100, 100), (900, 100), (900, 700), (700, 250)], "nearly in line|make a sheet"),
        ([(100, 100), (2100, 100), (2100, 700), (100, 700)], "make a sheet of 1 : 3.33, and A4 is 1 : 1.41"),
        ([(100, 100), (1100, 100), (1100, 1100), (100, 1100)], "make a sheet of 1 : 1.00"),
    ],
)  # fmt: skip
def test_corners_that_make_no_sheet_are_refused(corners: list[Pixel], words: str) -> None:
    with pytest.raises(EditRefused, match=words):
        squared(corners, "A4", SIZE)
