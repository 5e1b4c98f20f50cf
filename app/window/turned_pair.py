"""The open bracket beside its turned plate: judged in the background, shown at one scale."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.compare.judged import Judged
from app.compare.layout import Layout
from app.lesson.turned import Turned, turned_of
from app.theme import Theme
from app.window.beside.beside_judge import BesideJudge
from app.window.beside.pane import Pane
from app.window.beside.together import Together
from app.window.mounted_painting import Painting
from geometry.bracket import Bracket
from solver.results import Results

_CLOSER: Final = 1.35
_WAIT_MS: Final = 700
"""Somebody who only turns past the question needs nothing judged."""


class TurnedFlow(QObject):
    """Makes the turned bracket at once and has it judged when it is asked about."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.turned = Turned(None)
        self.doing = ""
        """What the analysis does now; empty for nothing."""
        self._of = ""
        self._judge: BesideJudge | None = None
        self._wait = QTimer(self, singleShot=True, interval=_WAIT_MS)
        self._wait.timeout.connect(self._judge_now)

    def take(self, bracket: Bracket) -> None:
        """Take up a bracket; what was turned of another is forgotten."""
        key = bracket.input_hash()
        if key != self._of:
            self._of, self.doing = key, ""
            self.turned = turned_of(bracket) if bracket.plates else Turned(None)

    def of(self, bracket: Bracket) -> Turned | None:
        """Return what was turned of this bracket; None if another was turned last."""
        return self.turned if bracket.input_hash() == self._of else None

    def want(self) -> None:
        """Have it judged, if it is not yet."""
        if self.turned.bracket is not None and self.turned.results is None and not self.turned.trouble:
            self._wait.start()

    def want_no_more(self) -> None:
        """Judge nothing that is not being judged yet."""
        self._wait.stop()

    def leave(self) -> None:
        """End the process."""
        self._wait.stop()
        if self._judge is not None:
            self._judge.stop()

    def _judge_now(self) -> None:
        if self.turned.bracket is None:
            return
        if self._judge is None:
            self._judge = BesideJudge(self)
            self._judge.judged.connect(self._judged)
            self._judge.failed.connect(self._failed)
            self._judge.progressed.connect(self._progressed)
        self._judge.want([self.turned.bracket])

    def _is_ours(self, key: str) -> bool:
        return self.turned.bracket is not None and key == self.turned.bracket.input_hash()

    def _judged(self, results: Results, pencil: bool) -> None:
        if not pencil and self._is_ours(results.hash):
            self.turned, self.doing = Turned(self.turned.bracket, "", results), ""
            self.changed.emit()

    def _failed(self, key: str, words: str) -> None:
        if self._is_ours(key):
            self.turned, self.doing = Turned(self.turned.bracket, words), ""
            self.changed.emit()

    def _progressed(self, key: str, words: str, share: float) -> None:
        if self._is_ours(key):
            self.doing = f"{words}, {share:.0%}"


class TurnedPair(QWidget):
    """Two panes that move together: one camera, one stress scale, one exaggeration."""

    def __init__(self, theme: Theme, painting: Painting) -> None:
        super().__init__()
        self.together = Together(self, _CLOSER)
        self.panes = [Pane(theme, painting, may_go=False) for _ in range(2)]
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for pane in self.panes:
            row.addWidget(pane, 1)
        self.together.take([pane.view for pane in self.panes])

    def show_pair(self, bracket: Bracket, own: Results, turned: Turned) -> None:
        """Show both, swinging under the couple."""
        if turned.bracket is None:
            return
        self.panes[0].show_layout(Judged(Layout("square to the shaft", bracket), own))
        self.panes[1].show_layout(Judged(Layout("along the shaft", turned.bracket), turned.results))
        self.together.settle()
        number = next((k for k, case in enumerate(own.cases) if case.name == "couple +"), None)
        self.together.show_case(number)
        self.together.fit()
        self.together.play(on=True)

    def rest(self) -> None:
        """Stop moving."""
        self.together.play(on=False)

    def set_big(self, times: float) -> None:
        """Write everything so many times as large."""
        for pane in self.panes:
            pane.set_big(times)
        self.together.fit()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        for pane in self.panes:
            pane.set_theme(theme)
