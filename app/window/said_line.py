"""The one line of the sheet on which sentences appear: refusals, troubles with files, what was done."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from app.theme import Theme
from app.window.worded import worded


class SaidLine(QLabel):
    """Shows a sentence until the next one; what does not fit is in its tip."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sentence, self._trouble, self._theme = "", False, theme
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(worded("What was said last"))
        self.set_theme(theme)

    @property
    def sentence(self) -> str:
        """Return the sentence that stands."""
        return self._sentence

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.setStyleSheet(f"color: {theme.bad if self._trouble else theme.ink};")

    @property
    def is_trouble(self) -> bool:
        """Return whether what stands there is told as a trouble."""
        return self._trouble

    def note(self, sentence: str) -> None:
        """Show a sentence that is no trouble until the next one."""
        self.say(sentence, trouble=False)

    def say(self, sentence: str, *, trouble: bool = True) -> None:
        """Show a sentence until the next one; an empty one takes it away."""
        self._sentence = sentence
        if trouble != self._trouble:
            self._trouble = trouble
            self.set_theme(self._theme)
        self.setAccessibleDescription(sentence)
        self.setToolTip(sentence)
        self._fit()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the height of one line."""
        return QSize(200, self.fontMetrics().height() + 2)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Cut the sentence anew."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        cut = self.fontMetrics().elidedText(self._sentence, Qt.TextElideMode.ElideRight, self.width() - 4)
        self.setText(cut)
