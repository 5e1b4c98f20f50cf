"""A thin bar with words: what is being worked on, and how to stop it or start it again."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.theme import Theme
from app.window.lists.caption import Link, small

_BAR_PX = 3


class ProgressLine(QWidget):
    """Takes no room in mind: words, a bar, one word to press."""

    stop_asked = Signal()
    start_asked = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._words = ""
        self._share: float | None = None
        self._out_of_date = False
        self.setFont(small(self.font()))
        self.act = Link("", theme)
        self.act.clicked.connect(self._press)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, _BAR_PX + 1)
        line.addStretch(1)
        line.addWidget(self.act)
        self._tell()

    @property
    def working(self) -> bool:
        """Return whether something is being worked on."""
        return self._share is not None

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.act.set_theme(theme)
        self.update()

    def show_progress(self, words: str, share: float | None) -> None:
        """Show what is done and how far; None as the share ends it."""
        self._words, self._share = words, share
        self._tell()

    def set_out_of_date(self, out_of_date: bool) -> None:
        """Offer to judge again while what stands there is out of date."""
        self._out_of_date = out_of_date
        self._tell()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for a line of small words over the bar."""
        return QSize(160, self.fontMetrics().height() + _BAR_PX + 5)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same height, so that nothing jumps when work begins."""
        return QSize(60, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the words and the bar."""
        if self._share is None and not self._words:
            return
        painter = QPainter(self)
        metrics = self.fontMetrics()
        room = self.width() - self.act.width() - 8
        painter.setPen(QColor(self._theme.pencil))
        text = metrics.elidedText(self._words, Qt.TextElideMode.ElideRight, room)
        painter.drawText(QPointF(0, metrics.ascent() + 1), text)
        if self._share is None:
            return
        y = self.height() - _BAR_PX + 0.5
        painter.setPen(QPen(QColor(self._theme.faint), 1))
        painter.drawLine(QPointF(0, y), QPointF(self.width(), y))
        done = QRectF(0, y - 1, self.width() * min(max(self._share, 0.0), 1.0), _BAR_PX)
        painter.fillRect(done, QColor(self._theme.pencil))

    def _press(self) -> None:
        (self.stop_asked if self.working else self.start_asked).emit()

    def _tell(self) -> None:
        self.act.setVisible(self.working or self._out_of_date)
        self.act.say(self.tr("stop") if self.working else self.tr("judge now"))
        told = self._words
        if self._share is not None:
            told = f"{told}, {self._share:.0%}".replace("%", " %")
        self.setAccessibleName(told)
        self.update()
