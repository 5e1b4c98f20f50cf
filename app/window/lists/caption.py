"""Small plain things of the sheet: captions of frames, and words that can be pressed."""

from __future__ import annotations

import html

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget

from app.theme import Theme

SMALL = 0.86
"""Size of captions beside the words they stand over."""


def small(font: QFont, size: float = SMALL) -> QFont:
    """Return a font of the size of captions, or another share of the given one's."""
    made = QFont(font)
    made.setPointSizeF(max(6.0, font.pointSizeF() * size))
    return made


def plain_tip(text: str) -> str:
    """Return a tooltip that shows the text as it is: names in it come from strangers' files."""
    return f"<p style='white-space: pre-wrap'>{html.escape(text)}</p>" if text else ""


def plain_label(words: str = "", *, wrapped: bool = True) -> QLabel:
    """Return words, in as many lines as they take, shown as they are: names in them are strangers'."""
    label = QLabel(words)
    label.setWordWrap(wrapped)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def heading_style(theme: Theme) -> str:
    """Return the style of the sentence a leaf begins with."""
    return f"color: {theme.ink}; font-weight: bold;"


class Caption(QLabel):
    """The small grey words over a frame."""

    def __init__(self, text: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setFont(small(self.font()))
        self.set_theme(theme)
        self.setTextFormat(Qt.TextFormat.PlainText)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(f"color: {theme.pencil}; background: transparent;")


class Lines(QWidget):
    """Words in as many lines as there is room for; the last one tells that there are more."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme, self._text, self._pencil = theme, "", False

    @property
    def text(self) -> str:
        """Return all the words."""
        return self._text

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def say(self, text: str, theme: Theme, *, pencil: bool) -> None:
        """Show other words, in ink or in pencil."""
        self._text, self._theme, self._pencil = text, theme, pencil
        self.setAccessibleName(text)
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for two lines."""
        return QSize(self.fontMetrics().averageCharWidth() * 30, self.fontMetrics().lineSpacing() * 2 + 1)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for one line."""
        return QSize(40, self.fontMetrics().lineSpacing() + 1)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the lines that fit."""
        painter = QPainter(self)
        font = QFont(self.font())
        font.setItalic(self._pencil)
        painter.setFont(font)
        painter.setPen(QColor(self._theme.pencil if self._pencil else self._theme.ink))
        metrics = painter.fontMetrics()
        fit = max(1, self.height() // metrics.lineSpacing())
        lines = _broken(self._text, metrics, self.width(), fit)
        for place, line in enumerate(lines):
            painter.drawText(QPointF(0, metrics.ascent() + place * metrics.lineSpacing()), line)


def _broken(text: str, metrics: QFontMetrics, width: int, most: int) -> list[str]:
    """Return the words in at most that many lines; the last takes all that is left and is cut."""
    lines = [""]
    words = text.split()
    for place, word in enumerate(words):
        longer = f"{lines[-1]} {word}".strip()
        if metrics.horizontalAdvance(longer) <= width or not lines[-1]:
            lines[-1] = longer
        elif len(lines) < most:
            lines.append(word)
        else:
            rest = " ".join([lines[-1], *words[place:]])
            lines[-1] = metrics.elidedText(rest, Qt.TextElideMode.ElideRight, width)
            break
    return lines


class Link(QAbstractButton):
    """Words that can be pressed, underlined; with the keyboard too."""

    def __init__(self, text: str, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._strong = False
        self.setText(text)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.clicked.connect(self.update)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.update()

    def say(self, text: str, told: str = "", *, strong: bool = False) -> None:
        """Show other words, told as `told` to somebody who does not see them; heavier where `strong`."""
        if strong != self._strong:
            self._strong = strong
            font = QFont(self.font())
            font.setBold(strong)
            self.setFont(font)
        self.setText(text)
        self.setAccessibleName(told or text)
        self.updateGeometry()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the words."""
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self.text()) + 6, metrics.height() + 3)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the words over their rule, in a frame while they have the focus."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = self.fontMetrics()
        text = metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width() - 4)
        base = (self.height() + metrics.ascent() - metrics.descent()) / 2.0
        painter.setPen(QColor(self._theme.ink if self.isEnabled() else self._theme.pencil))
        painter.drawText(QPointF(3, base), text)
        if self.isEnabled():
            painter.setPen(QPen(QColor(self._theme.accent), 1.0))
            painter.drawLine(QPointF(3, base + 2.5), QPointF(3 + metrics.horizontalAdvance(text), base + 2.5))
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._theme.accent), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))


def thin_bar(theme: Theme) -> str:
    """Return the style of a scroll bar that takes no more room than it needs."""
    return f"""
    QScrollBar:vertical {{ background: transparent; width: 9px; margin: 0; border: none; }}
    QScrollBar::handle:vertical {{ background: {theme.faint}; min-height: 18px; margin: 1px 2px; }}
    QScrollBar::handle:vertical:hover {{ background: {theme.pencil}; }}
    QScrollBar::add-line:vertical, QScrollBar::sub-line:vertical {{ height: 0; }}
    QScrollBar::add-page:vertical, QScrollBar::sub-page:vertical {{ background: transparent; }}
    QScrollBar:horizontal {{ background: transparent; height: 9px; margin: 0; border: none; }}
    QScrollBar::handle:horizontal {{ background: {theme.faint}; min-width: 18px; margin: 2px 1px; }}
    QScrollBar::handle:horizontal:hover {{ background: {theme.pencil}; }}
    QScrollBar::add-line:horizontal, QScrollBar::sub-line:horizontal {{ width: 0; }}
    QScrollBar::add-page:horizontal, QScrollBar::sub-page:horizontal {{ background: transparent; }}
    """
