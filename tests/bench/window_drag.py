"""A corner dragged in the whole window, offscreen: what each frame costs this process.

Idle, and with a second process that computes without a pause, as the worker does after an edit. The mean
counts the frames too in which the view as mounted is painted; it says how many frames a second there are.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtCore import QEvent, QPointF, Qt

FRAMES = 60
WANTED_S = 1.0 / 30.0


def drag_table(sample: Path) -> None:
    """Print the processor's and the clock's time of a frame, and their ratio to a thirtieth of a second."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    say = sys.stdout.write
    say("\nA corner dragged in the whole window, 1280 x 720: ms of a frame, wanted 33.3\n\n")
    say("| | median | mean | slowest tenth from | mean / wanted |\n|---|---|---|---|---|\n")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HOLDSQUARE_DATA"] = folder
        drag = _Drag(sample)
        for load in ("idle", "worker busy"):
            busy = subprocess.Popen([sys.executable, "-c", "while True: pass"]) if load != "idle" else None
            try:
                worked, passed = drag.frames()
            finally:
                if busy is not None:
                    busy.kill()
                    busy.wait()
            _row(f"{load}, processor", worked)
            _row(f"{load}, clock", passed)


def _row(name: str, seconds: list[float]) -> None:
    median, mean = statistics.median(seconds), statistics.fmean(seconds)
    slow = sorted(seconds)[int(0.9 * len(seconds))]
    figures = " | ".join(f"{1000 * value:.1f}" for value in (median, mean, slow))
    sys.stdout.write(f"| {name} | {figures} | {mean / WANTED_S:.2f} |\n")


class _Drag:
    """The whole window with a bracket in it, and a pointer that drags one of its corners."""

    def __init__(self, sample: Path) -> None:
        from app.files.settings import Settings
        from app.window.application import application
        from app.window.main_window import MainWindow
        from app.window.still_judge import StillJudge

        self._program = application(["holdsquare"])
        self._window = MainWindow(Settings(), StillJudge())
        self._window.resize(1280, 720)
        self._window.show()
        self._window.files.open_path(sample)
        ready = time.monotonic() + 4.0
        while time.monotonic() < ready:
            self._program.processEvents()
            time.sleep(0.01)
        flat = self._window.page.flat
        self._ground = flat.viewport()
        self._window.door.select(None)
        x, y = self._window.door.bracket.plates[0].outline[2].at_mm
        self._corner = flat.to_px((x, y))
        if not self._ground.rect().contains(self._corner.toPoint()):
            raise RuntimeError(f"the corner at {x:g}, {y:g} is not in sight: nothing can be measured")

    def frames(self) -> tuple[list[float], list[float]]:
        """Drag the corner, drop it, undo; return seconds of the processor and of the clock for each frame."""
        from PySide6.QtCore import QEvent, QPointF, Qt

        left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
        press, release, move = (
            QEvent.Type.MouseButtonPress,
            QEvent.Type.MouseButtonRelease,
            QEvent.Type.MouseMove,
        )
        steps = self._window.door.steps.index()
        # a click selects it, the next press takes hold
        self._pointer(press, self._corner, left, left)
        self._pointer(release, self._corner, left, none)
        self._program.processEvents()
        self._pointer(press, self._corner, left, left)
        worked, passed = [], []
        at = self._corner
        for number in range(FRAMES):
            begun, ticked = time.process_time(), time.perf_counter()
            at = self._corner + QPointF(6.0 + 2.0 * (number % 10), -10.0 - 2.0 * (number % 7))
            self._pointer(move, at, none, left)
            for _ in range(3):
                self._program.processEvents()
            worked.append(time.process_time() - begun)
            passed.append(time.perf_counter() - ticked)
        self._pointer(release, at, left, none)
        self._program.processEvents()
        if self._window.door.steps.index() != steps + 1:
            raise RuntimeError("the corner was not dragged: nothing was measured")
        self._window.door.undo()
        self._window.door.select(None)
        self._program.processEvents()
        return worked, passed

    def _pointer(self, kind: QEvent.Type, at: QPointF, button: Qt.MouseButton, held: Qt.MouseButton) -> None:
        from PySide6.QtCore import QPointF, Qt
        from PySide6.QtGui import QMouseEvent

        world = QPointF(self._ground.mapToGlobal(at))
        event = QMouseEvent(kind, at, world, button, held, Qt.KeyboardModifier.NoModifier)
        self._program.sendEvent(self._ground, event)
