"""A child process that writes over and over until it is killed: at a random moment, or at its n-th step.

Glossary
--------
step    what the system is asked to do to a file: open, write half, flush, lock, rename, remove
"""

from __future__ import annotations

import contextlib
import os
import random
import signal
import sqlite3
import sys
import time
from collections.abc import Callable
from itertools import count
from typing import Any, Final

STEPS: Final = frozenset({
    "open", "os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.chmod", "os.utime", "os.link",
    "os.truncate", "os.setxattr", "tempfile.mkstemp", "shutil.copyfile", "shutil.copystat",
    "shutil.rmtree", "fcntl.flock", "sqlite3.connect",
})  # fmt: skip
"""Events that Python tells an audit hook of, before they happen."""
MOST_STEPS: Final = 400
_DRAWN_OUT: Final = 3.0
"""Killed within so many times what one write takes."""

Write = Callable[[int], None]


def killed_at_random(write: Write, die: random.Random, takes_s: float) -> int:
    """Write 1, 2, 3 and so on in a child until it is killed; return how many were written for certain.

    It is killed at a moment uniform over a few times what a write takes, now and then before the first one
    is done.
    """
    reading, telling = os.pipe()
    child = os.fork()
    if child == 0:  # pragma: no cover - another process
        with contextlib.suppress(BaseException):
            os.write(telling, b"b")
            for number in count(1):
                write(number)
                os.write(telling, b"w")
        os._exit(1)
    os.close(telling)
    try:
        if os.read(reading, 1) != b"b":
            raise AssertionError("the child never began")
        time.sleep(die.uniform(0.0, _DRAWN_OUT * takes_s))
        os.kill(child, signal.SIGKILL)
        done = len(_all_of(reading))
    finally:
        os.close(reading)
        _, status = os.waitpid(child, 0)
    if not os.WIFSIGNALED(status):
        raise AssertionError("a write failed in the child")
    return done


def killed_at_step(write: Callable[[], None], step: int) -> bool:
    """Write once in a child that is killed at its n-th step, counted from nought; False if it has fewer."""
    child = os.fork()
    if child == 0:  # pragma: no cover - another process
        with contextlib.suppress(BaseException):
            _die_at(step)
            write()
            os._exit(0)
        os._exit(1)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL:
        return True
    if os.waitstatus_to_exitcode(status) != 0:
        raise AssertionError(f"the write failed in the child by itself, at step {step}")
    return False


def time_of(write: Write, times: int = 5) -> float:
    """Return how long one write takes, s."""
    begun = time.monotonic()
    for number in range(1, times + 1):
        write(number)
    return (time.monotonic() - begun) / times


def _all_of(reading: int) -> bytes:
    said = b""
    while more := os.read(reading, 4096):
        said += more
    return said


def _die_at(step: int) -> None:
    """Let this process be killed at its n-th step from here on."""
    left = [step]

    def one(*_: object) -> None:
        if left[0] == 0:
            os.kill(os.getpid(), signal.SIGKILL)
            while True:  # the signal is on its way
                time.sleep(1)
        left[0] -= 1

    def heard(event: str, _arguments: tuple[object, ...]) -> None:
        if event in STEPS:
            one()

    _between(os, "fsync", one)
    fdopen = os.fdopen
    os.fdopen = lambda *given, **more: _Torn(fdopen(*given, **more), one)
    connect = sqlite3.connect
    sqlite3.connect = lambda *given, **more: _Stepped(connect(*given, **more), one)
    sys.addaudithook(heard)


def _between(module: Any, name: str, one: Callable[[], None]) -> None:  # noqa: ANN401 - any module
    true = getattr(module, name)

    def stepped(*given: object) -> object:
        one()
        answer = true(*given)
        one()
        return answer

    setattr(module, name, stepped)


class _Torn:
    """A file that can be killed with half of it written."""

    def __init__(self, stream: Any, one: Callable[[], None]) -> None:  # noqa: ANN401 - any file
        self._stream, self._one = stream, one

    def write(self, content: bytes) -> int:
        self._stream.write(content[: len(content) // 2])
        self._stream.flush()
        self._one()
        self._stream.write(content[len(content) // 2 :])
        self._stream.flush()
        self._one()
        return len(content)

    def __enter__(self) -> _Torn:
        return self

    def __exit__(self, *_: object) -> None:
        self._stream.close()

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - whatever a file has
        return getattr(self._stream, name)


class _Stepped:
    """A database that can be killed before and after each statement."""

    def __init__(self, connection: sqlite3.Connection, one: Callable[[], None]) -> None:
        self._connection, self._one = connection, one

    def execute(self, *given: Any) -> sqlite3.Cursor:  # noqa: ANN401 - a statement and its values
        self._one()
        answer = self._connection.execute(*given)
        self._one()
        return answer

    def setlimit(self, category: int, limit: int) -> int:
        return self._connection.setlimit(category, limit)

    def close(self) -> None:
        self._connection.close()
