from __future__ import annotations

import numpy as np
import pytest

from app.mounted.camera import Camera

CORNERS = np.array([[x, y, z] for x in (-50, 60) for y in (-20, 90) for z in (-100, 30)], dtype=float)


def test_from_behind_the_wheel_x_is_to_the_right_and_y_up_whatever_the_rake() -> None:
    camera = Camera(rake_deg=25.0).standing(np.array([0.0, 0.0, 1.0]))
    assert camera.axes == pytest.approx(np.eye(3), abs=1e-9)


@pytest.mark.parametrize("rake", [0.0, 25.0, -10.0])
def test_no_turn_rolls_the_horizon(rake: float) -> None:
    camera = Camera(rake_deg=rake)
    vertical = np.array([0.0, np.cos(np.radians(rake)), np.sin(np.radians(rake))])
    for right, down in ((40, 10), (-300, 80), (17, -900), (5, 2000), (3, -1)):
        camera = camera.turned(right, down)
        assert camera.axes[0] @ vertical == pytest.approx(0.0, abs=1e-12)
        assert camera.axes[1] @ vertical >= -1e-12
        assert camera.axes @ camera.axes.T == pytest.approx(np.eye(3), abs=1e-12)


def test_a_drag_to_the_right_brings_the_left_side_round() -> None:
    front = Camera().standing(np.array([0.0, 0.0, 1.0]))
    near = np.array([[0.0, 0.0, 100.0]])
    assert front.turned(50, 0).project(near)[0, 0] > front.project(near)[0, 0] + 10


def test_zoom_keeps_the_place_under_the_pointer() -> None:
    camera = Camera().fitted(CORNERS)
    place = camera.at_px(120.0, 333.0)
    nearer = camera.zoomed(2.5, 120.0, 333.0)
    assert nearer.project(place)[0, :2] == pytest.approx([120.0, 333.0])
    assert nearer.mm_per_px == pytest.approx(camera.mm_per_px / 2.5)


def test_what_is_panned_follows_the_pointer() -> None:
    camera = Camera().fitted(CORNERS)
    before, after = camera.project(CORNERS), camera.panned(31.0, -12.0).project(CORNERS)
    assert after[:, :2] - before[:, :2] == pytest.approx(np.tile([31.0, -12.0], (8, 1)))


@pytest.mark.parametrize("size", [(700, 450), (300, 600), (40, 30)])
def test_a_fit_leaves_a_margin_on_every_side(size: tuple[int, int]) -> None:
    seen = Camera(size_px=size).fitted(CORNERS).project(CORNERS)[:, :2]
    share = seen / np.array(size)
    assert share.min() >= 0.16 - 1e-9
    assert share.max() <= 0.84 + 1e-9
    assert np.ptp(share, axis=0).max() == pytest.approx(0.68)


def test_a_pixel_and_its_place_are_inverse() -> None:
    camera = Camera(rake_deg=20.0).fitted(CORNERS)
    assert camera.project(camera.at_px(11.0, 22.0, 33.0))[0] == pytest.approx([11.0, 22.0, 33.0])


def test_words_at_the_top_are_left_free_by_a_fit() -> None:
    camera = Camera(size_px=(300, 220)).fitted(CORNERS, top_px=48.0)
    seen = camera.project(CORNERS)[:, 1]
    assert seen.min() >= 48.0 + 0.16 * 172.0 - 1e-9
    assert seen.max() <= 220.0 - 0.16 * 172.0 + 1e-9
