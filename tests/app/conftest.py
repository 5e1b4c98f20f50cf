"""What the tests of the command line share."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.app.running import Runner


@pytest.fixture
def cli(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Runner:
    """Return a command line that is answered by the test instead of by the solver."""
    monkeypatch.chdir(tmp_path)
    return Runner(monkeypatch, capsys, tmp_path)
