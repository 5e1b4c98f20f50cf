"""One file, two windows: the second opens it to read only, and says so.

The locks stand in the user's data folder, not beside the file: that folder may be read-only or shared.
"""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from app.files.data_folder import data_folder, made
from app.files.files_error import FilesError
from app.files.held_lock import HeldLock
from app.files.small_file import read_group, write_group

_FOLDER: Final = "open"


@dataclass(frozen=True)
class Claim:
    """What opening a file came to."""

    path: Path
    read_only: bool
    words: str | None
    """A sentence for the user; None if there is nothing to say."""
    lock: HeldLock | None = None

    def let_go(self) -> None:
        """Say that the file is no longer open here."""
        if self.lock is not None:
            self.lock.let_go()


def claim(path: Path, folder: Path | None = None) -> Claim:
    """Say that the file is open here, and return whether it is open in another window.

    Never raises: a file that cannot be claimed opens all the same, with a sentence.
    """
    resolved = _resolved(path)
    try:
        place = made((folder or data_folder()) / _FOLDER)
        key = hashlib.sha256(os.path.normcase(resolved).encode("utf-8", "surrogatepass")).hexdigest()[:32]
        lock = HeldLock.taken(place / f"{key}.lock")
        told = place / f"{key}.json"
        if lock is None:
            return Claim(path, True, _told(path, read_group(told).get("since")))
        since = datetime.now().astimezone().isoformat(timespec="minutes")
        write_group(
            told, {"path": str(resolved), "process": os.getpid(), "since": since}, "which files are open"
        )
    except FilesError as error:
        return Claim(path, False, f"{path.name} is not guarded against a second window: {error}")
    return Claim(path, False, None, lock)


def _resolved(path: Path) -> Path:
    try:
        return path.resolve()
    except (OSError, RuntimeError):  # links that go round in circles
        return path.absolute()


def _told(path: Path, since: object) -> str:
    moment = ""
    if isinstance(since, str):
        try:
            moment = f" since {datetime.fromisoformat(since):%H:%M}"
        except ValueError:
            moment = ""
    return (
        f"{path.name} is open in another window{moment}, so it is open here to read only: work there,"
        " or save it here under another name."
    )
