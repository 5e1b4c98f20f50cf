"""A sheet of words laid over the drawing, to be read and put away: no dialog, nothing waits for it."""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence

from PySide6.QtCore import QEvent, QObject, QRectF, Qt, QUrl, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QTextBrowser, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.lists.caption import Link, thin_bar

_SHARE = 0.86
"""Of the window that the panel covers."""


class ReadingPanel(QFrame):
    """Words over the window; Esc or `close` puts them away and gives the focus back."""

    link_pressed = Signal(str)
    closed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._before: QWidget | None = None
        self._title = QLabel()
        self._title.setTextFormat(Qt.TextFormat.PlainText)
        self._title.setWordWrap(True)
        self._close = Link(self.tr("close"), theme)
        self._close.clicked.connect(self.put_away)
        self._text = QTextBrowser()
        self._text.setOpenLinks(False)
        self._text.setFrameShape(QFrame.Shape.NoFrame)
        self._text.anchorClicked.connect(self._press)
        head = QHBoxLayout()
        head.addWidget(self._title, 1)
        head.addWidget(self._close)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(14, 10, 10, 10)
        whole.addLayout(head)
        whole.addWidget(self._text, 1)
        self.setAutoFillBackground(True)
        self.hide()
        self.set_theme(theme)

    @property
    def text(self) -> str:
        """Return what can be read there, without its layout."""
        return self._text.toPlainText()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        palette = QPalette(self.palette())
        for role in (QPalette.ColorRole.Window, QPalette.ColorRole.Base):
            palette.setColor(role, QColor(theme.ground))
        palette.setColor(QPalette.ColorRole.Text, QColor(theme.ink))
        palette.setColor(QPalette.ColorRole.Link, QColor(theme.ink))
        self.setPalette(palette)
        for text in (self._text, self._text.viewport()):
            text.setPalette(palette)
        self._text.verticalScrollBar().setStyleSheet(thin_bar(theme))
        self._title.setStyleSheet(f"color: {theme.ink}; font-weight: bold;")
        self._close.set_theme(theme)

    def lay_over(self, window: QWidget, title: str, body: str) -> None:
        """Lay words over a window: a title, and a body in rich text."""
        self._before = window.focusWidget()
        self.setParent(window)
        window.installEventFilter(self)
        self._write(title, body)
        self._fit(window)
        self.show()
        # with its parent the style puts back the colours from before a change of theme
        self.set_theme(self._theme)
        self.raise_()
        self._text.setFocus(Qt.FocusReason.OtherFocusReason)

    def rewrite(self, title: str, body: str) -> None:
        """Put other words into a panel that lies there, where it was read; one put away stays so."""
        if self.isHidden():
            return
        bar = self._text.verticalScrollBar()
        place = bar.value()
        self._write(title, body)
        bar.setValue(place)

    def put_away(self) -> None:
        """Take the panel away and give the focus back."""
        if self.isHidden():
            return
        self.hide()
        if self._before is not None:
            self._before.setFocus(Qt.FocusReason.OtherFocusReason)
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Esc puts it away."""
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Keep its place when the window changes its size."""
        if event.type() == QEvent.Type.Resize and isinstance(watched, QWidget) and not self.isHidden():
            self._fit(watched)
        return False

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the edge of the sheet."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setPen(QPen(QColor(self._theme.ink), 2))
        painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _fit(self, window: QWidget) -> None:
        wide, high = int(window.width() * _SHARE), int(window.height() * _SHARE)
        self.setGeometry((window.width() - wide) // 2, (window.height() - high) // 2, wide, high)

    def _write(self, title: str, body: str) -> None:
        self._title.setText(title)
        self.setAccessibleName(title)
        self._text.setHtml(body)
        self._text.setAccessibleName(title)

    def _press(self, url: QUrl) -> None:
        self.link_pressed.emit(url.toString())


def sections(parts: Iterable[tuple[str, Sequence[str]]]) -> str:
    """Return headings with their sentences as rich text; what has no sentence is left out."""
    body = []
    for heading, sentences in parts:
        if sentences:
            listed = "".join(f"<li>{html.escape(sentence)}</li>" for sentence in sentences)
            body.append(f"<h4>{html.escape(heading)}</h4><ul>{listed}</ul>")
    return "".join(body)
