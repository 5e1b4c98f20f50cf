"""What an empty sheet says: the three ways to begin."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from app.theme import Theme

WAYS: Final = (
    ("outline", "draw an outline"),
    ("stock", "start from a stock shape"),
    ("open", "open a file"),
)


class Invitation(QWidget):
    """Words in the middle of the sheet, each way a link."""

    asked = Signal(str)
    """`outline`, `stock` or `open`."""

    def __init__(self, sheet: QWidget) -> None:
        super().__init__(sheet)
        self._sheet = sheet
        self._title = QLabel(self.tr("No plate yet"), self)
        rows = QVBoxLayout(self)
        rows.setSpacing(8)
        rows.addWidget(self._title, alignment=Qt.AlignmentFlag.AlignHCenter)
        self._links = []
        for name, words in WAYS:
            link = QPushButton(self.tr(words), self)
            link.setObjectName(name)
            link.setFlat(True)
            link.setCursor(Qt.CursorShape.PointingHandCursor)
            link.clicked.connect(lambda _=False, way=name: self.asked.emit(way))
            rows.addWidget(link, alignment=Qt.AlignmentFlag.AlignHCenter)
            self._links.append(link)
        self.hide()

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self.setStyleSheet(
            f"QLabel {{ color: {theme.pencil}; font-size: 17px; }}"
            f" QPushButton {{ color: {theme.ink}; font-size: 15px; border: 1px solid {theme.ground};"
            " text-decoration: underline; padding: 3px 6px; }"
            f" QPushButton:hover {{ color: {theme.accent}; }}"
            f" QPushButton:focus {{ border: 1px solid {theme.accent}; }}"
        )

    def settle(self) -> None:
        """Stand in the middle of the sheet."""
        self.adjustSize()
        sheet = self._sheet
        self.move((sheet.width() - self.width()) // 2, (sheet.height() - self.height()) // 2)
