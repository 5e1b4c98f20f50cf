"""Where the program keeps its own data for a user; the one file that knows platformdirs."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

import platformdirs

from app.files.files_error import FilesError, reason_of
from geometry.file_replacing import sweep

OVERRIDE: Final = "HOLDSQUARE_DATA"
"""Names another folder, for tests and for a program carried on a stick."""


def data_place() -> Path:
    """Return where the folder is or would be."""
    named = os.environ.get(OVERRIDE, "").strip()
    return Path(named).absolute() if named else platformdirs.user_data_path("holdsquare", appauthor=False)


def cache_place() -> Path:
    """Return where what can be worked out again is kept, or would be; it may be deleted at any time."""
    named = os.environ.get(OVERRIDE, "").strip()
    if named:
        return Path(named).absolute() / "cache"
    return platformdirs.user_cache_path("holdsquare", appauthor=False)


def working_folder() -> Path:
    """Return the folder the program was started in, or the user's own once that is gone. Never raises."""
    try:
        return Path.cwd()
    except OSError:
        return Path(os.environ.get("HOME") or os.sep)


def sweep_data() -> None:
    """Remove what killed windows were writing among the program's own data. Never raises."""
    for folder in (data_place(), data_place() / "open", cache_place() / "ladder"):
        sweep(folder)


def data_folder() -> Path:
    """Return the folder, made if need be; FilesError if it cannot be."""
    return made(data_place())


def made(folder: Path) -> Path:
    """Return the folder, made if need be, for this user alone; FilesError if it cannot be."""
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise FilesError(
            f"The folder {folder} for recovery and settings cannot be made ({reason_of(error)}): make it,"
            f" or name another in {OVERRIDE}."
        ) from error
    return folder
