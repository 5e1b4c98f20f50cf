"""The one door for edits: it holds the bracket, and every change of it goes through here.

The bracket is immutable, so an undo step is the bracket before and the bracket after. A gesture in progress
is a *preview*: it is drawn, but is no step and is not judged until it is kept.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from pydantic import ValidationError
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from app.editing.refused import EditRefused
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.finding_words import named_once

Edit = Callable[[Bracket], Bracket]
MOST_STEPS: Final = 5000
"""That can be taken back. Each takes some 5 kB: parts that stay are shared by all."""


class Door(QObject):
    """Holds the bracket, its undo steps, what is selected and which plate lies on the sheet."""

    changed = Signal(object)
    """The bracket after a step, an undo, a redo or another file."""
    opened = Signal()
    """Another file is about to come here: what was typed for the one before has no place any more."""
    previewed = Signal(object)
    """The bracket of a gesture in progress, or as it was when the gesture was dropped."""
    picked = Signal(object)
    """A Pick, or None."""
    plate_shown = Signal(str)
    """Name of the plate whose flat pattern is shown; empty if there is none."""
    told = Signal(str)
    """A sentence for the user: why an edit was refused. Empty takes it away."""
    noted = Signal(str)
    """A sentence for the user about something that is as it should be."""
    saved_or_not = Signal(bool)
    """Whether there is work that has not been saved."""

    def __init__(self, bracket: Bracket, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bracket = bracket
        self._preview: Bracket | None = None
        self._picked: Pick | None = None
        self._shown = bracket.plates[0].name if bracket.plates else ""
        self._read_only = ""
        self._steps = QUndoStack(self)
        self._steps.setUndoLimit(MOST_STEPS)
        self._steps.cleanChanged.connect(self._tell_saved)

    @property
    def bracket(self) -> Bracket:
        """Return the bracket as it stands, without any gesture in progress."""
        return self._bracket

    @property
    def drawn(self) -> Bracket:
        """Return the bracket as it is drawn: with the gesture in progress."""
        return self._bracket if self._preview is None else self._preview

    @property
    def steps(self) -> QUndoStack:
        """Return the undo stack, for menus to listen to."""
        return self._steps

    @property
    def pick(self) -> Pick | None:
        """Return what is selected."""
        return self._picked

    @property
    def shown_plate(self) -> str:
        """Return the name of the plate on the sheet, empty if there is none."""
        return self._shown

    @property
    def read_only(self) -> str:
        """Return why nothing may be changed, in a sentence; empty if it may."""
        return self._read_only

    def set_read_only(self, why: str) -> None:
        """Refuse every edit from now on with this sentence; empty allows them again."""
        self._read_only = why

    @property
    def has_unsaved_work(self) -> bool:
        """Return whether the bracket differs from what was last opened or saved."""
        return not self._steps.isClean()

    def mark_saved(self) -> None:
        """Take the bracket as saved as it now stands."""
        self._steps.setClean()

    def mark_unsaved(self) -> None:
        """Take the bracket as never saved, such as one recovered after a crash."""
        self._steps.resetClean()

    def open(self, bracket: Bracket) -> None:
        """Put another bracket here; its undo steps begin anew."""
        self._preview = None
        self._steps.clear()
        self._steps.setClean()
        self.select(None)
        self.opened.emit()
        self._put(bracket)

    def attempt(self, words: str, edit: Edit) -> bool:
        """Make an edit as one step named by `words`; tell why and return False if it was refused.

        An edit that changes nothing makes no step and returns True.
        """
        edited = self._edited(self._bracket, edit)
        if edited is None:
            self.drop_preview()
            return False
        self._preview = None
        if edited == self._bracket:
            self.previewed.emit(self._bracket)
            return True
        self._steps.push(_Step(self._put, self._bracket, edited, named_once(words)))
        return True

    def preview(self, edit: Edit) -> bool:
        """Show what an edit of the bracket as it stands would give; refused ones are told and not shown."""
        edited = self._edited(self._bracket, edit)
        if edited is None:
            return False
        self._preview = edited
        self.previewed.emit(edited)
        return True

    def keep_preview(self, words: str) -> None:
        """Make the gesture in progress a step named by `words`."""
        edited, self._preview = self._preview, None
        if edited is not None and edited != self._bracket:
            self._steps.push(_Step(self._put, self._bracket, edited, named_once(words)))
        elif edited is not None:
            self.previewed.emit(self._bracket)

    def drop_preview(self) -> None:
        """Take back the gesture in progress."""
        if self._preview is not None:
            self._preview = None
            self.previewed.emit(self._bracket)

    def undo(self) -> None:
        """Take back the last step, or the gesture in progress."""
        if self._preview is not None:
            self.drop_preview()
        else:
            self._steps.undo()

    def redo(self) -> None:
        """Make the step that was taken back again."""
        self.drop_preview()
        self._steps.redo()

    def select(self, pick: Pick | None) -> None:
        """Select one thing everywhere; its plate comes onto the sheet."""
        if pick is not None:
            plate = pick.name if pick.kind == "plate" else pick.plate
            if plate:
                self.show_plate(plate)
        if pick != self._picked:
            self._picked = pick
            self.picked.emit(pick)

    def show_plate(self, name: str) -> None:
        """Put the flat pattern of that plate on the sheet, if there is such a plate."""
        if name != self._shown and any(p.name == name for p in self._bracket.plates):
            self._shown = name
            self.plate_shown.emit(name)

    def tell(self, sentence: str) -> None:
        """Tell the user a sentence that is no trouble; an empty one takes what was told away."""
        self.noted.emit(sentence)

    def refuse(self, sentence: str) -> None:
        """Tell the user why something cannot be done."""
        self.told.emit(sentence)

    def _tell_saved(self, clean: bool) -> None:
        self.saved_or_not.emit(not clean)

    def _edited(self, bracket: Bracket, edit: Edit) -> Bracket | None:
        if self._read_only:
            self.told.emit(self._read_only)
            return None
        try:
            edited = edit(bracket)
        except EditRefused as refused:
            self.told.emit(named_once(str(refused)))
            return None
        except ValidationError as wrong:
            self.told.emit(_sentence(wrong))
            return None
        self.told.emit("")
        return edited

    def _put(self, bracket: Bracket) -> None:
        self._bracket = bracket
        names = [p.name for p in bracket.plates]
        if self._shown not in names:
            self._shown = names[0] if names else ""
            self.plate_shown.emit(self._shown)
        self.changed.emit(bracket)


class _Step(QUndoCommand):
    """One named step: the bracket before and after."""

    def __init__(self, put: Callable[[Bracket], None], before: Bracket, after: Bracket, words: str) -> None:
        super().__init__(words)
        self._put, self._before, self._after = put, before, after

    def undo(self) -> None:
        self._put(self._before)

    def redo(self) -> None:
        self._put(self._after)


def _sentence(wrong: ValidationError) -> str:
    """Return the first thing wrong with a value, in words."""
    first = wrong.errors()[0]
    where = " ".join(str(part) for part in first["loc"][-1:]).replace("_", " ")
    return f"{where}: {first['msg'][0].lower()}{first['msg'][1:]}".strip(": ")
