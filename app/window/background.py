"""Work that would hold the window up, done in a thread of its own."""

from __future__ import annotations

import threading
from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

Stopped = Callable[[], bool]
Job = Callable[[Stopped, Callable[[object], None]], object]
"""What is done: it looks whether it is to stop, and may tell of parts of its answer."""
_WAIT_S = 3.0


class Background(QObject):
    """Does one job at a time and tells what came of it, in the window's own thread."""

    told = Signal(object)
    """A part of the answer."""
    done = Signal(object)
    """The answer, or the exception that ended it."""

    _told = Signal(int, object)
    _done = Signal(int, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._number = 0
        self._thread: threading.Thread | None = None
        self._stop = threading.Event()
        self._told.connect(self._take_part)
        self._done.connect(self._take_answer)

    @property
    def busy(self) -> bool:
        """Return whether a job is being done whose answer is awaited."""
        return self._thread is not None

    def begin(self, job: Job) -> None:
        """Do a job; one that is being done is stopped, and nothing more is heard of it."""
        self.stop()
        self._number += 1
        stop = self._stop = threading.Event()
        self._thread = threading.Thread(
            target=self._do, args=(self._number, job, stop), name="background", daemon=True
        )
        self._thread.start()

    def ask_to_stop(self) -> None:
        """Let the job end early; what it has by then is still told."""
        self._stop.set()

    def stop(self) -> None:
        """Stop the job; nothing more is heard of it."""
        self._stop.set()
        self._number += 1
        self._thread = None

    def leave(self) -> None:
        """Stop the job and wait a little until it has ended what it started."""
        thread = self._thread
        self.stop()
        if thread is not None:
            thread.join(_WAIT_S)

    def _do(self, number: int, job: Job, stop: threading.Event) -> None:
        answer: object
        try:
            answer = job(stop.is_set, lambda part: self._told.emit(number, part))
        except Exception as error:  # noqa: BLE001 - it is told in the window's thread
            answer = error
        self._done.emit(number, answer)

    def _take_part(self, number: int, part: object) -> None:
        if number == self._number:
            self.told.emit(part)

    def _take_answer(self, number: int, answer: object) -> None:
        if number == self._number:
            self._thread = None
            self.done.emit(answer)
