"""The sentence of a flag note, with a mend where one is certain."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.worded import worded

_WIDTH_PX = 300


class FindingNote(QFrame):
    """Opens at a flag; Esc or a click elsewhere closes it."""

    def __init__(self, sheet: QWidget, view: QWidget) -> None:
        """Lie over the `sheet`; `view` is what gets the keyboard back."""
        super().__init__(sheet)
        self._sheet, self._view = sheet, view
        self.setFrameShape(QFrame.Shape.Box)
        self._sentence = QLabel(self)
        self._sentence.setWordWrap(True)
        self._sentence.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._mend = QPushButton(self)
        self._mend.setObjectName("mend")
        self._mend.setFlat(True)
        self._mend.setCursor(Qt.CursorShape.PointingHandCursor)
        self._mend.clicked.connect(self._do_mend)
        self._apply: Callable[[], None] | None = None
        rows = QVBoxLayout(self)
        rows.setContentsMargins(10, 8, 10, 8)
        rows.addWidget(self._sentence)
        rows.addWidget(self._mend, alignment=Qt.AlignmentFlag.AlignLeft)
        self.hide()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.setStyleSheet(
            f"FindingNote {{ background: {theme.ground}; border: 1px solid {theme.ink}; }}"
            f" QLabel {{ color: {theme.ink}; border: none; }}"
            f" QPushButton {{ color: {theme.accent}; border: 1px solid {theme.ground};"
            " text-decoration: underline; text-align: left; padding: 2px 4px; }"
            f" QPushButton:focus {{ border: 1px solid {theme.accent}; }}"
        )

    def open_at(self, flag: QRectF, number: int, sentence: str, mend: str, apply: Callable[[], None]) -> None:
        """Say a finding beside its flag; an empty `mend` offers none."""
        self._sentence.setText(f"{number}  {sentence}")
        self._mend.setText(worded("mend: {mend}", mend=mend))
        self._sentence.setFixedWidth(max(_WIDTH_PX, self._mend.sizeHint().width() if mend else 0))
        self._mend.setVisible(bool(mend))
        self._apply = apply
        self.setAccessibleName(worded("finding {number}: {sentence}", number=number, sentence=sentence))
        self.adjustSize()
        sheet = self._sheet
        x = flag.right() + 6
        if x + self.width() > sheet.width():
            x = max(4.0, flag.left() - 6 - self.width())
        y = min(max(4.0, flag.top() - 4), max(4.0, sheet.height() - self.height() - 4.0))
        self.move(round(x), round(y))
        self.show()
        self.raise_()
        (self._mend if mend else self).setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - the library's name
        """Esc closes."""
        if event.key() == Qt.Key.Key_Escape:
            self.close_note()
        else:
            super().keyPressEvent(event)

    def close_note(self) -> None:
        """Close, and give the sheet the keyboard back."""
        if not self.isHidden():
            self._view.setFocus(Qt.FocusReason.OtherFocusReason)
            self.hide()

    def _do_mend(self) -> None:
        apply = self._apply
        self.close_note()
        if apply is not None:
            apply()
