"""A number typed where it stands on the drawing: bad input stays there with a sentence."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from app.editing.entry import entered
from app.theme import Theme

Take = Callable[[float], str]
"""Takes the number and returns why it was refused, empty if it was taken."""
_LEAST_WIDTH_PX = 76


class NumberEntry(QLineEdit):
    """A small entry over the sheet, with what it is for above and what is wrong below."""

    left = Signal()
    """It was closed; the sheet has the keyboard again."""
    tabbed = Signal(bool)
    """Tab was pressed and the number taken; True for the next one, False for the one before."""

    def __init__(self, sheet: QWidget) -> None:
        super().__init__(sheet)
        self._sheet = sheet
        self._label = QLabel(sheet)
        self._wrong = QLabel(sheet)
        self._wrong.setWordWrap(True)
        self._unit, self._bare = "mm", "mm"
        self._take: Take = lambda _: ""
        self._begun_as = ""
        self._closing = False
        self._middle = QPointF()
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.textChanged.connect(lambda _: self._tell(""))
        self.hide()
        self._label.hide()
        self._wrong.hide()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.setStyleSheet(
            f"QLineEdit {{ background: {theme.entry}; color: {theme.ink}; border: 2px solid {theme.accent};"
            f" padding: 1px 3px; selection-background-color: {theme.accent};"
            f" selection-color: {theme.ground}; }}"
        )
        self._label.setStyleSheet(f"color: {theme.pencil}; background: {theme.ground}; padding: 0 2px;")
        self._wrong.setStyleSheet(f"color: {theme.bad}; background: {theme.ground}; padding: 2px 4px;")

    def ask(
        self,
        at: QPointF,
        label: str,
        text: str,
        take: Take,
        *,
        unit: str = "mm",  # empty for a number of pieces
        bare: str | None = None,
        selected: bool = True,
    ) -> None:
        """Open at a place with a text in it; `selected` lets the first key replace it."""
        self._unit, self._bare, self._take, self._begun_as = unit, bare or unit, take, text
        self._middle = at
        self.setText(text)
        self.setAccessibleName(label)
        self._label.setText(label)
        self._label.adjustSize()
        self._tell("")
        self.resize(
            max(_LEAST_WIDTH_PX, self.fontMetrics().horizontalAdvance(text) + 30), self.sizeHint().height()
        )
        self._place()
        for part in (self, self._label):
            part.show()
            part.raise_()
        self.setFocus(Qt.FocusReason.OtherFocusReason)
        if selected:
            self.selectAll()
        else:
            self._begun_as = ""
            self.end(False)

    @property
    def wrong(self) -> str:
        """Return the sentence about what is typed, empty if there is none."""
        return self._wrong.text() if not self._wrong.isHidden() else ""

    def close_entry(self) -> None:
        """Close without taking anything."""
        if self.isHidden() or self._closing:
            return
        self._closing = True
        if self.hasFocus():
            # Before hiding: the library would hand the keyboard on as if Tab had been pressed.
            self.left.emit()
        for part in (self, self._label, self._wrong):
            part.hide()
        self._closing = False

    def take(self) -> bool:
        """Take what is typed and close; if it cannot be, stay and say why."""
        if self.text().strip() == self._begun_as.strip() and self._begun_as:
            self.close_entry()
            return True
        try:
            value = entered(self.text(), self._unit, bare=self._bare) if self._unit else _count(self.text())
        except ValueError as wrong:
            self._tell(str(wrong))
            return False
        refused = self._take(value)
        if refused:
            self._tell(refused)
            return False
        self.close_entry()
        return True

    def event(self, event: QEvent) -> bool:
        """Take Tab for the next number instead of for the next widget."""
        pressed = event.type() == QEvent.Type.KeyPress
        key = event.key() if pressed and isinstance(event, QKeyEvent) else 0
        if key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
            if self.take():
                self.tabbed.emit(key == Qt.Key.Key_Tab)
            return True
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
                return super().event(event)  # keys of editing stay here; to save is the window's
            event.accept()  # what is typed here is no key of the window
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - the library's name
        """Enter takes the number, Esc leaves it as it was."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.take()
        elif event.key() == Qt.Key.Key_Escape:
            self.close_entry()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - the library's name
        """Take what was typed when the keyboard goes elsewhere; what cannot be taken stays to be mended."""
        super().focusOutEvent(event)
        if not self.isHidden() and not self._closing and event.reason() != Qt.FocusReason.PopupFocusReason:
            self.take()

    def _tell(self, sentence: str) -> None:
        self._wrong.setText(sentence)
        self._wrong.setVisible(bool(sentence))
        if sentence:
            self._wrong.setFixedWidth(min(300, max(160, self._sheet.width() - 16)))
            self._wrong.adjustSize()
            self._place()
            self._wrong.raise_()

    def _place(self) -> None:
        sheet = self._sheet
        width, height = self.width(), self.height()
        top_room = self._label.height() + 2
        x = min(max(4, round(self._middle.x() - width / 2)), max(4, sheet.width() - width - 4))
        y = min(max(4 + top_room, round(self._middle.y() - height / 2)), max(4, sheet.height() - height - 4))
        self.move(x, y)
        self._label.move(min(max(2, x), max(2, sheet.width() - self._label.width() - 2)), y - top_room)
        below = y + height + 2
        if below + self._wrong.height() > sheet.height():
            below = y - top_room - self._wrong.height() - 2
        self._wrong.move(min(max(2, x), max(2, sheet.width() - self._wrong.width() - 2)), below)


def _count(text: str) -> float:
    """Return a number of pieces; ValueError, saying what to type, for anything else."""
    if not text.strip().isdecimal():
        raise ValueError(f"{text.strip()!r} is not a number of pieces: type one such as 4")
    return float(text)
