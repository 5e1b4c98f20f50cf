"""What every leaf of the record has in common: plain words, their captions and their entries."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from app.theme import Theme
from app.window.lists.caption import small


def leaf_style(theme: Theme) -> str:
    """Return how entries, lists and buttons of a leaf look."""
    return (
        f"QLineEdit, QPlainTextEdit {{ background: {theme.entry}; color: {theme.ink}; border: none;"
        f" border-bottom: 1px solid {theme.ink}; padding: 2px 4px; }}"
        f"QLineEdit:focus, QPlainTextEdit:focus {{ border: 2px solid {theme.accent}; padding: 1px 3px; }}"
        f"QListWidget {{ background: {theme.ground}; color: {theme.ink}; border: 1px solid {theme.ink};"
        " outline: none; }"
        f"QListWidget:focus {{ border: 2px solid {theme.accent}; }}"
        f"QListWidget::item:selected {{ background: {theme.plate_back}; color: {theme.ink}; }}"
        f"QPushButton {{ color: {theme.ink}; background: {theme.plate}; border: 1px solid {theme.ink};"
        " padding: 3px 10px; }"
        f"QPushButton:focus {{ border: 2px solid {theme.accent}; padding: 2px 9px; }}"
        f"QRadioButton {{ color: {theme.ink}; padding: 2px; }}"
        f"QRadioButton::indicator {{ width: 11px; height: 11px; border: 1px solid {theme.ink};"
        " border-radius: 6px; }"
        f"QRadioButton::indicator:checked {{ background: {theme.ink}; }}"
        f"QRadioButton:focus {{ background: {theme.plate_back}; }}"
        f"QScrollArea, QScrollArea > QWidget > QWidget {{ background: {theme.ground}; border: none; }}"
    )


class LeafCaption(QLabel):
    """The small grey words over an entry of a leaf."""

    def __init__(self, text: str, theme: Theme) -> None:
        super().__init__(text)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setFont(small(self.font(), 0.92))
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(f"color: {theme.pencil}; background: transparent;")


class Entry(QLineEdit):
    """One line that is typed; `done` is called with its words once they were changed and left."""

    def __init__(self, told: str, done: Callable[[str], bool], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._done = done
        self._stands = ""
        self.setAccessibleName(told)
        self.editingFinished.connect(self._finish)

    def stand(self, text: str) -> None:
        """Show what stands in the record, unless something is being typed."""
        self._stands = text
        if not (self.hasFocus() and self.isModified()):
            self._put(text)

    def _put(self, text: str) -> None:
        self.setText(text)
        self.setCursorPosition(0)  # the sign of what is too long to be seen whole counts most

    def _finish(self) -> None:
        typed = self.text().strip()
        self.setModified(False)
        if typed != self._stands and not self._done(typed):
            self._put(self._stands)
        else:
            self.setCursorPosition(0)
