"""What Python throws away is thrown away in the window's own thread.

Widgets and pictures hang together in rings, which only the garbage collector takes apart. It runs in whatever
thread happens to ask for memory, and taking a widget apart in another thread than the window's ends the
program. So it is switched off, and a timer of the window does its work.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

from solver.freed_memory import give_memory_back

EVERY_MS = 1000
WHOLE_EVERY = 30
"""Of so many times it collects everything once, which takes a tenth of a second; else the young alone."""


class GarbageTimer(QObject):
    """Collects in the window's thread, and hands back to the system what that leaves."""

    def __init__(self, parent: QObject) -> None:
        """Switch the collector off and begin."""
        super().__init__(parent)
        gc.disable()
        self._times = 0
        timer = QTimer(self)
        timer.timeout.connect(self.collect)
        timer.start(EVERY_MS)

    def collect(self) -> None:
        """Collect the young, and now and then everything."""
        self._times += 1
        whole = self._times % WHOLE_EVERY == 0
        gc.collect(2 if whole else 1)
        if whole:
            # pictures and answers come and go: what they leave would stay with the process, 100 MB in a day
            give_memory_back()
