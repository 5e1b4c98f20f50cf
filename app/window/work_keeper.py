"""Keeps the work aside every half minute and after each verdict, and finds what a crash left behind."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from app.files.autosave import EVERY_S, Autosave, Recovered
from app.files.data_folder import sweep_data
from app.files.files_error import FilesError
from app.window.door import Door
from app.window.file_desk import FileDesk
from app.window.worded import worded
from geometry.bracket import Bracket

_LOOK_MS: Final = 2_000


class WorkKeeper(QObject):
    """Works by itself; it speaks only when the disk does not do as it should."""

    told = Signal(str)

    def __init__(self, door: Door, files: FileDesk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._door, self._files = door, files
        self._autosave = Autosave()
        self._kept: Bracket | None = None
        self._trouble = ""
        self._every = QTimer(self, interval=int(1000 * EVERY_S))
        self._every.timeout.connect(self.keep)
        self._look = QTimer(self, interval=_LOOK_MS)
        self._look.timeout.connect(files.look_at_disk)
        files.saved.connect(self.forget)
        files.not_saved.connect(self._not_kept)
        files.opened.connect(self.forget)

    def begin(self) -> None:
        """Begin to keep and to look."""
        sweep_data()
        self._every.start()
        self._look.start()

    def keep(self) -> None:
        """Keep the work aside, if there is any that is neither saved nor kept."""
        trouble = self._not_kept()
        if trouble and trouble != self._trouble:
            self.told.emit(trouble)
        self._trouble = trouble

    def forget(self) -> None:
        """Drop what is kept: it is saved, or not wanted."""
        self._kept = None
        self._autosave.forget()

    def recover(self, wanted: Path | None) -> bool:
        """Put the newest work that a crash left behind on the sheet; return whether there was any.

        With a file wanted, only work on that file.
        """
        try:
            found = self._autosave.recoverable()
        except FilesError:
            return False
        for recovered in found:
            if wanted is None or _same(recovered.path_of_origin, wanted):
                self._put(recovered)
                return True
        return False

    def leave(self) -> None:
        """Close in order: nothing is kept any more."""
        self._every.stop()
        self._look.stop()
        self._autosave.close()

    def _not_kept(self) -> str:
        """Keep the work, and return why that cannot be: nothing is told over what a failed save says."""
        bracket = self._door.bracket
        if self._door.has_unsaved_work and bracket is not self._kept:
            try:
                self._autosave.save(bracket, self._files.path, self._files.findings)
            except FilesError as error:
                return str(error)
            self._kept = bracket
        return ""

    def _put(self, recovered: Recovered) -> None:
        self._files.put_recovered(recovered)
        self.keep()
        if self._kept is not None:
            # it is kept anew under this window's own name
            try:
                self._autosave.drop(recovered)
            except FilesError as error:
                self.told.emit(str(error))
                return
        when = f"{recovered.saved_at:%Y-%m-%d %H:%M}"
        self._door.tell(
            worded(
                "This is the work of {when}, left when Holdsquare ended without saving: save it to keep it.",
                when=when,
            )
        )


def _same(one: Path | None, other: Path) -> bool:
    return one is not None and one.absolute() == other.absolute()
