"""Motion as pictures: frames that differ, go round, and are told apart from what is not there."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from app.lesson import motion_pictures
from app.lesson.gif import gif_bytes
from app.lesson.motion_pictures import (
    STRIP_PHASES,
    MotionAsked,
    MotionError,
    motion_gif,
    motion_scene,
    motion_strip,
)
from app.mounted.still import Still
from app.theme import PAPER, SLATE
from tests.app.lesson.made_results import made_results
from tests.app.lesson.samples import two_straps
from tests.brackets import one_piece

SIZE = (160, 120)


def test_a_free_motion_swings_there_and_back(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(motion_pictures, "FRAMES", 4)
    scene, motion = motion_scene(two_straps(), None, MotionAsked(), PAPER, SIZE)
    assert motion is not None
    with Image.open(io.BytesIO(motion_gif(scene, motion, Still()))) as picture:
        assert (picture.size, picture.n_frames) == (SIZE, 4)  # type: ignore[attr-defined]
        assert picture.info["loop"] == 0
        frames = []
        for number in range(4):
            picture.seek(number)
            frames.append(np.asarray(picture.convert("RGB"), dtype=float))
    rest, one_way, again, other_way = frames
    assert np.abs(rest - again).mean() < 0.1 * np.abs(rest - one_way).mean()
    assert np.abs(one_way - other_way).mean() > np.abs(rest - one_way).mean()


def test_a_strip_has_its_pictures_side_by_side() -> None:
    scene, motion = motion_scene(two_straps(), None, MotionAsked(free=1), SLATE, SIZE)
    with Image.open(io.BytesIO(motion_strip(scene, motion, Still()))) as picture:
        assert picture.size == (SIZE[0] * len(STRIP_PHASES), SIZE[1])


def test_what_is_not_there_is_named() -> None:
    straps, plate = two_straps(), one_piece()
    with pytest.raises(MotionError, match="no free motion 9 in this bracket: they are 1 to"):
        motion_scene(straps, None, MotionAsked(free=9), PAPER, SIZE)
    with pytest.raises(MotionError, match="it has none"):
        motion_scene(plate, None, MotionAsked(free=1), PAPER, SIZE)
    with pytest.raises(MotionError, match="have it judged first"):
        motion_scene(plate, None, MotionAsked(), PAPER, SIZE)
    with pytest.raises(MotionError, match=r"no load case 'x': there is couple \+"):
        motion_scene(plate, made_results(plate), MotionAsked(case="x"), PAPER, SIZE)


def test_a_load_case_is_shown_by_its_name() -> None:
    plate = one_piece()
    scene, motion = motion_scene(
        plate, made_results(plate), MotionAsked(case="couple +, pull right"), PAPER, SIZE
    )
    assert motion is None
    assert scene.case is not None
    assert scene.case.name == "couple +, pull right"


def test_no_frames_make_no_gif() -> None:
    with pytest.raises(ValueError, match="there are none"):
        gif_bytes([], 50)
