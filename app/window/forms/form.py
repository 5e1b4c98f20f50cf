"""The frame of every form: a slip of paper on the sheet with a heading, rows, a sentence and its two ends."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.worded import worded
from geometry.units import UnitError

_BESIDE_HINT_PX: Final = 16
"""What an entry keeps at both ends of its hint."""


class Form(QFrame):
    """A slip with a heading; what is to be filled in is added to `rows`."""

    left = Signal()
    """It is done or was called off, and is to be taken away."""

    def __init__(self, heading: str, explained: str, done_words: str, theme: Theme) -> None:
        super().__init__()
        self.setFrameShape(QFrame.Shape.Box)
        self.setAutoFillBackground(True)
        self.setAccessibleName(heading)
        self.setObjectName("form")
        self._theme = theme
        self._heading = QLabel(heading)
        font = self._heading.font()
        font.setBold(True)
        self._heading.setFont(font)
        self._explained = QLabel(explained)
        self._explained.setWordWrap(True)
        self._sentence = QLabel()
        self._sentence.setWordWrap(True)
        self._done = QPushButton(done_words)
        self._done.setDefault(True)
        self._done.clicked.connect(self.finish)
        self._leave = QPushButton(worded("Leave it"))
        self._leave.clicked.connect(self.left)
        ends = QHBoxLayout()
        ends.addStretch(1)
        ends.addWidget(self._leave)
        ends.addWidget(self._done)
        self.rows = QVBoxLayout()
        self.rows.setSpacing(4)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.addWidget(self._heading)
        column.addWidget(self._explained)
        column.addLayout(self.rows)
        column.addWidget(self._sentence)
        column.addLayout(ends)
        self.set_theme(theme)

    @property
    def sentence(self) -> str:
        """Return what stands under the rows."""
        return self._sentence.text()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.setStyleSheet(
            f"QFrame#form {{ background: {theme.ground}; border: 1.5px solid {theme.ink}; }}"
            f"QLineEdit, QComboBox, QSpinBox {{ background: {theme.entry}; color: {theme.ink}; "
            f"border: none; border-bottom: 1px solid {theme.ink}; padding: 2px 4px; }}"
            f"QLineEdit:focus, QComboBox:focus {{ border-bottom: 2px solid {theme.accent}; }}"
            f"QPushButton {{ color: {theme.ink}; background: {theme.plate}; border: 1px solid {theme.ink}; "
            f"padding: 3px 10px; }} QPushButton:focus {{ border: 2px solid {theme.accent}; }}"
        )
        self._explained.setStyleSheet(f"color: {theme.pencil};")

    def say(self, sentence: str, *, bad: bool = False) -> None:
        """Say a sentence under the rows: a result, or why something cannot be."""
        self._sentence.setText(sentence)
        self._sentence.setStyleSheet(f"color: {self._theme.bad if bad else self._theme.remark};")

    def labelled(self, words: str, entry: QWidget, after: str = "") -> None:
        """Add a row: words, what is filled in, and what comes after it."""
        row = QHBoxLayout()
        label = QLabel(words)
        label.setBuddy(entry)
        label.setMinimumWidth(150)
        entry.setAccessibleName(words)
        row.addWidget(label)
        row.addWidget(entry, 1)
        if after:
            row.addWidget(QLabel(after))
        self.rows.addLayout(row)

    def asked(self, words: str, hint: str, then: Callable[[], object] | None = None) -> QLineEdit:
        """Add a row with an entry and a hint of what goes into it; `then` is done at each change of it."""
        entry = QLineEdit()
        entry.setPlaceholderText(hint)
        if then is not None:
            entry.textChanged.connect(lambda _text: then())
        self.labelled(words, entry)
        return entry

    @staticmethod
    def filled(words: str, entry: QLineEdit, advice: str) -> str:
        """Return what was typed; EditRefused, with what to do, where that is nothing."""
        typed = entry.text().strip()
        if not typed:
            raise EditRefused(f"{words} is blank: {advice}")
        return typed

    def tell(self, entries: Iterable[QLineEdit], answer: Callable[[], str]) -> None:
        """Say the answer as soon as every entry is filled in, or why there is none."""
        if not all(entry.text().strip() for entry in entries):
            return
        try:
            self.say(answer())
        except (EditRefused, UnitError) as refused:
            self.say(str(refused), bad=True)

    def make_room(self) -> None:
        """Make every entry as wide as what stands in it while it is blank."""
        for entry in self.findChildren(QLineEdit):
            wide = entry.fontMetrics().horizontalAdvance(entry.placeholderText())
            entry.setMinimumWidth(max(entry.minimumWidth(), wide + _BESIDE_HINT_PX if wide else 0))

    def finish(self) -> None:
        """Do what the form is for, and have it taken away if that worked."""
        if self.is_done():
            self.left.emit()

    def is_done(self) -> bool:
        """Do it; return False, having said why, if it cannot be done."""
        raise TypeError(f"{type(self).__name__} does not say what it is for")

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """End with Enter, leave with Escape."""
        ends: dict[int, Callable[[], object]] = {
            Qt.Key.Key_Escape: self.left.emit,
            Qt.Key.Key_Return: self.finish,
            Qt.Key.Key_Enter: self.finish,
        }
        end = ends.get(event.key())
        if end is None:
            super().keyPressEvent(event)
        else:
            end()
