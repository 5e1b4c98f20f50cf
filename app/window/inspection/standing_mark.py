"""How the record stands as a framed word: its shape says it too, and it is no verdict."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.record.open_items import StandingWord
from app.theme import Theme

_WORDS: dict[StandingWord, str] = {
    "accepted": "ACCEPTED",
    "accepted with conditions": "ACCEPTED, CONDITIONS",
    "refused": "REFUSED",
    "asked": "ASKED",
    "open": "OPEN",
}


class StandingMark(QWidget):
    """A label with a string hole, as it hangs on a part: filled in only once it is accepted."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._word: StandingWord = "open"
        self.show_word("open")

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def show_word(self, word: StandingWord) -> None:
        """Show how the record stands."""
        self._word = word
        self.setAccessibleName(self.tr("Record: {0}").replace("{0}", word))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the word."""
        metrics = QFontMetricsF(self._font())
        return QSize(int(metrics.horizontalAdvance(_WORDS[self._word])) + 54, int(metrics.height()) + 18)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the same room: the word is never cut."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the label: whole line if accepted, dashed while open, struck if refused."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look, room = self._theme, QRectF(self.rect()).adjusted(3, 3, -3, -3)
        accepted = self._word.startswith("accepted")
        pen = QPen(QColor(look.ink), 2.0 if accepted else 1.4)
        if self._word in ("open", "asked"):
            pen.setDashPattern([5.0, 3.0])
        painter.setPen(pen)
        painter.drawRoundedRect(room, 9, 9)
        painter.setPen(QPen(QColor(look.ink), 1.2))
        hole = QPointF(room.left() + 15, room.center().y())
        painter.drawEllipse(hole, 5, 5)
        painter.setFont(self._font())
        words = room.adjusted(26, 0, -6, 0)
        painter.drawText(words, int(Qt.AlignmentFlag.AlignCenter), _WORDS[self._word])
        if self._word == "refused":
            half = QFontMetricsF(self._font()).horizontalAdvance(_WORDS["refused"]) / 2.0
            y = words.center().y()
            painter.setPen(QPen(QColor(look.ink), 1.6))
            painter.drawLine(QPointF(words.center().x() - half, y), QPointF(words.center().x() + half, y))

    def _font(self) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(font.pointSizeF() * (1.05 if self._word == "accepted with conditions" else 1.4))
        font.setBold(True)
        return font
