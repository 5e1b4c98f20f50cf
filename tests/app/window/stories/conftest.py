"""A window whose own worker has judged a small bracket once; each story begins with its ink."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.judge import Judge
from tests.app.window.stories.builds import whole
from tests.app.window.stories.hands import WindowHand, window_in_hand


@pytest.fixture(autouse=True)
def data_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Keep what the program remembers in a folder of the test's own."""
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


@pytest.fixture(scope="module")
def one_window(qapp: QApplication, request: pytest.FixtureRequest) -> Iterator[WindowHand]:
    """Yield a hand on a window that all stories of a module share, for the sake of its worker."""
    with pytest.MonkeyPatch.context() as patch, window_in_hand(QtBot(request), judge=Judge()) as hand:
        patch.setenv("HOLDSQUARE_DATA", str(request.getfixturevalue("tmp_path_factory").mktemp("data")))
        yield hand


@pytest.fixture
def judged(one_window: WindowHand, qtbot: QtBot) -> WindowHand:
    """Return the hand with the small bracket on the sheet and its verdict in ink."""
    one_window.qtbot = qtbot
    one_window.answers.leaving = "leave"
    one_window.close_lists()  # and be the active window again, after those of other tests
    assert one_window.window.files.put(whole(), "for the saw")
    one_window.wait_for_ink()
    return one_window
