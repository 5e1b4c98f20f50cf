"""A lock that goes with the process that held it, however that ends; the one file that knows filelock.

The system itself holds the lock, so that none is ever left behind: a number of a process that may have been
given to another one since is never relied on.
"""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING, Self

from app.files.files_error import FilesError, reason_of

if TYPE_CHECKING:
    from filelock import FileLock


class HeldLock:
    """A lock that this process holds, until it lets go or ends."""

    def __init__(self, lock: FileLock) -> None:
        self._lock = lock

    @classmethod
    def taken(cls, path: Path) -> Self | None:
        """Return the lock; None if somebody holds it; FilesError if nobody could."""
        # late: it brings the library of another kind of locks, which the first drawing need not wait for
        from filelock import FileLock, Timeout

        # held per process and not per thread; never another object of the same name: two windows are two
        lock = FileLock(path, timeout=0, thread_local=False, is_singleton=False, fallback_to_soft=False)
        try:
            lock.acquire()
        except Timeout:
            return None
        except (OSError, NotImplementedError, ValueError) as error:
            reason = reason_of(error) if isinstance(error, OSError | ValueError) else "no locks there"
            raise FilesError(f"{path.parent} takes no lock ({reason}): let it be written to.") from error
        return cls(lock)

    def let_go(self) -> None:
        """Give the lock up; more than once does no harm."""
        with contextlib.suppress(OSError):
            self._lock.release(force=True)
