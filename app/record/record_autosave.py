"""A record kept aside while it is filled in, and found again after a crash."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from app.files.kept_work import KeptWork, KindOfWork
from app.record.record import Record
from app.record.record_file import read_record, save_record

_KIND: Final = KindOfWork(
    "recovery of records",
    "work.record.json",
    lambda path: read_record(path).record,
    lambda path, record: save_record(path, record),
)


@dataclass(frozen=True)
class RecoveredRecord:
    """A record that a window left behind."""

    bracket_path: Path | None
    """The file of the bracket it is of; None if that had none."""
    record_path: Path | None
    """Where the record was last saved, or would be."""
    saved_at: datetime
    record: Record
    folder: Path

    @property
    def words(self) -> str:
        """A sentence for the user."""
        what = self.record.title or self.record.bracket_file or "a bracket without a title"
        return (
            f"This is the record of {what} as of {self.saved_at:%Y-%m-%d %H:%M}, left when Holdsquare ended"
            " without saving: save it to keep it."
        )


class RecordAutosave(KeptWork[Record]):
    """One window's record kept aside."""

    def __init__(self, folder: Path | None = None) -> None:
        """Keep it in that folder, or in the user's data folder; nothing is made before the first save."""
        super().__init__(_KIND, folder)

    def save(self, record: Record, bracket_path: Path | None, record_path: Path | None) -> None:
        """Keep the record, and the files it belongs to; FilesError if it cannot be kept."""
        self.keep(record, {"bracket": bracket_path, "record": record_path})

    def recoverable(self) -> tuple[RecoveredRecord, ...]:
        """Return records left behind by windows now gone, newest first; FilesError if none can be read."""
        return tuple(
            RecoveredRecord(
                left.origin.get("bracket"), left.origin.get("record"), left.saved_at, left.work, left.folder
            )
            for left in self.left()
        )

    def drop(self, recovered: RecoveredRecord) -> None:
        """Remove a record that was recovered or is not wanted; FilesError if it cannot be removed."""
        self.drop_folder(recovered.folder)
