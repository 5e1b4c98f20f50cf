"""Work kept aside while it is worked on, and found again after a crash.

Every window keeps its work in a folder of its own and holds a lock there. A folder with work and without a
lock is what a window left that did not close: its work can be recovered.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from app.files.data_folder import data_folder, made
from app.files.files_error import FilesError
from app.files.held_lock import HeldLock
from app.files.small_file import read_group, write_group
from geometry.bracket import Bracket
from geometry.bracket_file import BracketFileError, previous_of, read_bracket, save_bracket

EVERY_S: Final = 30.0
"""How often a window keeps its work, if it has changed."""
_FOLDER: Final = "recovery"
_WORK: Final = "work.bracket.json"
_ORIGIN: Final = "origin.json"
_LOCK: Final = "window.lock"
_TRIES: Final = 5


@dataclass(frozen=True)
class Recovered:
    """Work that a window left behind."""

    path_of_origin: Path | None
    """The file it was opened from or last saved to; None if it had none."""
    saved_at: datetime
    bracket: Bracket
    folder: Path

    @property
    def words(self) -> str:
        """A sentence for the user."""
        origin = self.path_of_origin
        what = origin.name if origin is not None else f"a bracket never saved, {self.bracket.title}"
        return f"Work on {what} from {self.saved_at:%Y-%m-%d %H:%M} was not saved: open it, or let it go."


class Autosave:
    """One window's work kept aside."""

    def __init__(self, folder: Path | None = None) -> None:
        """Keep it in that folder, or in the user's data folder; nothing is made before the first save."""
        self._parent = folder
        self._own: Path | None = None
        self._lock: HeldLock | None = None
        self._origin: tuple[Path | None] | None = None

    def save(self, bracket: Bracket, origin: Path | None) -> None:
        """Keep the work, and the file it belongs to; FilesError if it cannot be kept."""
        own = self._own_folder()
        try:
            if self._origin != (origin,):
                kept = None if origin is None else str(origin.absolute())
                write_group(own / _ORIGIN, {"path": kept}, "the work in progress")
                self._origin = (origin,)
            save_bracket(own / _WORK, bracket)
        except BracketFileError as error:
            raise FilesError(f"The work in progress is not kept aside: {error}.") from error

    def forget(self) -> None:
        """Drop what is kept: it was saved, or is not wanted. The window can go on and keep work anew."""
        self._origin = None
        if self._own is not None:
            for path in (self._own / _WORK, previous_of(self._own / _WORK), self._own / _ORIGIN):
                with contextlib.suppress(OSError):
                    path.unlink(missing_ok=True)

    def close(self) -> None:
        """Let go of the folder as a window does that closes in order; kept work is dropped."""
        self.forget()
        self._let_go()

    def recoverable(self) -> tuple[Recovered, ...]:
        """Return work left behind by windows now gone, newest first; FilesError if none can be read."""
        found: list[Recovered] = []
        for folder in _folders(self._place()):
            if folder == self._own:
                continue
            with contextlib.suppress(FilesError):
                lock = HeldLock.taken(folder / _LOCK)
                if lock is None:
                    continue
                recovered = _work_in(folder)
                if recovered is None and not _holds_work(folder):
                    shutil.rmtree(folder, ignore_errors=True)
                lock.let_go()
                if recovered is not None:
                    found.append(recovered)
        return tuple(sorted(found, key=lambda one: one.saved_at, reverse=True))

    def drop(self, recovered: Recovered) -> None:
        """Remove work that was recovered or is not wanted; FilesError if it cannot be removed."""
        if recovered.folder.parent != self._place():
            raise FilesError(f"{recovered.folder} is no work kept aside: nothing was removed.")
        shutil.rmtree(recovered.folder, ignore_errors=True)
        if _holds_work(recovered.folder):
            raise FilesError(f"{recovered.folder} cannot be removed: let it be written to, or do it by hand.")

    def _place(self) -> Path:
        return made((self._parent or data_folder()) / _FOLDER)

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


def _folders(place: Path) -> list[Path]:
    try:
        return sorted(path for path in place.iterdir() if path.is_dir())
    except OSError as error:
        raise FilesError(
            f"{place} cannot be looked through for work to recover ({error.strerror})."
        ) from error


def _holds_work(folder: Path) -> bool:
    return any(path.exists() for path in (folder / _WORK, previous_of(folder / _WORK)))


def _work_in(folder: Path) -> Recovered | None:
    for path in (folder / _WORK, previous_of(folder / _WORK)):
        bracket = read_bracket(path).bracket
        if bracket is None:
            continue
        origin = read_group(folder / _ORIGIN).get("path")
        with contextlib.suppress(OSError):
            saved_at = datetime.fromtimestamp(path.stat().st_mtime).astimezone()
            return Recovered(Path(origin) if isinstance(origin, str) else None, saved_at, bracket, folder)
    return None
