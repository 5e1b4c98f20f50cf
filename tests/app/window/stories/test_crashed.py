"""A window killed while it saves, and one killed with work nobody saved: the next start has it all."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from geometry.bracket_file import read_bracket, save_bracket
from geometry.file_replacing import previous_of
from tests.app.window.stories.builds import whole
from tests.app.window.stories.hands import WindowHand, window_in_hand

ROOT = Path(__file__).resolve().parents[4]
needs_kill = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system kills otherwise")

_WINDOW = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from app.files.settings import Settings
from app.window.application import application
from app.window.main_window import MainWindow
from app.window.still_judge import StillJudge

program = application(["holdsquare"])
window = MainWindow(Settings(), StillJudge())
window.page.mounted.painting.start = lambda: None
window.open_first(Path(sys.argv[1]))
window.show()
window.begin()
step = 0


def go_on():
    global step
    step += 1
    window.door.attempt("give a title", lambda bracket: bracket.but(title=f"step {step}"))
    window.verdicts.judged.emit()  # after each verdict the work is kept aside
    if sys.argv[2] == "saves":
        assert window.files.save()
    print(step, flush=True)


often = QTimer(interval=0)
often.timeout.connect(go_on)
often.start()
program.exec()
"""


def killed(file: Path, how: str, after_s: float) -> int:
    """Let a window work on a file and kill it; return the last step it told of."""
    child = subprocess.Popen(
        [sys.executable, "-c", _WINDOW, str(file), how],
        cwd=ROOT,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert child.stdout is not None
    try:
        told = [child.stdout.readline()]
        time.sleep(after_s)
    finally:
        child.send_signal(signal.SIGKILL)
    told += child.stdout.read().splitlines()
    child.stdout.close()
    assert child.wait(120) == -signal.SIGKILL
    return int([line for line in told if line.strip()][-1])


def step_of(hand: WindowHand) -> int:
    return int(hand.bracket.title.removeprefix("step "))


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "mine.bracket.json"
    save_bracket(path, whole())
    return path


@needs_kill
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_kill_in_the_middle_of_saving_leaves_a_whole_file_and_all_the_work(
    qtbot: QtBot, file: Path, seed: int
) -> None:
    last = killed(file, "saves", random.Random(seed).uniform(0.0, 0.15))
    for kept in (file, previous_of(file)):
        reading = read_bracket(kept)
        assert reading.findings == ()
        assert reading.bracket is not None
        assert reading.bracket.but(title="") == whole().but(title="")
    with window_in_hand(qtbot) as hand:
        hand.window.open_first(None)
        assert step_of(hand) >= last
        assert hand.bracket == whole().but(title=hand.bracket.title)
        assert hand.window.windowTitle() in ("mine", "mine, changed")
        assert hand.window.files.path == file
        assert hand.window.files.save()
        assert read_bracket(file).bracket == hand.bracket


@needs_kill
def test_work_nobody_saved_is_on_the_sheet_at_the_next_start(qtbot: QtBot, file: Path) -> None:
    last = killed(file, "never saves", 0.1)
    assert read_bracket(file).bracket == whole()
    with window_in_hand(qtbot) as hand:
        hand.window.open_first(None)
        assert step_of(hand) >= last
        assert hand.window.windowTitle() == "mine, changed"
        assert "left when Holdsquare ended without saving" in hand.said
        assert hand.window.files.save()
    with window_in_hand(qtbot) as again:
        again.window.open_first(None)
        assert again.said == ""
        assert step_of(again) >= last
        assert again.window.windowTitle() == "mine"
