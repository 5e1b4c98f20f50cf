"""The first cell of a row of the parts list: the balloons of the drawing, or the item's letter."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from app.theme import Theme
from app.window.lists.caption import plain_tip
from app.window.lists.rows import Row


class ItemMark(QAbstractButton):
    """Selects the row; Enter opens a row of several, or closes it."""

    reached = Signal()
    stepped = Signal(int)
    toggled_open = Signal()

    def __init__(self, row: Row, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._row, self._theme = row, theme
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_row(self, row: Row, spoken: str) -> None:
        """Show another row; `spoken` is the whole row in words."""
        self._row = row
        self.setAccessibleName(spoken)
        tip = spoken
        if row.opened is not None:
            word = (
                self.tr("Enter closes the row")
                if row.opened
                else self.tr("Enter shows each in a row of its own")
            )
            self.setAccessibleDescription(word)
            tip = f"{spoken}. {word}"
        self.setToolTip(plain_tip(tip))
        self.updateGeometry()
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the item's balloon."""
        metrics = self.fontMetrics()
        indent = metrics.averageCharWidth() * 2 if self._row.member else 0
        return QSize(
            metrics.horizontalAdvance(self._row.item) + metrics.height() + indent, metrics.height() + 4
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Enter, Left and Right open and close; Up and Down change rows."""
        key = event.key()
        several = self._row.opened is not None
        turns = Qt.Key.Key_Left if self._row.opened else Qt.Key.Key_Right
        if several and key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, turns):
            self.toggled_open.emit()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.stepped.emit(-1 if key == Qt.Key.Key_Up else 1)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Tell that the row was reached."""
        super().focusInEvent(event)
        self.reached.emit()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw a balloon round the number of a bolt, and plain letters for everything else."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = self.fontMetrics()
        text = self._row.item
        indent = metrics.averageCharWidth() * 2 if self._row.member else 0
        wide = metrics.horizontalAdvance(text)
        high = metrics.height() + 1.0
        box = QRectF(
            indent + 1.5,
            (self.height() - high) / 2.0,
            max(wide + metrics.averageCharWidth() * 1.6, high),
            high,
        )
        painter.setPen(QPen(QColor(self._theme.ink), 1.1))
        if self._row.balloon:
            painter.drawRoundedRect(box, high / 2.0, high / 2.0)
            painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), text)
        else:
            base = (self.height() + metrics.ascent() - metrics.descent()) / 2.0
            painter.drawText(QPointF(indent + 4, base), text)
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._theme.accent), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
