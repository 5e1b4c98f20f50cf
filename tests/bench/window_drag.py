"""A corner dragged in the whole window, offscreen: what each frame costs this process."""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

FRAMES = 60
WANTED_S = 1.0 / 30.0


def drag_table(sample: Path) -> None:
    """Print the processor's and the clock's time of a frame, and their ratio to a thirtieth of a second."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HOLDSQUARE_DATA"] = folder
        worked, passed = _frames(sample)
    say = sys.stdout.write
    say("\nA corner dragged in the whole window, 1280 x 720, median of a frame\n\n")
    say("| | ms | of a thirtieth of a second |\n|---|---|---|\n")
    for name, seconds in (("processor", worked), ("clock", passed)):
        say(f"| {name} | {1000 * seconds:.1f} | {seconds / WANTED_S:.2f} |\n")


def _frames(sample: Path) -> tuple[float, float]:
    from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
    from PySide6.QtGui import QMouseEvent

    from app.files.settings import Settings
    from app.window.application import application
    from app.window.main_window import MainWindow
    from app.window.still_judge import StillJudge

    program = application(["holdsquare"])
    window = MainWindow(Settings(), StillJudge())
    window.resize(1280, 720)
    window.show()
    window.files.open_path(sample)
    ready = time.monotonic() + 4.0
    while time.monotonic() < ready:
        program.processEvents()
        time.sleep(0.01)
    flat = window.page.flat
    ground = flat.viewport()
    x, y = window.door.bracket.plates[0].outline[2].at_mm
    corner = flat.mapFromScene(QPointF(x, -y))
    if not ground.rect().contains(corner):
        corner = flat.mapFromScene(QPointF(x, y))

    def pointer(kind: QEvent.Type, at: QPoint, button: Qt.MouseButton, held: Qt.MouseButton) -> None:
        place = QPointF(at)
        world = QPointF(ground.mapToGlobal(at))
        event = QMouseEvent(kind, place, world, button, held, Qt.KeyboardModifier.NoModifier)
        program.sendEvent(ground, event)

    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    # a click selects it, the next press takes hold
    pointer(QEvent.Type.MouseButtonPress, corner, left, left)
    pointer(QEvent.Type.MouseButtonRelease, corner, left, none)
    program.processEvents()
    pointer(QEvent.Type.MouseButtonPress, corner, left, left)
    worked, passed = [], []
    for number in range(FRAMES):
        begun, ticked = time.process_time(), time.perf_counter()
        at = corner + QPoint(6 + 2 * (number % 10), -10 - 2 * (number % 7))
        pointer(QEvent.Type.MouseMove, at, none, left)
        for _ in range(3):
            program.processEvents()
        worked.append(time.process_time() - begun)
        passed.append(time.perf_counter() - ticked)
    pointer(QEvent.Type.MouseButtonRelease, corner, left, none)
    program.processEvents()
    if window.door.steps.count() != 1:
        raise RuntimeError("the corner was not dragged: nothing was measured")
    return statistics.median(worked), statistics.median(passed)
