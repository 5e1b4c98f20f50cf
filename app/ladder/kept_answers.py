"""Answers kept on the disk by the hash of all inputs and the version, so that none is asked for twice."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from app.files.data_folder import cache_place, made
from app.files.files_error import FilesError
from app.files.small_file import read_group, write_group
from app.ladder.rung import Answer
from geometry.bracket import Bracket
from solver.version import VERSION

MOST_KEPT: Final = 5000
_FOLDER: Final = "ladder"


class KeptAnswers:
    """The answers in the user's cache folder. What is spoilt there counts as not there."""

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = cache_place() / _FOLDER if folder is None else folder

    def find(self, bracket: Bracket) -> Answer | None:
        """Return the answer kept for the same inputs by this version; None if there is none that is sound."""
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
        return self._folder / f"{bracket.input_hash()}-{VERSION}.json"
