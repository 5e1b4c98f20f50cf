"""Which painter the window has for the mounted bracket, found out without stopping the window.

OpenGL is tried in a process of its own, then the 3D library is imported in a thread; until then there is no
painter, and the view draws a sketch.
"""

from __future__ import annotations

import importlib
import threading
from typing import Any, Final

from PySide6.QtCore import QObject, QProcess, QTimer, Signal

from app.mounted import probe
from app.mounted.frame import Painter

POLL_MS: Final = 20


class Painting(QObject):
    """Finds a painter once, for all views of the window."""

    ready = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Nothing is tried before `start`."""
        super().__init__(parent)
        self.painter: Painter | None = None
        self.fast = False
        """Whether the painter is quick enough to follow the pointer."""
        self._trial: QProcess | None = None
        self._module: Any = None
        self._import: threading.Thread | None = None
        self._poll = QTimer(self)
        self._poll.setInterval(POLL_MS)
        self._poll.timeout.connect(self._imported)

    def start(self) -> None:
        """Begin, if it has not begun."""
        if self._trial is not None or self.painter is not None:
            return
        program, *arguments = probe.arguments()
        self._trial = QProcess(self)
        self._trial.finished.connect(self._tried)
        self._trial.errorOccurred.connect(lambda _: self._slow())
        self._trial.start(program, arguments)
        QTimer.singleShot(round(1000 * probe.SECONDS), self, self._too_long)

    def stop(self) -> None:
        """End a trial that still runs."""
        if self._trial is not None and self._trial.state() != QProcess.ProcessState.NotRunning:
            self._trial.blockSignals(True)
            self._trial.kill()
            self._trial.waitForFinished(1000)

    def _tried(self, code: int, status: QProcess.ExitStatus) -> None:
        if code != 0 or status != QProcess.ExitStatus.NormalExit:
            self._slow()
            return
        self._import = threading.Thread(target=self._bring_in, name="3D library", daemon=True)
        self._import.start()
        self._poll.start()

    def _bring_in(self) -> None:
        self._module = importlib.import_module("app.mounted.canvas")
        # Asked for with the first results; here nobody waits for it.
        importlib.import_module("scipy.sparse.csgraph")

    def _imported(self) -> None:
        if self._import is None or self._import.is_alive():
            return
        self._poll.stop()
        if self._module is None:
            self._slow()
            return
        self.painter, self.fast = self._module.Canvas(), True
        self.ready.emit()

    def _too_long(self) -> None:
        if self.painter is None and self._import is None:
            self.stop()
            self._slow()

    def _slow(self) -> None:
        if self.painter is None:
            from app.mounted.still import Still

            self.painter = Still()
            self.ready.emit()
