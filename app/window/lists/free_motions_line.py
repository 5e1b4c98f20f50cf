"""The free motions in words, each with what drives it; pressing one lets it be seen."""

from __future__ import annotations

import html

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLabel, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.lists.caption import plain_tip
from app.window.lists.standing import State
from app.wording.figures import Units, sentence_in_units
from app.wording.turn_words import turn_words
from solver.results import FreeMotion, QuickAnswer, Results

_MOST_DRIVERS = 2
_MOST_PARTS = 3
"""Of what the turn comes from; the reading panel tells all."""


class FreeMotionsLine(QLabel):
    """A sentence for every movement that nothing resists."""

    motion_picked = Signal(object)
    """The FreeMotion that is to be shown."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._motions: tuple[FreeMotion, ...] = ()
        self._state: State = "none"
        self._newest: tuple[Results | None, State] = (None, "none")
        self._solved = False
        self._turn = ""
        self._units: Units = "mm"
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.RichText)
        self.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.linkActivated.connect(lambda link: self.motion_picked.emit(self._motions[int(link)]))
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self._show()

    def set_inch(self, inch: bool) -> None:
        """Show inch figures beside the metric ones."""
        self._units = "inch" if inch else "mm"
        self._show()

    def set_results(self, results: Results | None, state: State) -> None:
        """Show the free motions of results; `state` is pencil, ink, out of date or none."""
        self._newest = (results, state)
        self._motions = () if results is None or state == "none" else results.free_motions
        self._solved = results is not None and bool(results.cases or results.free_motions)
        self._turn = "" if results is None or state == "none" else turn_words(results, most=_MOST_PARTS)
        self._state = state
        self._show()

    def set_quick(self, answer: QuickAnswer | None) -> None:
        """Show the free motions of a quick answer, in pencil; None goes back to the results."""
        if answer is None:
            self.set_results(*self._newest)
            return
        self._motions, self._solved, self._state = answer.free_motions, True, "pencil"
        self._turn = ""
        self._show()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for two lines."""
        return QSize(self.fontMetrics().averageCharWidth() * 80, self.fontMetrics().height() * 2 + 4)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write the sentences, in a frame while they have the focus."""
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            painter.setPen(QPen(QColor(self._theme.accent), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _show(self) -> None:
        told = [self._sentence(motion) for motion in self._motions]
        if not told and self._solved:
            told = [
                self.tr(
                    "No free motion: with every connection slipped, nothing moves unless something bends."
                )
            ]
        turn = self.tr("Of the turn: {0}.").replace("{0}", self._turn) if self._turn else ""
        plain = " ".join([*told, turn]).strip()
        look = self._theme.ink if self._state == "ink" else self._theme.pencil
        links = [
            f"<a href='{place}' style='color: {look};'>{html.escape(sentence)}</a>"
            if self._motions
            else sentence
            for place, sentence in enumerate(told)
        ]
        body = " ".join(links)
        if self._motions:
            body = self.tr("Free motion: ") + body
        if turn:
            body += f" {turn}"
        if self._state == "out of date" and told:
            body = self.tr("As it was: ") + body
        self.setStyleSheet(f"color: {look};" + ("" if self._state == "ink" else " font-style: italic;"))
        self.setText(body)
        self.setAccessibleName(plain or self.tr("Free motions are not known yet"))
        self.setToolTip(
            plain_tip(
                "\n".join(
                    f"{m.words}: "
                    + (
                        self.tr("driven by ") + ", ".join(m.driven_by)
                        if m.driven_by
                        else self.tr("no load case drives it")
                    )
                    for m in self._motions
                )
            )
        )

    def _sentence(self, motion: FreeMotion) -> str:
        words = sentence_in_units(motion.words.rstrip("."), self._units)
        if not motion.driven_by:
            driven = self.tr("no load case drives it")
        else:
            driven = self.tr("driven by ") + ", ".join(motion.driven_by[:_MOST_DRIVERS])
            more = len(motion.driven_by) - _MOST_DRIVERS
            if more > 0:
                driven += self.tr(" and {0} more").replace("{0}", str(more))
        return f"{words}; {driven}."
