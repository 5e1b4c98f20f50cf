"""Lines of a list one below the other, scrolled up and down, and the frame round such a list."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPalette, QPen
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.lists.caption import thin_bar


class Scrolled(QScrollArea):
    """Holds lines from the top down; what is left of its height stays empty."""

    def __init__(self) -> None:
        super().__init__()
        self._body = QWidget()
        self.column = QVBoxLayout(self._body)
        """What the lines are put into, before the stretch at its end."""
        self.column.addStretch(1)
        self.setWidget(self._body)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def set_least_width(self, wide_px: int) -> None:
        """Keep the lines at least so wide, scrolled to the side where less is seen; 0 for never."""
        self._body.setMinimumWidth(wide_px)
        never, needed = Qt.ScrollBarPolicy.ScrollBarAlwaysOff, Qt.ScrollBarPolicy.ScrollBarAsNeeded
        self.setHorizontalScrollBarPolicy(needed if wide_px else never)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        for widget in (self._body, self.viewport()):
            palette = QPalette(widget.palette())
            for role in (QPalette.ColorRole.Window, QPalette.ColorRole.Base):
                palette.setColor(role, QColor(theme.ground))
            widget.setPalette(palette)
            widget.setAutoFillBackground(True)
        for bar in (self.verticalScrollBar(), self.horizontalScrollBar()):
            bar.setStyleSheet(thin_bar(theme))


def draw_frame(widget: QWidget, theme: Theme) -> None:
    """Draw the ground and the frame of a list, as its paint event."""
    painter = QPainter(widget)
    painter.fillRect(widget.rect(), QColor(theme.ground))
    painter.setPen(QPen(QColor(theme.ink), 1.2))
    painter.drawRect(QRectF(widget.rect()).adjusted(0.6, 0.6, -0.6, -0.6))
