"""Keeps the work aside every half minute and after each verdict, and finds what a crash left behind."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal

from app.files.autosave import EVERY_S, Autosave, Recovered
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
        files.opened.connect(self.forget)

    def begin(self) -> None:
        """Begin to keep and to look."""
        self._every.start()
        self._look.start()

    def keep(self) -> None:
        """Keep the work aside, if there is any that is neither saved nor kept."""
        bracket = self._door.bracket
        if not self._door.has_unsaved_work or bracket is self._kept:
            return
        try:
            self._autosave.save(bracket, self._files.path)
        except FilesError as error:
            if str(error) != self._trouble:
                self._trouble = str(error)
                self.told.emit(self._trouble)
            return
        self._kept, self._trouble = bracket, ""

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
