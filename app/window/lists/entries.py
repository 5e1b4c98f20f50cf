"""The way from what was typed into a field to a step of the door, or to a sentence that says why not."""

from __future__ import annotations

from collections.abc import Sequence

from pydantic import ValidationError
from PySide6.QtCore import QObject, Signal

from app.editing.refused import EditRefused
from app.window.door import Door
from app.window.lists.blank_places import pick_of
from app.window.lists.field import Drafts, Field, Path
from app.window.lists.finding_cells import cell_remarks
from app.window.lists.setting import settle
from app.window.lists.typed import in_words, shown, typed
from geometry.finding import Finding


class Entries(QObject):
    """Takes what is typed in one list or note; keeps what waits for more."""

    noticed = Signal()
    """What is said at cells about what stands in them has changed."""
    drafted = Signal()
    """Something was typed for a part that needs more before it can be there."""

    def __init__(self, door: Door, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.door = door
        self.inch = False
        self.drafts = Drafts()
        self._remarks: dict[Path, str] = {}
        door.opened.connect(self.forget)

    def forget(self) -> None:
        """Drop what waits for more."""
        self.drafts = Drafts()

    def set_findings(self, findings: Sequence[Finding]) -> None:
        """Take what was found about the bracket as it stands, to be said at the cells it is about."""
        remarks = cell_remarks(self.door.bracket, findings)
        if remarks != self._remarks:
            self._remarks = remarks
            self.noticed.emit()

    def remark(self, field: Field) -> str:
        """Return what was found about a field's value, in a sentence; empty if nothing was."""
        return next((self._remarks[path] for path in field.paths if path in self._remarks), "")

    def text(self, field: Field) -> str:
        """Return a field's value as it is shown."""
        return shown(field, inch=self.inch)

    def commit(self, field: Field, text: str) -> str:
        """Put what was typed into the bracket as one step; return why not, in a sentence, or nothing."""
        bracket = self.door.bracket
        try:
            value = typed(field, text, bracket, inch=self.inch)
            settled = settle(bracket, self.drafts, field, value)
        except EditRefused as refused:
            return str(refused)
        except ValidationError as wrong:
            why = wrong.errors()[0]["msg"].removeprefix("Value error, ").replace("Input should", "it must")
            return f"{field.spoken}: {text.strip()} cannot be, {why[0].lower()}{why[1:]}; type another"
        if settled.bracket != bracket:
            told: list[str] = []
            self.door.told.connect(told.append)
            kept = self.door.attempt(_step_words(field, value, inch=self.inch), lambda _: settled.bracket)
            self.door.told.disconnect(told.append)
            if not kept:
                return next((sentence for sentence in reversed(told) if sentence), "this was refused")
            if field.path[-1] == "name":
                # what was selected under the old name still is
                self.door.select(pick_of((*field.path[:-2], str(value).strip())))
        if settled.drafts != self.drafts:
            self.drafts = settled.drafts
            self.drafted.emit()
        return ""


def _step_words(field: Field, value: object, *, inch: bool) -> str:
    spoken = field.spoken.split(";")[0]
    if value is None:
        return f"clear {spoken}"
    words = in_words(value, field.kind, field.unit, inch=inch)
    return f"set {spoken} to {words if len(words) <= 40 else words[:37] + '...'}"
