"""A process that does something over and over until it is killed in the middle of it."""

from __future__ import annotations

import contextlib
import os
import random
import signal
import time
from collections.abc import Callable
from itertools import count

import pytest

needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")


def killed_while(step: Callable[[int], None], chance: random.Random, most: int = 1) -> None:
    """Do the step in a child process, with 1, 2, 3 and so on, and kill that at a random moment.

    It is killed after some step of the first `most`, however long that takes on a busy machine.
    """
    begun, told = os.pipe()
    child = os.fork()
    if child == 0:  # pragma: no cover - another process
        with contextlib.suppress(BaseException):
            for number in count(1):
                step(number)
                if number <= most:
                    os.write(told, b"1")
        os._exit(1)
    try:
        os.close(told)
        for _ in range(chance.randint(1, most)):
            assert os.read(begun, 1) == b"1", "a step failed"
        time.sleep(chance.uniform(0.0, 0.03))
    finally:
        os.close(begun)
        os.kill(child, signal.SIGKILL)
        _, status = os.waitpid(child, 0)
    assert os.WTERMSIG(status) == signal.SIGKILL
