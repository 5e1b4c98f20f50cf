from __future__ import annotations

import os
import threading
from collections.abc import Callable
from io import BytesIO
from multiprocessing.process import BaseProcess

import numpy as np
import pytest
from matplotlib.image import imread

from app.mounted import probe
from app.mounted.drawing import overlaid, png_bytes
from app.mounted.frame import Image, Painter
from app.mounted.look import rgb
from app.mounted.overlay import Words
from app.mounted.picture import painter, scene_image
from app.mounted.scene import Scene
from app.mounted.still import Still
from app.paper.mounted import mounted_picture
from app.theme import PAPER, SLATE, Theme
from tests.app.mounted.solved_example import bracket, hot, results
from tests.app.paper.papers import sample

SIZE = (350, 225)


def scene_of(theme: Theme = PAPER) -> Scene:
    scene = Scene(theme, SIZE)
    scene.show(bracket(), hot(1.5))
    scene.set_exaggeration(0.0)
    scene.stand("square to the plate")
    return scene


def near(image: Image, colour: str, within: int = 40) -> np.ndarray:
    return np.abs(image.astype(int) - np.array(rgb(colour))).max(axis=2) < within


@pytest.fixture(scope="module")
def painters() -> list[Painter]:
    assert probe.opengl_works()
    fast = painter()
    assert not isinstance(fast, Still)
    return [fast, Still()]


def test_the_fast_and_the_slow_painter_draw_the_same(painters: list[Painter]) -> None:
    scene = scene_of()
    fast, slow = (by.paint(scene.frame(), 1.0).astype(int) for by in painters)
    assert fast.shape == slow.shape == (SIZE[1], SIZE[0], 3)
    far = np.abs(fast - slow).max(axis=2) > 60
    # Lines lie a fraction of a pixel apart here and there; faces must not.
    assert far.mean() < 0.06


def test_a_picture_made_in_another_thread_is_of_its_own_bracket_not_of_the_one_before() -> None:
    def drawn(name: str) -> bytes:
        return mounted_picture(sample(name), (0.0, 0.0, 80.0, 45.0)).png

    before, wanted = drawn("two_piece_bolted"), drawn("marlpit_one_piece")
    assert before != wanted
    drawn("two_piece_bolted")
    found: list[bytes] = []
    for _ in range(2):
        thread = threading.Thread(target=lambda: found.append(drawn("marlpit_one_piece")))
        thread.start()
        thread.join()
    assert found == [wanted, wanted]


def test_a_canvas_refuses_to_paint_in_a_thread_that_did_not_make_it(painters: list[Painter]) -> None:
    troubles: list[Exception] = []

    def paint() -> None:
        try:
            painters[0].paint(scene_of().frame(), 1.0)
        except RuntimeError as error:
            troubles.append(error)

    thread = threading.Thread(target=paint)
    thread.start()
    thread.join()
    assert len(troubles) == 1


def test_a_draft_is_the_same_picture_with_rough_edges(painters: list[Painter]) -> None:
    frame = scene_of().frame()
    fine = painters[0].paint(frame, 1.0).astype(int)
    draft = painters[0].paint(frame, 1.0, draft=True).astype(int)
    again = painters[0].paint(frame, 1.0).astype(int)
    assert 0.002 < (np.abs(fine - draft).max(axis=2) > 20).mean() < 0.15
    assert np.array_equal(fine, again)


@pytest.mark.parametrize("theme", [PAPER, SLATE])
def test_stress_over_the_allowable_is_seen_and_the_ground_is_the_theme(
    theme: Theme, painters: list[Painter]
) -> None:
    for by in painters:
        image = by.paint(scene_of(theme).frame(), 2.0)
        assert near(image, theme.map_over).sum() > 60
        assert near(image, theme.map_near).sum() > 60
        assert tuple(image[-1, 0]) == rgb(theme.ground)


def test_what_is_over_reads_in_grey_print(painters: list[Painter]) -> None:
    image = painters[0].paint(scene_of().frame(), 3.0)
    grey = image.astype(float).mean(axis=2)
    over = near(image, PAPER.map_over)
    rows, columns = np.nonzero(over)
    window = grey[rows.min() : rows.max(), columns.min() : columns.max()]
    # Hatch lines of ink run through it.
    assert (window < 70).mean() > 0.05
    assert np.median(grey[over]) < np.median(grey[near(image, PAPER.map_low, 24)]) - 60


def test_painting_again_and_again_puts_nothing_more_into_the_picture() -> None:
    """Every repaint added an empty actor for each kind of line: half a megabyte each, for good."""
    if not probe.opengl_works():
        pytest.skip("there is no OpenGL here")
    from app.mounted.canvas import Canvas

    canvas = Canvas()
    counts = set()
    for _ in range(4):
        canvas.paint(scene_of().frame(), 1.0)
        counts.add(canvas._renderer.GetActors().GetNumberOfItems())
    canvas.close()
    assert len(counts) == 1


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_picture_is_as_large_as_asked(scale: float, painters: list[Painter]) -> None:
    scene = Scene(PAPER, SIZE)
    scene.show(bracket(), results())
    scene.stand("from the driver")
    content = png_bytes(scene_image(scene, painters[0], scale))
    assert imread(BytesIO(content)).shape[:2] == (SIZE[1] * scale, SIZE[0] * scale)


def test_words_are_written_on_the_picture() -> None:
    ground = np.full((60, 200, 3), 255, dtype=np.uint8)
    words = Words("moved", 100.0, 30.0, 14.0, "#000000")
    image = overlaid(ground, [words], 1.0)
    dark = np.argwhere(image.max(axis=2) < 100)
    assert len(dark) > 40
    assert dark.mean(axis=0) == pytest.approx([30.0, 100.0], abs=4.0)


def test_pins_and_balloons_are_on_the_still_picture_too() -> None:
    scene = scene_of()
    plain = Still().paint(scene.frame(), 1.0)
    assert (scene_image(scene, Still()) != plain).any(axis=2).sum() > 500


def test_the_trial_fails_where_the_library_ends_the_process(monkeypatch: pytest.MonkeyPatch) -> None:
    probe.opengl_works.cache_clear()
    process = _begun(os.abort)
    monkeypatch.setattr(probe, "trial", lambda: process)
    assert not probe.opengl_works()
    assert isinstance(painter(), Still)
    probe.opengl_works.cache_clear()


def test_the_trial_sees_a_machine_without_opengl(monkeypatch: pytest.MonkeyPatch) -> None:
    # The loader is told of a driver that is not there: asking for OpenGL then ends the process.
    monkeypatch.setenv("__EGL_VENDOR_LIBRARY_FILENAMES", "/nowhere.json")
    process = _begun(probe.paint_nothing)
    process.join(60.0)
    assert process.exitcode not in (None, probe.WORKS)


def _begun(target: Callable[[], None]) -> BaseProcess:
    process = probe.trial(target)
    assert process is not None
    return process
