"""The worker's process: it imports the solver once, then answers until nobody is at the other end.

One thread judges, the first one listens and gives quick answers meanwhile. Measured on two cores, there and
back, one folded plate: 30 to 60 ms, and 70 to 110 ms while an analysis runs, rarely 250 ms.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Callable
from functools import partial
from multiprocessing.connection import Connection

from app.worker.helper import have_second_process
from app.worker.messages import Answer, Asked, AskedQuick, Dropped, Ready
from app.worker.working_thread import ready_to_work, start_working, step_back
from solver.freed_memory import give_memory_back

NICENESS = 10
"""Added to the process's own, so that the window comes first."""


def serve(connection: Connection) -> None:
    """Answer what comes through the connection; the process ends when its other end is closed."""
    began = time.perf_counter()
    stand_behind_the_window()
    ready_to_work()
    # A process told to end with the one that started it may start none of its own, but for this.
    multiprocessing.current_process().daemon = False
    have_second_process()
    from app.worker.judging import Bench

    answers = Answers(connection)
    bench = Bench(answers.send, idle=give_memory_back)
    start_working(partial(judge_or_end, bench.judge_for_ever), "holdsquare judging")
    answers.send(Ready(time.perf_counter() - began))
    while True:
        try:
            question = connection.recv()
        except (EOFError, OSError):
            leave()
        match question:
            case Asked() | Dropped():
                bench.take(question)
            case AskedQuick():
                bench.answer_quickly(question)


class Answers:
    """The way back, for both threads."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._one_at_a_time = threading.Lock()

    def send(self, answer: Answer) -> None:
        """Send an answer; the process ends if nobody takes it."""
        with self._one_at_a_time:
            try:
                self._connection.send(answer)
            except OSError:
                leave()


def judge_or_end(judge_for_ever: Callable[[], None]) -> None:
    """Judge; should that ever end, end the process: it would look as if it worked, and nobody would answer.

    Without memory not even the sentence that says so can be sent. The window sees a death, and tells it.
    """
    try:
        judge_for_ever()
    finally:
        os._exit(1)


def leave() -> None:
    """End the process at once, whatever its other thread is doing: nobody waits for it."""
    os._exit(0)


def stand_behind_the_window() -> None:
    """Leave the keys of the terminal to the window, which ends this process in its own way, and step back."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    step_back(NICENESS)
