"""Which painter the window has for the mounted bracket, found out without stopping the window.

OpenGL is tried in a process of its own, then the 3D library is imported in a thread; until then there is no
painter, and the view draws a sketch.
"""

from __future__ import annotations

import importlib
import threading
import time
from collections.abc import Callable
from multiprocessing.process import BaseProcess
from typing import Any, Final

from PySide6.QtCore import QObject, QTimer, Signal

from app.mounted import probe
from app.mounted.frame import Painter

POLL_MS: Final = 20


class Painting(QObject):
    """Finds a painter once, for all views of the window."""

    ready = Signal()

    def __init__(self, parent: QObject | None = None, trial: Callable[[], None] | None = None) -> None:
        """Nothing is tried before `start`; `trial` takes the place of the usual one."""
        super().__init__(parent)
        self.painter: Painter | None = None
        self.fast = False
        """Whether the painter is quick enough to follow the pointer."""
        self._what = probe.paint_nothing if trial is None else trial
        self._trial: BaseProcess | None = None
        self._begun = 0.0
        self._module: Any = None
        self._import: threading.Thread | None = None
        self._poll = QTimer(self)
        self._poll.setInterval(POLL_MS)
        self._poll.timeout.connect(self._look)

    def start(self) -> None:
        """Begin, if it has not begun."""
        if self._poll.isActive() or self.painter is not None:
            return
        self._trial = probe.trial(self._what)
        self._begun = time.monotonic()
        self._poll.start()

    def stop(self) -> None:
        """End a trial that still runs; nothing comes of it."""
        self._poll.stop()
        if self._trial is not None and self._trial.is_alive():
            self._trial.kill()
            self._trial.join()

    def _look(self) -> None:
        if self._import is not None:
            self._look_at_import()
        elif self._trial is None:
            self._found(None)
        elif self._trial.is_alive():
            if time.monotonic() - self._begun > probe.SECONDS:
                self.stop()
                self._found(None)
        elif self._trial.exitcode == probe.WORKS:
            self._import = threading.Thread(target=self._bring_in, name="3D library", daemon=True)
            self._import.start()
        else:
            self._found(None)

    def _bring_in(self) -> None:
        self._module = importlib.import_module("app.mounted.canvas")
        # Asked for with the first results; here nobody waits for it.
        importlib.import_module("scipy.sparse.csgraph")

    def _look_at_import(self) -> None:
        if self._import is not None and not self._import.is_alive():
            self._found(None if self._module is None else self._module.Canvas())

    def _found(self, fast: Painter | None) -> None:
        self._poll.stop()
        self.fast = fast is not None
        if fast is None:
            from app.mounted.still import Still

            fast = Still()
        self.painter = fast
        self.ready.emit()
