"""A sentence of the sheet, words and fields, that breaks into lines as wide as there is room."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.lists.entries import Entries
from app.window.lists.field import Field, Line, Path
from app.window.lists.field_edit import FieldEdit
from app.window.lists.kept_edits import kept_edits

_LINE_GAP_PX = 1


@dataclass
class _Placed:
    """One word of a sentence where it is drawn."""

    text: str
    at: QPointF


class Sentence(QWidget):
    """Draws a line of words and holds its fields; a refusal stands below it."""

    reached = Signal()
    """One of its fields got the focus."""
    stepped = Signal(int)

    def __init__(self, entries: Entries, line: Line, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries, self._theme = entries, theme
        self._line = Line("")
        self._edits: list[FieldEdit] = []
        self._words: list[_Placed] = []
        self._placing = False
        self.faint = False
        """Whether its words are drawn in pencil."""
        self.show_line(line)

    @property
    def line(self) -> Line:
        """Return the line that is shown."""
        return self._line

    @property
    def edits(self) -> list[FieldEdit]:
        """Return its fields in order."""
        return self._edits

    def edit_at(self, path: Path) -> FieldEdit | None:
        """Return the field that holds the value of a path, if one does."""
        return next((edit for edit in self._edits if path in edit.field.paths), None)

    def height_of_lines(self, count: int) -> int:
        """Return the height of its first lines."""
        return count * (self.fontMetrics().height() + 4 + _LINE_GAP_PX) - _LINE_GAP_PX

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for edit in self._edits:
            edit.set_theme(theme)
        self.update()

    def show_line(self, line: Line) -> None:
        """Show a line; fields that stay keep their focus and what is being typed."""
        self._placing = True
        edits, gone = kept_edits(self._edits, line.fields, self._made)
        self._line, self._edits = line, edits
        self._placing = False
        for edit in gone:
            edit.take_away()
        self._keep_order()
        self.setAccessibleName(self._spoken())
        self.place()

    def take_away(self) -> None:
        """Be no more, and its fields with it."""
        for edit in self._edits:
            edit.take_away()
        self.hide()
        self.deleteLater()

    def place(self) -> None:
        """Break the sentence into lines anew."""
        if self._placing:
            return
        self._placing = True
        height = self._flow(max(self.width(), 60))
        if height != self.minimumHeight() or height != self.maximumHeight():
            self.setFixedHeight(height)
        self._placing = False
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room it takes at its width now."""
        return QSize(200, self.minimumHeight())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Break the lines for another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.place()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the words between the fields, and refusals below."""
        painter = QPainter(self)
        painter.setPen(QColor(self._theme.pencil if self.faint else self._theme.ink))
        for word in self._words:
            painter.drawText(word.at, word.text)
        fault = self._fault()
        if fault:
            painter.setPen(QColor(self._theme.bad))
            painter.drawText(self._fault_box, int(Qt.TextFlag.TextWordWrap), fault)

    def _made(self, field: Field) -> FieldEdit:
        edit = FieldEdit(self._entries, field, self._theme, self)
        edit.resized.connect(self.place)
        edit.refused.connect(self.place)
        edit.reached.connect(self.reached)
        edit.stepped.connect(self.stepped)
        edit.show()
        return edit

    def _keep_order(self) -> None:
        for before, after in zip(self._edits, self._edits[1:], strict=False):
            QWidget.setTabOrder(before, after)

    def _fault(self) -> str:
        return next((edit.below for edit in self._edits if edit.below), "")

    def _spoken(self) -> str:
        parts = [
            piece if isinstance(piece, str) else self._entries.text(piece).replace("____", "blank")
            for piece in self._line.pieces
        ]
        number = f"{self._line.number}. " if self._line.number else ""
        return number + "".join(parts)

    def _flow(self, width: int) -> int:
        """Set words and fields one after another; return the height they take."""
        metrics = self.fontMetrics()
        high = metrics.height() + 4
        base = (high + metrics.ascent() - metrics.descent()) / 2.0
        indent = metrics.horizontalAdvance("00 ") if self._line.number else 0
        self._words = []
        if self._line.number:
            self._words.append(_Placed(str(self._line.number), QPointF(0, base)))
        x, y = float(indent), 0.0
        edits = iter(self._edits)
        glued = False
        for piece in self._line.pieces:
            if isinstance(piece, Field):
                edit = next(edits)
                wide = min(edit.sizeHint().width(), width - indent)
                if x + wide > width and x > indent:
                    x, y = float(indent), y + high + _LINE_GAP_PX
                edit.setGeometry(QRect(int(x), int(y), wide, high))
                x += wide
                glued = True
                continue
            for word in _words(QCoreApplication.translate("Notes", piece)):
                x, y = self._set_word(word, glued, (x, y), (indent, width), (high, base), metrics)
                glued = False
        height = int(y) + high
        fault = self._fault()
        if fault:
            box = metrics.boundingRect(
                QRect(0, 0, width - indent, 4000), int(Qt.TextFlag.TextWordWrap), fault
            )
            self._fault_box = QRect(indent, height, width - indent, box.height() + 2)
            height += box.height() + 4
        return height

    def _set_word(
        self,
        word: str,
        glued: bool,
        at: tuple[float, float],
        between: tuple[int, int],
        line: tuple[int, float],
        metrics: QFontMetrics,
    ) -> tuple[float, float]:
        """Set one word; one that hangs on a field before it stays on its line."""
        (x, y), (indent, width), (high, base) = at, between, line
        bare = word.rstrip(" ")
        wide = metrics.horizontalAdvance(bare)
        if x + wide > width and x > indent and not (glued and not word.startswith(" ")):
            x, y = float(indent), y + high + _LINE_GAP_PX
        if x == indent and word.startswith(" "):
            bare = bare.lstrip(" ")
        if bare:
            self._words.append(_Placed(bare, QPointF(x, y + base)))
        space = word[len(word.rstrip(" ")) :]
        return x + metrics.horizontalAdvance(bare) + metrics.horizontalAdvance(space), y


def _words(text: str) -> list[str]:
    """Return the words of a text, each with the spaces after it; leading spaces stay with the first."""
    found: list[str] = []
    for letter in text:
        if found and not (letter != " " and found[-1].endswith(" ") and found[-1].strip()):
            found[-1] += letter
        else:
            found.append(letter)
    return found
