"""Answers kept on the disk by the hash of all inputs and of what judges, so that none is asked for twice.

The version alone does not tell: what is run from its sources judges otherwise as soon as they change.
"""

from __future__ import annotations

import contextlib
import hashlib
from functools import cache
from pathlib import Path
from typing import Final

from pydantic import ValidationError

import geometry
import solver
from app.files.data_folder import cache_place, made
from app.files.files_error import FilesError
from app.files.small_file import read_group, write_group
from app.ladder.rung import Answer
from geometry.bracket import Bracket
from solver.version import VERSION

MOST_KEPT: Final = 5000
_FOLDER: Final = "ladder"


@cache
def judged_by() -> str:
    """Return a hash of the sources that judge; that of none where they are bundled without."""
    text = hashlib.sha256()
    for package in (geometry, solver):
        for file in sorted(path for folder in package.__path__ for path in Path(folder).rglob("*.py")):
            text.update(file.read_bytes())
    return text.hexdigest()[:16]


def of_sources() -> str:
    """Return what a worker elsewhere says it runs: the version and the hash of the sources that judge."""
    return f"{VERSION}-{judged_by()}"


class KeptAnswers:
    """The answers in the user's cache folder. What is spoilt there counts as not there."""

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = cache_place() / _FOLDER if folder is None else folder

    def find(self, bracket: Bracket) -> Answer | None:
        """Return what this program kept for the same inputs; None if there is nothing that is sound."""
        try:
            answer = Answer.model_validate(read_group(self._file(bracket)))
        except ValidationError:
            return None
        return answer if answer.version == VERSION and not answer.trouble else None

    def keep(self, bracket: Bracket, answer: Answer) -> None:
        """Keep an answer. A disk that will not take it is no reason to stop."""
        if answer.trouble:
            return
        with contextlib.suppress(FilesError, OSError):
            made(self._folder)
            write_group(self._file(bracket), answer.model_dump(mode="json"), "what was judged")

    def clear_old(self) -> None:
        """Delete the oldest beyond the most that are kept."""
        with contextlib.suppress(OSError):
            files = sorted(self._folder.glob("*.json"), key=lambda file: file.stat().st_mtime)
            for file in files[: max(0, len(files) - MOST_KEPT)]:
                file.unlink(missing_ok=True)

    def _file(self, bracket: Bracket) -> Path:
        return self._folder / f"{bracket.input_hash()}-{VERSION}-{judged_by()}.json"
