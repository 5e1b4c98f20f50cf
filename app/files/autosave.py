"""The bracket on the sheet kept aside while it is worked on, and found again after a crash."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from app.files.kept_findings import read_findings, write_findings
from app.files.kept_work import KeptWork, KindOfWork
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket, save_bracket
from geometry.finding import Finding

EVERY_S: Final = 30.0
"""How often a window keeps its work, if it has changed."""
_FINDINGS: Final = "findings.json"


@dataclass(frozen=True)
class _Sheet:
    """What lies on the sheet."""

    bracket: Bracket
    findings: tuple[Finding, ...]


def _read(path: Path) -> _Sheet | None:
    bracket = read_bracket(path).bracket
    return None if bracket is None else _Sheet(bracket, read_findings(path.with_name(_FINDINGS)))


def _save(path: Path, sheet: _Sheet) -> None:
    # first: killed in between, the work before has findings too many rather than too few
    write_findings(path.with_name(_FINDINGS), sheet.findings)
    save_bracket(path, sheet.bracket)


_KIND: Final = KindOfWork("recovery", "work.bracket.json", _read, _save, beside=(_FINDINGS,))


@dataclass(frozen=True)
class Recovered:
    """Work that a window left behind."""

    path_of_origin: Path | None
    """The file it was opened from or last saved to; None if it had none."""
    saved_at: datetime
    bracket: Bracket
    folder: Path
    findings: tuple[Finding, ...] = ()
    """What was found about the file when it was opened."""

    @property
    def words(self) -> str:
        """A sentence for the user."""
        origin = self.path_of_origin
        what = origin.name if origin is not None else f"a bracket never saved, {self.bracket.title}"
        return f"Work on {what} from {self.saved_at:%Y-%m-%d %H:%M} was not saved: open it, or let it go."


class Autosave(KeptWork[_Sheet]):
    """One window's bracket kept aside."""

    def __init__(self, folder: Path | None = None) -> None:
        """Keep it in that folder, or in the user's data folder; nothing is made before the first save."""
        super().__init__(_KIND, folder)

    def save(self, bracket: Bracket, origin: Path | None, findings: tuple[Finding, ...] = ()) -> None:
        """Keep the work, the file it belongs to and what was found about that; FilesError if not."""
        self.keep(_Sheet(bracket, findings), {"path": origin})

    def recoverable(self) -> tuple[Recovered, ...]:
        """Return work left behind by windows now gone, newest first; FilesError if none can be read."""
        return tuple(
            Recovered(
                left.origin.get("path"), left.saved_at, left.work.bracket, left.folder, left.work.findings
            )
            for left in self.left()
        )

    def drop(self, recovered: Recovered) -> None:
        """Remove work that was recovered or is not wanted; FilesError if it cannot be removed."""
        self.drop_folder(recovered.folder)
