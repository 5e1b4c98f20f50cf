"""What a row of the parts list tells below its cells: two lines at first, all once somebody reads on."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.lists.caption import Link
from app.window.lists.entries import Entries
from app.window.lists.field import Line
from app.window.lists.field_edit import FieldEdit
from app.window.lists.sentence import Sentence

_LINES_AT_FIRST = 2


class RestBelow(QObject):
    """Holds the sentence below a row, cut off after two lines, and the link that tells all of it."""

    reached = Signal()
    """One of its fields got the focus."""
    grown = Signal()
    """It tells all of itself and needs more room."""

    def __init__(self, entries: Entries, theme: Theme, row: QWidget) -> None:
        super().__init__(row)
        self._row = row
        self._clip = QWidget(row)
        self._clip.hide()
        self._sentence = Sentence(entries, Line(""), theme, self._clip)
        self._sentence.faint = True
        self._sentence.reached.connect(self._reach)
        self._more = Link("", theme, row)
        self._more.hide()
        self._more.clicked.connect(self._tell_all)
        self._tells_all = False

    @property
    def edits(self) -> list[FieldEdit]:
        """Return its fields in order."""
        return self._sentence.edits

    def stops(self) -> list[QWidget]:
        """Return what takes the focus in it, in order."""
        return [*([] if self._tells_all else [self._more]), *self.edits]

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._more.set_theme(theme)
        self._sentence.set_theme(theme)

    def tell(self, line: Line | None, part: str) -> None:
        """Show the rest of a part; None where there is none."""
        if line is not None:
            self._sentence.show_line(line)
            told = self.tr("all of {0}").replace("{0}", part)
            self._more.say(self.tr("…, all of it"), told)
        self._clip.setVisible(line is not None)

    def fold(self) -> None:
        """Be hidden, and tell two lines when it is shown again."""
        self._tells_all = False
        self._clip.hide()
        self._more.hide()

    def take_away(self) -> None:
        """Be no more, and its fields with it."""
        for edit in self.edits:
            edit.take_away()

    def place(self, indent: int, top: int, wide: int) -> int:
        """Lay it below the cells; return its height: two lines until somebody wants to read on."""
        self._sentence.setGeometry(0, 0, wide, self._sentence.height())
        self._sentence.place()
        high, line = self._sentence.height(), self._row.fontMetrics().height() + 4
        wrong = any(edit.below for edit in self.edits)
        if self._tells_all or wrong or high <= self._sentence.height_of_lines(_LINES_AT_FIRST + 1):
            self._more.hide()
            self._clip.setGeometry(indent, top, wide, high)
            return high
        shown = self._sentence.height_of_lines(_LINES_AT_FIRST)
        self._clip.setGeometry(indent, top, wide, shown)
        size = self._more.sizeHint()
        self._more.setGeometry(indent, top + shown, size.width(), line)
        self._more.show()
        return shown + line

    def _reach(self) -> None:
        """Tell the whole sentence as soon as something of it has the keyboard."""
        self._tell_all()
        self.reached.emit()

    def _tell_all(self) -> None:
        if not self._tells_all:
            had = self._more.hasFocus()
            self._tells_all = True
            self.grown.emit()
            if had and self.edits:
                self.edits[0].setFocus(Qt.FocusReason.TabFocusReason)
