"""Files as the window deals with them: open, save, and leave without losing anything.

Whatever goes wrong with a disk is one sentence on the sheet, and the work stays in the window.
"""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QPixmap

from app.editing.blank_sheet import blank_bracket
from app.files.autosave import Recovered
from app.files.data_folder import working_folder
from app.files.files_error import FilesError
from app.files.open_elsewhere import Claim, claim
from app.files.recent import RecentFiles
from app.files.stamp import FileStamp, change_words, changed_on_disk
from app.report.attached import is_pdf, read_any
from app.window.action import Choice
from app.window.asks import Asks
from app.window.door import Door
from app.window.picture_file import picture_written
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.bracket_file import SUFFIX, BracketFileError, read_bracket, save_bracket
from geometry.file_replacing import sweep
from geometry.finding import Finding, worst_first
from geometry.finding_words import sentence

_UNTITLED: Final = "untitled bracket"


class FileDesk(QObject):
    """Knows which file lies on the sheet, and what others do to it."""

    opened = Signal(object)
    """Another bracket lies on the sheet from now on: the tuple of what was found about its file."""
    named = Signal()
    """The name has changed, or whether it is saved."""
    saved = Signal()
    not_saved = Signal()
    """The disk would not take the bracket."""
    told = Signal(str)
    settling = Signal()
    """What is being typed is to be taken: the bracket is about to be saved or to go."""

    def __init__(self, door: Door, asks: Asks, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._door, self._asks = door, asks
        self._path: Path | None = None
        self._name = _UNTITLED
        self._stamp: FileStamp | None = None
        self._claim: Claim | None = None
        self._recent = RecentFiles()
        self._told_change = ""
        self._findings: tuple[Finding, ...] = ()
        self._left_out: tuple[Finding, ...] = ()
        """What stands against a verdict on what was read, while nobody has agreed to save without it."""

    @property
    def path(self) -> Path | None:
        """Return the file the bracket was opened from or last saved to; None if there is none."""
        return self._path

    @property
    def name(self) -> str:
        """Return what the window is called after."""
        return self._name

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return what was found about the file when it was opened."""
        return self._findings

    def put(self, bracket: Bracket, name: str, *, unsaved: bool = False) -> bool:
        """Put a bracket without a file on the sheet; return False if the user would rather stay."""
        if not self.may_leave():
            return False
        self._take(bracket, None, name)
        if unsaved:
            self._door.mark_unsaved()
            self.named.emit()
        return True

    def put_recovered(self, recovered: Recovered) -> None:
        """Put work on the sheet that an earlier window left behind, as not saved.

        What could not be read of its file still stands against a verdict: the work began without it. That
        file may be gone since, or be a report, which is nobody's to save over and so not kept as its own.
        """
        path = recovered.path_of_origin
        found_now = tuple(read_bracket(path).findings) if path is not None and path.is_file() else ()
        findings = worst_first((*recovered.findings, *found_now))
        self._take(recovered.bracket, path, _name_of(path) if path else _UNTITLED, findings)
        self._door.mark_unsaved()
        self.named.emit()

    def begin_blank(self) -> None:
        """Put an empty sheet here."""
        self.put(blank_bracket(), _UNTITLED)

    def open(self) -> None:
        """Ask which file to open, and open it."""
        path = self._asks.bracket_to_open(self._folder())
        if path is not None:
            self.open_path(path)

    def open_path(self, path: Path) -> bool:
        """Open a file; return False, having said why, if nothing in it is a bracket."""
        with contextlib.suppress(OSError):
            path = (
                path.absolute()
            )  # the folder the program was started in may be gone by the time it is saved
        reading = read_any(path)
        if reading.bracket is None:
            self.told.emit(
                worded("{name} was not opened: {sentences}", name=path.name, sentences=reading.sentences[0])
            )
            return False
        if not self.may_leave():
            return False
        with contextlib.suppress(FilesError):
            self._recent.add(path)
        # a bracket out of a report has no file of its own: saved over the report, the report would be gone
        own = None if is_pdf(path) else path
        self._take(reading.bracket, own, _name_of(path), tuple(reading.findings))
        if own is None:
            self.told.emit(
                worded(
                    "This is the bracket that {name} carries: Save gives it a file of its own.",
                    name=path.name,
                )
            )
        if reading.findings:
            more = f" (and {len(reading.findings) - 1} more)" if len(reading.findings) > 1 else ""
            self.told.emit(
                worded(
                    "Not all of {name} could be read{more}: {sentences}",
                    name=path.name,
                    more=more,
                    sentences=reading.sentences[0],
                )
            )
        return True

    def open_again(self) -> None:
        """Open the file as it now is on the disk."""
        if self._path is None:
            self.told.emit(worded("This bracket has no file yet: File, Save gives it one."))
        else:
            self.open_path(self._path)

    def recent_choices(self) -> list[Choice]:
        """Return the files opened or saved last that are still there."""
        try:
            listed = self._recent.listed()
        except FilesError:
            return []
        return [Choice(_name_of(f.path), str(f.path), tip=str(f.path)) for f in listed if f.there]

    def open_recent(self, path: str) -> None:
        """Open one of them."""
        self.open_path(Path(path))

    def save(self) -> bool:
        """Save to the file the bracket has, or ask for one; return whether it was saved."""
        self.settling.emit()
        if self._path is None or (self._claim is not None and self._claim.read_only):
            return self.save_as()
        change = "same" if self._stamp is None else changed_on_disk(self._path, self._stamp, thorough=True)
        # what is no file at all cannot be saved over: that is told instead
        if (
            change == "changed"
            and self._path.is_file()
            and not self._asks.agree(
                f"{self._path.name} was changed on the disk by something else: save over it?",
                "Save over it",
                "Do not save",
            )
        ):
            self.told.emit(change_words(self._path, change))
            return False
        return self._save_to(self._path)

    def save_as(self) -> bool:
        """Ask where to save, and save there from now on; return whether it was saved."""
        self.settling.emit()
        suggested = self._folder() / f"{self._name.replace(' ', '_')}{SUFFIX}"
        path = self._asks.where_to_save(suggested if self._path is None else self._path)
        if path is None:
            return False
        if path == self._path and self._claim is not None and self._claim.read_only:
            self.told.emit(
                worded("{name} is open in another window: save here under another name.", name=path.name)
            )
            return False
        return self._save_to(path)

    def save_picture(self, picture: QPixmap) -> None:
        """Ask where to put a picture of the sheet, and write it."""
        path = self._asks.where_to_put_picture(self._folder() / f"{self._name}.png")
        if path is not None and (trouble := picture_written(picture, path)):
            self.told.emit(trouble)

    def may_leave(self) -> bool:
        """Return whether what lies on the sheet may go: it is saved, or is not wanted."""
        self.settling.emit()
        if not self._door.has_unsaved_work:
            return True
        answer = self._asks.leave_unsaved(self._name)
        return answer == "leave" or (answer == "save" and self.save())

    def look_at_disk(self) -> None:
        """Say if something else changed or took away the file; each change once."""
        if self._path is None or self._stamp is None:
            return
        words = change_words(self._path, changed_on_disk(self._path, self._stamp))
        if words != self._told_change:
            self._told_change = words
            self.told.emit(words)

    def leave(self) -> None:
        """Say that the file is no longer open here."""
        if self._claim is not None:
            self._claim.let_go()
            self._claim = None

    def _take(
        self, bracket: Bracket, path: Path | None, name: str, findings: tuple[Finding, ...] = ()
    ) -> None:
        if path != self._path or path is None:
            self.leave()
            self._claim = None if path is None else claim(path)
        self._path, self._name, self._findings = path, name, findings
        self._left_out = tuple(finding for finding in findings if finding.bars_verdict)
        if path is not None:
            sweep(path.parent)
        self._take_stamp()
        self._door.set_read_only("")
        self.opened.emit(findings)
        self._door.open(bracket)
        self.named.emit()
        self.told.emit(self._claim.words or "" if self._claim is not None else "")
        if self._claim is not None and self._claim.read_only:
            self._door.set_read_only(self._claim.words or "")

    def _save_to(self, path: Path) -> bool:
        if not self._may_leave_out():
            return False
        try:
            save_bracket(path, self._door.bracket)
        except BracketFileError as error:
            self.not_saved.emit()
            self.told.emit(worded("Not saved: {error}.", error=error))
            return False
        if path != self._path:
            self.leave()
            self._claim = claim(path)
            self._door.set_read_only("")
        self._path, self._name = path, _name_of(path)
        self._take_stamp()
        with contextlib.suppress(FilesError):
            self._recent.add(path)
        self._door.mark_saved()
        self.saved.emit()
        self.named.emit()
        self.told.emit("")
        return True

    def _may_leave_out(self) -> bool:
        """Return whether the bracket may be saved without what could not be read of its file.

        Opened again nothing would tell of it: what was left out may be what would have failed.
        """
        if self._left_out and not self._asks.agree(
            f"Not all of the file could be read: {sentence(self._left_out[0])}. Saved, it holds what was read"
            " alone, and nothing stands against a verdict on that any more: save it so?",
            "Save what was read",
            "Do not save",
        ):
            self.not_saved.emit()
            self.told.emit(self.tr("Not saved: put right in the file what could not be read of it."))
            return False
        self._left_out = ()
        return True

    def _take_stamp(self) -> None:
        self._told_change = ""
        self._stamp = None
        if self._path is not None:
            with contextlib.suppress(FilesError):
                self._stamp = FileStamp.of(self._path)

    def _folder(self) -> Path:
        return working_folder() if self._path is None else self._path.parent


def _name_of(path: Path) -> str:
    return path.name.removesuffix(".pdf").removesuffix(".json").removesuffix(".bracket")
