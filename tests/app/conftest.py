"""What the tests of command line, paper and window share."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Final

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.app.running import Runner

PATIENCE_MS: Final = 60_000


@pytest.fixture(scope="session", autouse=True)
def one_program(qapp: QApplication) -> QApplication:
    """Make the one program as widgets need it, before any paper makes a lesser one."""
    return qapp


@pytest.fixture
def qtbot(qapp: QApplication, request: pytest.FixtureRequest) -> QtBot:
    """Return the plugin's hand, more patient where a test names no time: a busy machine is no failure."""
    hand = QtBot(request)
    for name in ("waitSignal", "waitSignals", "waitUntil"):
        setattr(hand, name, partial(getattr(hand, name), timeout=PATIENCE_MS))
    return hand


@pytest.fixture
def cli(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Runner:
    """Return a command line that is answered by the test instead of by the solver."""
    monkeypatch.chdir(tmp_path)
    return Runner(monkeypatch, capsys, tmp_path)
