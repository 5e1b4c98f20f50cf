"""The files opened or saved last."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from app.files.data_folder import data_folder, data_place
from app.files.small_file import read_group, write_group

MOST: Final = 12
_FILE: Final = "recent.json"


@dataclass(frozen=True)
class RecentFile:
    """A file, and whether it is still there."""

    path: Path
    there: bool


class RecentFiles:
    """The list, kept in the user's data folder; several windows share it."""

    def __init__(self, folder: Path | None = None) -> None:
        """Keep it in that folder, or in the user's data folder."""
        self._folder = folder

    def listed(self) -> tuple[RecentFile, ...]:
        """Return the files, last used first; none if the list cannot be read."""
        return tuple(RecentFile(path, os.path.isfile(path)) for path in self._paths())  # noqa: PTH113 - never raises

    def add(self, path: Path) -> None:
        """Put a file first; FilesError if the list cannot be kept."""
        path = path.absolute()
        self._keep([path, *(other for other in self._paths() if not _same(other, path))])

    def drop(self, path: Path) -> None:
        """Take a file off the list; FilesError if the list cannot be kept."""
        self._keep([other for other in self._paths() if not _same(other, path.absolute())])

    def _paths(self) -> list[Path]:
        kept = read_group((self._folder or data_place()) / _FILE).get("files")
        names = kept if isinstance(kept, list) else []
        return [Path(name) for name in names if isinstance(name, str) and name and "\0" not in name][:MOST]

    def _keep(self, paths: list[Path]) -> None:
        place = (self._folder or data_folder()) / _FILE
        write_group(place, {"files": [str(path) for path in paths[:MOST]]}, "the list of recent files")


def _same(first: Path, second: Path) -> bool:
    return os.path.normcase(first) == os.path.normcase(second)
