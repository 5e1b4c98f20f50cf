"""Work that Ctrl-C stops at once, even while a library computes and lets no Python run."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final, TypeVar

from app.worker.helper import have_second_process
from app.worker.working_thread import STACK_BYTES
from solver.freed_memory import keep_freed_memory

_Answer = TypeVar("_Answer")

_NAME: Final = "holdsquare judging"


def stoppable(work: Callable[[], _Answer]) -> _Answer:
    """Return what the work returns, or raise what it raises; KeyboardInterrupt as soon as the key is pressed.

    The work runs in a thread of its own, because only a waiting main thread hears the key. After a stop that
    thread is left behind: see `work_left_behind`.
    """
    keep_freed_memory()
    have_second_process()
    answers: list[_Answer] = []
    faults: list[BaseException] = []

    def run() -> None:
        try:
            answers.append(work())
        except BaseException as fault:  # noqa: BLE001 - handed to the thread that waits
            faults.append(fault)

    before = threading.stack_size(STACK_BYTES)
    try:
        thread = threading.Thread(target=run, name=_NAME, daemon=True)
        thread.start()
    finally:
        threading.stack_size(before)
    while thread.is_alive():
        thread.join(0.1)
    if faults:
        raise faults[0]
    return answers[0]


def work_left_behind() -> bool:
    """Return whether stopped work still runs: the process can then only end without the usual tidying."""
    return any(thread.name == _NAME for thread in threading.enumerate())
