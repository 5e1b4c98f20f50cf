"""The bracket on the sheet kept aside while it is worked on, and found again after a crash."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from app.files.kept_work import KeptWork, KindOfWork
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket, save_bracket

EVERY_S: Final = 30.0
"""How often a window keeps its work, if it has changed."""
_KIND: Final = KindOfWork(
    "recovery",
    "work.bracket.json",
    lambda path: read_bracket(path).bracket,
    lambda path, bracket: save_bracket(path, bracket),
)


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


class Autosave(KeptWork[Bracket]):
    """One window's bracket kept aside."""

    def __init__(self, folder: Path | None = None) -> None:
        """Keep it in that folder, or in the user's data folder; nothing is made before the first save."""
        super().__init__(_KIND, folder)

    def save(self, bracket: Bracket, origin: Path | None) -> None:
        """Keep the work, and the file it belongs to; FilesError if it cannot be kept."""
        self.keep(bracket, {"path": origin})

    def recoverable(self) -> tuple[Recovered, ...]:
        """Return work left behind by windows now gone, newest first; FilesError if none can be read."""
        return tuple(
            Recovered(left.origin.get("path"), left.saved_at, left.work, left.folder) for left in self.left()
        )

    def drop(self, recovered: Recovered) -> None:
        """Remove work that was recovered or is not wanted; FilesError if it cannot be removed."""
        self.drop_folder(recovered.folder)
