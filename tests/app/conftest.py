"""What the tests of command line, paper and window share."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from tests.app.running import Runner


@pytest.fixture(scope="session", autouse=True)
def one_program(qapp: QApplication) -> QApplication:
    """Make the one program as widgets need it, before any paper makes a lesser one."""
    return qapp


@pytest.fixture
def cli(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Runner:
    """Return a command line that is answered by the test instead of by the solver."""
    monkeypatch.chdir(tmp_path)
    return Runner(monkeypatch, capsys, tmp_path)
