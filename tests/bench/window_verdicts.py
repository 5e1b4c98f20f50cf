"""`.venv/bin/python -m tests.bench.window_verdicts`: edits judged in the whole window, one after another.

Time from a lasting change of a plate to pencil and ink, and memory of the window and of its worker. The
window keeps the last few inks for undo, the worker what its last answers rest on. Then edits that come while
the ink of the one before is still being worked out: who draws does not wait for it.
"""

from __future__ import annotations

import gc
import os
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.whole_check import SAMPLE

VERDICTS = 15
HURRIED = 8
_BREATH_S = 0.5
"""From one pencil to the next edit."""
PATIENCE_S = 300.0


def verdict_table(sample: Path) -> None:
    """Print a line for each verdict; Linux alone tells memory."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    sys.stdout.write(
        "\n| verdict | pencil s | ink s | window's processor s | window MB | worker MB | objects |\n"
    )
    sys.stdout.write("|---|---|---|---|---|---|---|\n")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HOLDSQUARE_DATA"] = folder
        judged = _Judged(sample)
        try:
            for number in range(VERDICTS):
                sys.stdout.write(f"| {number} | {judged.line()} |\n")
                sys.stdout.flush()
            pencils = sorted(judged.hurried() for _ in range(HURRIED))
            sys.stdout.write(
                f"\nPencil of an edit {_BREATH_S} s after the last one's: {pencils[0]:.2f} s at best,"
                f" {pencils[len(pencils) // 2]:.2f} in the middle of {HURRIED}, {pencils[-1]:.2f} at worst\n"
            )
        finally:
            judged.judge.stop()


class _Judged:
    """The whole window with a worker of its own."""

    def __init__(self, sample: Path) -> None:
        from app.files.settings import Settings
        from app.window.application import application
        from app.window.judge import Judge
        from app.window.main_window import MainWindow
        from app.worker.client import Worker

        self._program = application(["holdsquare"])
        self._worker = Worker()
        self.judge = Judge(worker=self._worker)
        self._window = MainWindow(Settings(), self.judge)
        self._told: dict[str, float] = {}
        self._window.verdicts.results_changed.connect(self._hear)
        self._window.resize(1280, 720)
        self._window.open_first(sample)
        self._window.show()
        self._window.begin()
        self._wait()

    def hurried(self) -> float:
        """Move a corner and return the time to its pencil, s; its ink is left to come for a moment."""
        begun = self._edit()
        self._wait("pencil")
        until = time.monotonic() + _BREATH_S
        while time.monotonic() < until:
            self._program.processEvents()
            time.sleep(0.002)
        return self._told["pencil"] - begun

    def _edit(self) -> float:
        """Move a corner along its straight side; return when, s."""
        from app.editing.outline import move_corner

        plate = self._window.door.bracket.plates[0]
        x, y = plate.outline[2].at_mm
        self._told.clear()
        begun = time.perf_counter()
        self._window.door.attempt("move corner", lambda b: b.with_plate(move_corner(plate, 2, (x, y + 0.05))))
        return begun

    def line(self) -> str:
        """Move a corner, wait for its ink, and return the figures."""
        worked = time.thread_time()
        begun = self._edit()
        self._wait()
        worked = time.thread_time() - worked
        gc.collect()
        pencil, ink = (self._told[word] - begun for word in ("pencil", "ink"))
        line = self._worker._line
        theirs = 0.0 if line is None else _mb(str(line.process.pid))
        return (
            f"{pencil:.2f} | {ink:.2f} | {worked:.2f} | {_mb('self'):.0f} | {theirs:.0f} |"
            f" {len(gc.get_objects())}"
        )

    def _hear(self, results: object, state: str) -> None:
        self._told.setdefault(state, time.perf_counter())

    def _wait(self, word: str = "ink") -> None:
        until = time.monotonic() + PATIENCE_S
        while word not in self._told:
            if time.monotonic() > until:
                raise RuntimeError("no verdict came: nothing was measured")
            self._program.processEvents()
            time.sleep(0.002)
        for _ in range(50):
            self._program.processEvents()


def _mb(process: str) -> float:
    return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6


if __name__ == "__main__":
    verdict_table(SAMPLE)
