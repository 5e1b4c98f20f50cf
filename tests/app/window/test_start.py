"""The start: no display is a sentence and 64; the first drawing comes soon and nothing slow before it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.window.display import why_no_window
from tests.pace import paced

_ROOT = Path(__file__).resolve().parents[3]


def started(*arguments: str, folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    kept = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    return subprocess.run(
        [sys.executable, "-c", _RUN, *arguments],
        env=kept | {"HOLDSQUARE_DATA": str(folder), "PYTHONPATH": str(_ROOT)} | environment,
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


_RUN = "import sys; from app.cli.main import main; sys.exit(main())"


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
def test_no_display_is_one_sentence_and_64(tmp_path: Path) -> None:
    outcome = started(folder=tmp_path)
    assert outcome.returncode == 64
    assert outcome.stdout == ""
    assert outcome.stderr.startswith("There is no display here")
    assert "Traceback" not in outcome.stderr


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
def test_a_display_that_does_not_answer_is_one_sentence_and_64(tmp_path: Path) -> None:
    outcome = started(folder=tmp_path, DISPLAY=":7654")
    assert outcome.returncode == 64
    assert "does not answer" in outcome.stderr or "lacks system libraries" in outcome.stderr
    assert "Aborted" not in outcome.stderr


def test_a_file_that_is_not_there_is_one_sentence_and_64(tmp_path: Path) -> None:
    outcome = started("nothing.bracket.json", folder=tmp_path, QT_QPA_PLATFORM="offscreen")
    assert outcome.returncode == 64
    assert "There is no file nothing.bracket.json" in outcome.stderr


def test_offscreen_needs_no_display() -> None:
    assert why_no_window({"QT_QPA_PLATFORM": "offscreen"}) == ""


@pytest.mark.skipif(sys.platform == "win32", reason="sends a signal as a terminal does")
@pytest.mark.parametrize(
    ("number", "code"),
    [pytest.param(2, 130, marks=pytest.mark.long), (15, 143), pytest.param(1, 129, marks=pytest.mark.long)],
)
def test_who_ends_the_window_from_outside_keeps_the_work(number: int, code: int, tmp_path: Path) -> None:
    environment = os.environ | {"HOLDSQUARE_DATA": str(tmp_path), "QT_QPA_PLATFORM": "offscreen"}
    with subprocess.Popen(
        [sys.executable, "-c", _CHANGED], env=environment, cwd=_ROOT, stdout=-1, stderr=-1, text=True
    ) as window:
        assert window.stdout is not None
        assert window.stdout.readline() == "changed\n"
        window.send_signal(number)
        _, said = window.communicate(timeout=60)
    assert window.returncode == code, said
    assert said == ""
    outcome = subprocess.run(
        [sys.executable, "-c", _AGAIN],
        env=environment,
        cwd=_ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert outcome.stdout == "found again\n", outcome.stderr


_CHANGED = """
from app.window import start
from app.window.main_window import MainWindow

begin = MainWindow.begin
def changed(window):
    begin(window)
    window.door.attempt("name it", lambda bracket: bracket.but(title="found again"))
    print("changed", flush=True)
MainWindow.begin = changed
start.show_window(None, print)
"""
_AGAIN = """
from app.files.autosave import Autosave
print(*(left.bracket.title for left in Autosave().recoverable()))
"""


def test_the_first_drawing_waits_for_nothing_slow(tmp_path: Path) -> None:
    outcome = subprocess.run(
        [sys.executable, "-c", _FIRST],
        env=os.environ | {"HOLDSQUARE_DATA": str(tmp_path), "QT_QPA_PLATFORM": "offscreen"},
        cwd=_ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert outcome.returncode == 0, outcome.stderr
    told = dict(line.split(" ", 1) for line in outcome.stdout.splitlines())
    assert told["slow"] == "none"
    assert told["title"] == "marlpit_one_piece"
    # of this process alone, so that a busy machine does not decide; the wall clock is measured by hand
    assert float(told["cpu"]) < paced(2.5)


_FIRST = """
import sys, time
from app.window.application import application
from app.window.main_window import MainWindow
from app.window.seeing import kept_settings
from app.window.still_judge import StillJudge
from PySide6.QtCore import QEvent, QObject

program = application(["holdsquare"])
window = MainWindow(kept_settings(), StillJudge())
window.open_first(None)


class First(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint:
            cpu = time.process_time()
            slow = [m for m in ("gmsh", "matplotlib", "vtkmodules", "skfem", "scipy") if m in sys.modules]
            print("cpu", cpu)
            print("slow", ",".join(slow) or "none")
            print("title", window.windowTitle(), flush=True)
            import os
            os._exit(0)
        return False


first = First()
window.page.flat.viewport().installEventFilter(first)
window.page.mounted.painting.start = lambda: None  # it has threads of its own, which import as they please
window.show()
program.exec()
"""
