"""Work of any kind kept aside while it is worked on, and found again after a crash.

Every window keeps its work in a folder of its own and holds a lock there. A folder with work and without a
lock is what a window left that did not close: its work can be recovered.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final, Generic, TypeVar

from app.files.data_folder import data_folder, made
from app.files.files_error import FilesError
from app.files.held_lock import HeldLock
from app.files.small_file import read_group, write_group
from geometry.file_replacing import previous_of, sweep

Work = TypeVar("Work")
Origin = Mapping[str, Path | None]
"""Files the work belongs to, by what they are to it; None where there is none."""
_ORIGIN: Final = "origin.json"
_LOCK: Final = "window.lock"
_TRIES: Final = 5


@dataclass(frozen=True)
class KindOfWork(Generic[Work]):
    """How one kind of work is kept."""

    folder: str
    """Under the data folder."""
    file: str
    read: Callable[[Path], Work | None]
    """Return the work in a file; None if there is none."""
    save: Callable[[Path, Work], None]
    """Save it, the file that stood there kept beside it; OSError with a sentence if it cannot be."""
    beside: tuple[str, ...] = ()
    """Files in the same folder that go with it."""


@dataclass(frozen=True)
class Left(Generic[Work]):
    """Work that a window left behind."""

    work: Work
    origin: Origin
    saved_at: datetime
    folder: Path


class KeptWork(Generic[Work]):
    """One window's work of one kind kept aside."""

    def __init__(self, kind: KindOfWork[Work], folder: Path | None = None) -> None:
        """Keep it in that folder, or in the user's data folder; nothing is made before the first save."""
        self._kind, self._parent = kind, folder
        self._own: Path | None = None
        self._lock: HeldLock | None = None
        self._origin: Origin | None = None

    def keep(self, work: Work, origin: Origin) -> None:
        """Keep the work, and the files it belongs to; FilesError if it cannot be kept."""
        own = self._own_folder()
        try:
            if self._origin != origin:
                kept = {what: None if path is None else str(path.absolute()) for what, path in origin.items()}
                write_group(own / _ORIGIN, kept, "the work in progress")
                self._origin = dict(origin)
            self._kind.save(own / self._kind.file, work)
        except FilesError:
            raise
        except OSError as error:
            raise FilesError(f"The work in progress is not kept aside: {error}.") from error

    def forget(self) -> None:
        """Drop what is kept: it was saved, or is not wanted. The window can go on and keep work anew."""
        self._origin = None
        if self._own is not None:
            beside = (self._own / name for name in (*self._kind.beside, _ORIGIN))
            for path in (*self._files(self._own), *beside):
                with contextlib.suppress(OSError):
                    path.unlink(missing_ok=True)

    def close(self) -> None:
        """Let go of the folder as a window does that closes in order; kept work is dropped."""
        self.forget()
        self._let_go()

    def left(self) -> tuple[Left[Work], ...]:
        """Return work left behind by windows now gone, newest first; FilesError if none can be read."""
        found: list[Left[Work]] = []
        for folder in _folders(self._place()):
            if folder == self._own:
                continue
            with contextlib.suppress(FilesError):
                lock = HeldLock.taken(folder / _LOCK)
                if lock is None:
                    continue
                sweep(folder)
                left = self._left_in(folder)
                if left is None and not self._holds_work(folder):
                    shutil.rmtree(folder, ignore_errors=True)
                lock.let_go()
                if left is not None:
                    found.append(left)
        return tuple(sorted(found, key=lambda one: one.saved_at, reverse=True))

    def drop_folder(self, folder: Path) -> None:
        """Remove work that was recovered or is not wanted; FilesError if it cannot be removed."""
        if folder.parent != self._place():
            raise FilesError(f"{folder} is no work kept aside: nothing was removed.")
        shutil.rmtree(folder, ignore_errors=True)
        if self._holds_work(folder):
            raise FilesError(f"{folder} cannot be removed: let it be written to, or do it by hand.")

    def _place(self) -> Path:
        return made((self._parent or data_folder()) / self._kind.folder)

    def _files(self, folder: Path) -> tuple[Path, Path]:
        return folder / self._kind.file, previous_of(folder / self._kind.file)

    def _own_folder(self) -> Path:
        """Return the window's folder; a new one if somebody took it away."""
        if self._own is not None and self._own.is_dir():
            return self._own
        self._let_go()
        for _ in range(_TRIES):
            own = made(self._place() / f"{datetime.now():%Y%m%d-%H%M%S}-{os.getpid()}-{secrets.token_hex(4)}")
            lock = HeldLock.taken(own / _LOCK)
            if lock is not None:  # else another window that was looking for work looked at it just now
                self._own, self._lock, self._origin = own, lock, None
                return own
        raise FilesError(
            f"The work in progress is not kept aside: {self._place()} is busy; save it to a file."
        )

    def _let_go(self) -> None:
        if self._lock is not None:
            self._lock.let_go()
        if self._own is not None:
            shutil.rmtree(self._own, ignore_errors=True)
        self._own = self._lock = self._origin = None

    def _holds_work(self, folder: Path) -> bool:
        return any(path.exists() for path in self._files(folder))

    def _left_in(self, folder: Path) -> Left[Work] | None:
        for path in self._files(folder):
            work = self._kind.read(path)
            if work is None:
                continue
            kept = read_group(folder / _ORIGIN)
            origin = {what: Path(name) if isinstance(name, str) else None for what, name in kept.items()}
            with contextlib.suppress(OSError):
                saved_at = datetime.fromtimestamp(path.stat().st_mtime).astimezone()
                return Left(work, origin, saved_at, folder)
        return None


def _folders(place: Path) -> list[Path]:
    try:
        return sorted(path for path in place.iterdir() if path.is_dir())
    except OSError as error:
        raise FilesError(
            f"{place} cannot be looked through for work to recover ({error.strerror})."
        ) from error
