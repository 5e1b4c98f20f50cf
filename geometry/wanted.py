"""Whether anybody still waits for what is being worked out.

Long work asks in its loops, so that an analysis which nobody waits for any more is given up within a tenth
of a second, and its process goes on warm. Light to import.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import ParamSpec, TypeVar

_Given = ParamSpec("_Given")
_Answer = TypeVar("_Answer")
Asker = Callable[[], None]
"""Raises what is to end the work, once nobody waits for it."""


class NoLongerWantedError(Exception):
    """Something else has been asked meanwhile; no fault of the work that it ends."""


class _Asking(threading.local):
    asker: Asker | None = None


_ASKING = _Asking()


def still_wanted() -> None:
    """Go on, or raise what ends the work of this thread."""
    if _ASKING.asker is not None:
        _ASKING.asker()


def this_threads_asker() -> Asker | None:
    """Return what this thread asks, to be handed to threads that work for it."""
    return _ASKING.asker


def asking_as_here(work: Callable[_Given, _Answer]) -> Callable[_Given, _Answer]:
    """Return the work for another thread to do, asking there whom this thread asks now."""
    asker = this_threads_asker()

    def there(*given: _Given.args, **named: _Given.kwargs) -> _Answer:
        with while_wanted(asker):
            return work(*given, **named)

    return there


@contextmanager
def while_wanted(asker: Asker | None) -> Iterator[None]:
    """Have this thread ask `asker` whether its work is still wanted; None never ends it."""
    before, _ASKING.asker = _ASKING.asker, asker
    try:
        yield
    finally:
        _ASKING.asker = before
