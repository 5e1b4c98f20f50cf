"""One layout beside others: its stamp, what it holds to, and the bracket as mounted."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from app.compare.judged import Judged
from app.theme import Theme
from app.window.beside.together import TogetherView
from app.window.lists.caption import Lines, Link, plain_tip
from app.window.lists.stamp import Stamp, StampState
from app.window.mounted_painting import Painting
from app.window.worded import worded
from app.wording.figures import Units
from app.wording.verdict_words import verdict_words
from geometry.bracket import Bracket
from solver.results import Results

_WORDS_LINES: Final = 2


class Pane(QWidget):
    """Shows one layout; it may be taken away, unless it is the one on the sheet."""

    away = Signal()

    def __init__(self, theme: Theme, painting: Painting, *, may_go: bool) -> None:
        super().__init__()
        self._theme = theme
        self._shown: tuple[Bracket | None, Results | None, bool] = (None, None, False)
        self.view = TogetherView(painting=painting)
        self.stamp = Stamp(theme)
        self._name = QLabel()
        self._name.setTextFormat(Qt.TextFormat.PlainText)
        self._name.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        bold = QFont(self.font())
        bold.setBold(True)
        self._name.setFont(bold)
        self._words = Lines(theme)
        self._units: Units = "mm"
        self._words.setFixedHeight(_WORDS_LINES * self.fontMetrics().lineSpacing() + 2)
        self.go = Link("take away", theme)
        stays = self.go.sizePolicy()
        stays.setRetainSizeWhenHidden(True)
        self.go.setSizePolicy(stays)
        self.go.setVisible(may_go)
        self.go.clicked.connect(self.away)
        beside = QVBoxLayout()
        beside.setSpacing(0)
        beside.addWidget(self._name)
        beside.addWidget(self.go, 0, Qt.AlignmentFlag.AlignLeft)
        head = QHBoxLayout()
        head.setSpacing(10)
        head.addWidget(self.stamp)
        head.addLayout(beside, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addLayout(head)
        column.addWidget(self._words)
        column.addWidget(self.view, 1)
        self.set_theme(theme)

    def set_big(self, times: float) -> None:
        """Write everything so many times as large."""
        for part in (self._name, self.stamp, self._words, self.go):
            font = QFont(part.font())
            font.setPointSizeF(self.font().pointSizeF() * times)
            part.setFont(font)
            part.updateGeometry()
        self._words.setFixedHeight(_WORDS_LINES * self._words.fontMetrics().lineSpacing() + 2)
        self.view.set_scale(times)

    def set_units(self, units: Units) -> None:
        """Tell figures in these units from the next time that something is shown."""
        self._units = units
        self.view.set_inch(units == "inch")

    def show_layout(self, judged: Judged, doing: str = "") -> None:
        """Show the layout with what is known of it; `doing` is what the analysis does meanwhile."""
        name = judged.name
        self._name.setText(name)
        self._name.setToolTip(plain_tip(name))
        self.go.setAccessibleName(worded("Take {name} away", name=name))
        self.view.setAccessibleName(worded("{name} as mounted", name=name))
        self.stamp.show_verdict(judged.verdict, _state(judged))
        self.show_doing(judged, doing)
        bracket, results, pencil = self._shown
        if bracket is not judged.layout.bracket and bracket != judged.layout.bracket:
            self.view.set_bracket(judged.layout.bracket)
        if results is not judged.results or pencil != judged.pencil:
            self.view.set_results(judged.results, judged.pencil)
        self._shown = (judged.layout.bracket, judged.results, judged.pencil)

    def show_doing(self, judged: Judged, doing: str) -> None:
        """Show in words what is known, and what the analysis does meanwhile."""
        self._words.say(
            _words(judged, doing, self._units), self._theme, pencil=judged.results is None or judged.pencil
        )

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for part in (self.view, self.stamp, self.go, self._words):
            part.set_theme(theme)
        self._name.setStyleSheet(f"color: {theme.ink}")


def _state(judged: Judged) -> StampState:
    if judged.results is None:
        return "none"
    return "pencil" if judged.pencil else "ink"


def _words(judged: Judged, doing: str, units: Units) -> str:
    if judged.results is None:
        return judged.trouble or doing or "waits to be judged"
    words = verdict_words(judged.results, units, pencil=judged.pencil)
    if not judged.pencil and judged.verdict == "no verdict":
        return f"no verdict: {judged.why_no_verdict}"
    return f"{words}; {doing}" if doing and judged.pencil else words
