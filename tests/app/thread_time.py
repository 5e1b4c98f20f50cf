"""Where a thread's time goes, told so that other programs on the machine do not count."""

from __future__ import annotations

import time
from dataclasses import dataclass
from pathlib import Path
from typing import Final

_SCHEDULER: Final = Path("/proc/thread-self/schedstat")


@dataclass(frozen=True)
class ThreadTime:
    """A moment of the calling thread, in seconds."""

    passed: float
    worked: float
    """On a processor."""
    queued: float
    """Ready to work while others had the processor; 0 where the system does not tell."""


def thread_time() -> ThreadTime:
    """Return how long the calling thread has worked and queued by now."""
    passed, worked = time.perf_counter(), time.thread_time()
    queued = int(_SCHEDULER.read_text().split()[1]) * 1e-9 if tells_queueing() else 0.0
    return ThreadTime(passed, worked, queued)


def tells_queueing() -> bool:
    """Return whether the system tells how long a thread queued for a processor."""
    return _SCHEDULER.exists()


def waited(before: ThreadTime, after: ThreadTime) -> float:
    """Return how long the thread neither worked nor queued: it slept, or waited for something."""
    passed = after.passed - before.passed
    return passed - (after.worked - before.worked) - (after.queued - before.queued)
