"""A worker's process, the pipe to it, and the threads that ask and listen."""

from __future__ import annotations

import contextlib
import multiprocessing
import queue
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from multiprocessing import resource_tracker
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Generic, TypeVar

Said = TypeVar("Said")
Serve = Callable[[Connection], None]
"""What runs in the process, given its end of the pipe."""


_FIRST_WORD_S = 20.0
_NO_MORE = object()


class Line(Generic[Said]):
    """One process and what it says. OSError if it cannot be started."""

    def __init__(self, serve: Serve) -> None:
        context = multiprocessing.get_context("spawn")
        self._connection, far_end = context.Pipe()
        self._open = threading.Lock()
        self.process: BaseProcess = context.Process(
            target=serve, args=(far_end,), name="holdsquare analysis", daemon=True
        )
        try:
            with _keys_held_back():
                self.process.start()
        finally:
            # Held open here, its closing there would never be noticed.
            far_end.close()
        self.ready = False
        self._asked: queue.SimpleQueue[object] = queue.SimpleQueue()
        self.said: queue.SimpleQueue[Said | None] = queue.SimpleQueue()
        """None at the end: the process is gone."""
        try:
            threading.Thread(target=self._listen, name="holdsquare listening", daemon=True).start()
            threading.Thread(target=self._ask, name="holdsquare asking", daemon=True).start()
        except RuntimeError as fault:  # no room for another thread, as for another process
            self.process.kill()
            raise OSError(str(fault)) from fault

    def send(self, question: object) -> None:
        """Send a question without waiting until it is heard; one to a process that is gone is lost."""
        self._asked.put(question)

    def cut(self) -> None:
        """Kill the process; the thread then closes the pipe."""
        self.process.kill()

    def cut_once_ready(self) -> None:
        """Kill the process after its first word, or when that does not come; what it says is not for others.

        Killed while it starts a process of its own, it would leave that one to complain in the terminal.
        """

        def cut() -> None:
            with contextlib.suppress(queue.Empty):
                self.said.get(timeout=_FIRST_WORD_S)
            self.cut()

        try:
            threading.Thread(target=cut, name="holdsquare ending", daemon=True).start()
        except RuntimeError:  # no room for a thread
            self.cut()

    def _ask(self) -> None:
        """Send one question after the other: what a pipe does not hold waits for the process to read it.

        One that cannot be put into bytes ends the process: whoever waits for it is told, instead of waiting
        for ever.
        """
        try:
            while (question := self._asked.get()) is not _NO_MORE:
                with self._open, contextlib.suppress(OSError):
                    self._connection.send(question)
        except BaseException:
            self.cut()
            raise

    def _listen(self) -> None:
        try:
            while True:
                self.said.put(self._connection.recv())
        except (EOFError, OSError):
            pass
        except Exception:  # noqa: BLE001 - an answer that cannot be read, whatever the fault, is a process gone
            self.cut()
        self._asked.put(_NO_MORE)
        with self._open:
            self._connection.close()
        self.said.put(None)


@contextlib.contextmanager
def _keys_held_back() -> Iterator[None]:
    """Start a process that hears no key of the terminal, not even while it still reads its own files.

    The keys are for whoever asks. Which signals a thread holds back is handed on to what it starts.
    """
    if sys.platform == "win32":
        yield
        return
    # Starting it lets the keys through again, so it has to be there beforehand.
    resource_tracker.ensure_running()
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
