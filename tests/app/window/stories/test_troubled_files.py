"""Files in trouble, worked by hand in whole windows: one sentence each, and nothing is lost."""

from __future__ import annotations

import errno
import os
import tempfile
import time
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from geometry.bracket_file import read_bracket, save_bracket
from tests.app.window.stories.builds import whole
from tests.app.window.stories.hands import CTRL, WindowHand, window_in_hand


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "mine.bracket.json"
    save_bracket(path, whole())
    return path


def nudge(hand: WindowHand) -> None:
    """Move the first opening a millimetre to the right by the keyboard."""
    hand.sheet_key(Qt.Key.Key_Escape)
    hand.click(hand.plate.openings[0].centre_mm)
    hand.sheet_key(Qt.Key.Key_Right)
    hand.settle()


def assert_one_sentence(hand: WindowHand, *pieces: str) -> None:
    assert all(piece in hand.said for piece in pieces), hand.said
    assert hand.said[0].isupper() or hand.said.startswith(("mine", "copy"))
    assert hand.said.rstrip().count("\n") == 0


def test_a_file_changed_on_the_disk_is_noticed_and_not_lost(qtbot: QtBot, file: Path) -> None:
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        nudge(hand)
        mine = hand.bracket
        theirs = whole().but(title="theirs")
        save_bracket(file, theirs)
        os.utime(file, (time.time() + 5, time.time() + 5))
        hand.window.files.look_at_disk()
        assert_one_sentence(hand, "mine.bracket.json", "changed on the disk")
        assert hand.bracket == mine
        hand.key("S", CTRL)
        assert "save over it?" in hand.answers.asked[-1]
        assert read_bracket(file).bracket == theirs
        hand.answers.leaving = "leave"
        hand.do("file.again")
        assert hand.bracket == theirs
        assert hand.window.windowTitle() == "mine"


def test_two_windows_on_one_file_do_not_write_over_each_other(
    qtbot: QtBot, file: Path, tmp_path: Path
) -> None:
    with window_in_hand(qtbot) as first, window_in_hand(qtbot) as second:
        assert first.window.files.open_path(file)
        assert second.window.files.open_path(file)
        assert_one_sentence(second, "open in another window")
        second.window.activateWindow()
        nudge(second)
        assert second.bracket == whole()
        assert "open in another window" in second.said or "open in another window" in second.view.refused
        second.answers.save = tmp_path / "copy.bracket.json"
        second.key("S", CTRL)
        assert second.window.windowTitle() == "copy"
        nudge(second)
        assert second.bracket != whole()
        first.window.activateWindow()
        qtbot.waitUntil(first.window.isActiveWindow)
        nudge(first)
        first.key("S", CTRL)
        assert first.window.windowTitle() == "mine"
        assert read_bracket(file).bracket == first.bracket
        assert read_bracket(tmp_path / "copy.bracket.json").bracket == whole()


def test_a_full_disk_is_told_and_the_next_try_saves(
    qtbot: QtBot, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        before = file.read_bytes()
        nudge(hand)
        with monkeypatch.context() as full:

            def fail(_handle: int) -> None:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

            full.setattr(os, "fsync", fail)
            hand.key("S", CTRL)
            assert_one_sentence(hand, "Not saved", "No space left")
            hand.window.keeper.keep()
            assert_one_sentence(hand, "No space left")
        assert file.read_bytes() == before
        assert hand.window.windowTitle() == "mine, changed"
        hand.key("S", CTRL)
        assert hand.said == ""
        assert read_bracket(file).bracket == hand.bracket


def test_a_folder_nobody_may_write_to_is_told_and_another_takes_the_work(
    qtbot: QtBot, file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system's refusal is put in its place: who runs the tests may be allowed everything."""
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        nudge(hand)
        elsewhere = tmp_path / "elsewhere"
        elsewhere.mkdir()
        other = elsewhere / "copy.bracket.json"
        made = tempfile.mkstemp

        def refuse(**given: str | Path) -> tuple[int, str]:
            if given["dir"] == file.parent:
                raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
            return made(**given)  # type: ignore[call-overload,no-any-return]

        with monkeypatch.context() as shut:
            shut.setattr(tempfile, "mkstemp", refuse)
            hand.key("S", CTRL)
            assert_one_sentence(hand, "Not saved", "Permission denied")
            assert hand.window.windowTitle() == "mine, changed"
            hand.answers.save = other
            hand.key("S", CTRL | Qt.KeyboardModifier.ShiftModifier)
        assert hand.window.windowTitle() == "copy"
        assert read_bracket(other).bracket == hand.bracket
        assert read_bracket(file).bracket == whole()
