"""Whether a file is still the one that was read: size, time and content."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Self

from app.files.files_error import FilesError, reason_of

Change = Literal["same", "changed", "gone"]


@dataclass(frozen=True)
class FileStamp:
    """What a file was like at a moment."""

    size: int
    changed_at_ns: int
    sha256: str

    @classmethod
    def of(cls, path: Path) -> Self:
        """Return the stamp of a file as it is now; FilesError if it cannot be read."""
        try:
            before = path.stat()
            with path.open("rb") as stream:
                content = hashlib.file_digest(stream, "sha256").hexdigest()
        except (OSError, ValueError) as error:
            raise FilesError(
                f"{path} cannot be read ({reason_of(error)}): check that it is there."
            ) from error
        return cls(before.st_size, before.st_mtime_ns, content)


def changed_on_disk(path: Path, stamp: FileStamp, *, thorough: bool = False) -> Change:
    """Return whether the file is other than when the stamp was taken.

    Size and time are looked at first, and only if they differ the content: a file merely touched is the same.
    `thorough`, for the moment before saving over it, looks at the content in any case. A file that cannot be
    read is as good as gone.
    """
    try:
        state = path.stat()
    except (OSError, ValueError):
        return "gone"
    if not thorough and (state.st_size, state.st_mtime_ns) == (stamp.size, stamp.changed_at_ns):
        return "same"
    if state.st_size != stamp.size:
        return "changed"
    try:
        return "same" if FileStamp.of(path).sha256 == stamp.sha256 else "changed"
    except FilesError:
        return "gone"


def change_words(path: Path, change: Change) -> str:
    """Return what to tell the user; empty if nothing changed."""
    if change == "changed":
        return (
            f"{path.name} was changed on the disk by something else since it was opened: open it again"
            " to see that, or save here under another name to keep both."
        )
    if change == "gone":
        return f"{path.name} is no longer on the disk, or its drive is away: save it here to put it back."
    return ""
