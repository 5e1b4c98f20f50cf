"""A drawn picture on a page, as large as the room lets it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QWidget


class PictureOfIt(QWidget):
    """Shows a picture as large as the room lets it."""

    def __init__(self) -> None:
        super().__init__()
        self.picture = QPixmap()
        self.setMinimumSize(160, 100)

    def show_png(self, png: bytes) -> None:
        """Show a PNG; empty for none."""
        self.picture = QPixmap()
        if png:
            self.picture.loadFromData(png)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room to read it."""
        return QSize(640, 400)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw it at the top, under what is said of it."""
        if self.picture.isNull():
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        size = self.picture.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        painter.drawPixmap(
            (self.width() - size.width()) // 2,
            0,
            size.width(),
            size.height(),
            self.picture,
        )
