"""The right side of the lesson's board: the question with its choices, the couple, bolts and friction."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import QEvent, QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSlider, QVBoxLayout, QWidget

from app.lesson.figures import CoupleFigures
from app.lesson.step import Step
from app.theme import Theme
from app.window.lists.caption import Link, plain_label
from app.window.worded import worded
from app.wording.figures import Units, figure, sentence_in_units
from solver.results import QuickAnswer

_QUESTION_PX: Final = 20
_WORDS_PX: Final = 15
_SMALL_PX: Final = 13
_SMALLER: Final = (1.0, 0.9, 0.8, 0.7)
"""Where the room is small."""
_LARGER: Final = (1.5, 1.4, 1.3, 1.2, 1.1)
"""Where a projector's picture has room left: it is read from the last row."""
_BOLTS_A_ROW: Final = 2
_MOST_CHOICES: Final = 4


class LessonSide(QWidget):
    """Words and one slider; it decides nothing."""

    predicted = Signal(int)
    reveal_wanted = Signal()
    turned = Signal(int)
    couple_slid = Signal(float)
    bolt_worked = Signal(str)
    friction_turned = Signal()
    linkage_turned = Signal()
    next_stand_wanted = Signal()
    next_motion_wanted = Signal()
    full_screen_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme, self._times, self._smaller = theme, 1.0, 1.0
        self._units: Units = "mm"
        self._fitted: object = None
        """What was written, and in what room, when the size of the words was chosen."""
        self._number = plain_label()
        self.question = plain_label()
        self.choices = [self._link(partial(self.predicted.emit, k)) for k in range(_MOST_CHOICES)]
        self._ask = self._link(self.reveal_wanted.emit)
        self._ask.say(self.tr("Reveal (Return)"))
        self.answer = plain_label()
        self.note = plain_label()
        self._motion = plain_label()
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(self.tr("Couple as felt, N.m"))
        self.slider.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.slider.valueChanged.connect(lambda value: self.couple_slid.emit(float(value)))
        self.couples = plain_label()
        self.forces = plain_label()
        self.casing = plain_label()
        self.bolts: dict[str, Link] = {}
        self._bolt_rows = QGridLayout()
        self.friction = self._link(self.friction_turned.emit)
        self._linkage = self._link(self.linkage_turned.emit)
        self._linkage.say(self.tr("linkage (L)"))
        self._stand = self._link(self.next_stand_wanted.emit)
        self._stand.say(self.tr("view (V)"))
        self.motions = self._link(self.next_motion_wanted.emit)
        self._full = self._link(self.full_screen_wanted.emit)
        self._full.say(self.tr("full screen (F11)"))
        self._back = self._link(lambda: self.turned.emit(-1))
        self._back.say(self.tr("\u2190 back"))
        self._next = self._link(lambda: self.turned.emit(1))
        self._next.say(self.tr("next \u2192"))
        self._lay_out()
        self.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Tell figures in inches and pounds too, from the next time that something is shown."""
        self._units = "inch" if inch else "mm"

    def show_step(
        self, step: Step | None, number: int, count: int, predicted: int | None, *, revealed: bool
    ) -> None:
        """Show a question, what was predicted, and the answer once it is revealed."""
        self._number.setText(
            "" if step is None else self.tr("Predict, then reveal") + f"   {number} / {count}"
        )
        self.question.setText(
            self.tr("Draw plates, a casing and bolts first: the questions are made from them.")
            if step is None
            else self._told(step.question)
        )
        words = () if step is None else tuple(map(self._told, step.choices))
        for k, link in enumerate(self.choices):
            link.setVisible(k < len(words))
            if k < len(words):
                mark = self._mark(k, step.answer if step is not None else -1, predicted, revealed=revealed)
                link.say(f"{k + 1}  {words[k]}{mark}", strong=k == predicted)
        self._ask.setVisible(step is not None and not revealed)
        self.answer.setText(self._verdict_on(step, predicted) if step is not None and revealed else "")
        self._say_note(step.note if step is not None and revealed else "")

    def say_predict(self) -> None:
        """Ask for a prediction before anything is revealed."""
        self.answer.setText(self.tr("Predict first: press the number of a choice."))

    def say_wait(self, doing: str) -> None:
        """Say that the answer is still being worked out, and how far that is."""
        words = self.tr("The turned bracket is being judged; reveal again in a moment.")
        self.answer.setText(f"{words} {doing}".strip())

    def say_motion(self, words: str) -> None:
        """Say how the linkage moves; empty for nothing."""
        self._motion.setText(words)

    def show_couple(self, figures: CoupleFigures, most_nm: float, *, forces: bool) -> None:
        """Show a couple, with its forces unless they are what is asked."""
        with QSignalBlocker(self.slider):
            self.slider.setRange(1, round(most_nm))
            self.slider.setValue(round(figures.felt_nm))
        felt, held, *rest = map(self._told, figures.lines())
        self.couples.setText(f"{felt}\n{held}")
        shown = rest if self._times == 1.0 else rest[1:]
        self.forces.setText("\n".join(shown) if forces else "")

    def show_bolts(self, names: Sequence[str], loosened: Collection[str], out: Collection[str]) -> None:
        """Show which bolts are tight, loose and out."""
        if list(self.bolts) != list(names):
            for link in self.bolts.values():
                link.deleteLater()
            self.bolts = {name: self._link(partial(self.bolt_worked.emit, name)) for name in names}
            for place, link in enumerate(self.bolts.values()):
                self._bolt_rows.addWidget(link, place // _BOLTS_A_ROW, place % _BOLTS_A_ROW)
            self.set_big(self._times)
        for name, link in self.bolts.items():
            how = (
                self.tr("OUT") if name in out else self.tr("loose") if name in loosened else self.tr("tight")
            )
            link.say(worded("bolt {name}: {how}", name=name, how=how), strong=name in loosened or name in out)

    def show_friction(self, *, on: bool) -> None:
        """Show whether friction holds."""
        self.friction.say(self.tr("friction: on (F)") if on else self.tr("friction: OFF (F)"), strong=not on)

    def show_motions(self, number: int | None, count: int) -> None:
        """Show which of several free motions is in the picture."""
        self.motions.setVisible(count > 1)
        if number is not None:
            self.motions.say(
                self.tr("motion %1 of %2 (M)").replace("%1", str(number + 1)).replace("%2", str(count))
            )

    def say_casing(self, answer: QuickAnswer | None) -> None:
        """Say how far the casing goes in what is tried; nothing for None."""
        if answer is None:
            self.casing.setText("")
        elif answer.casing is None:
            self.casing.setText(self.tr("Nothing holds the casing."))
        else:
            moved = answer.casing
            words = self.tr("So far: turns %1 deg, moves %2 mm as felt.")
            words = words.replace("%1", figure(moved.turn_deg)).replace("%2", figure(moved.movement_mm))
            self.casing.setText(self._told(words))

    def set_big(self, times: float) -> None:
        """Write so many times as large; past 1 only what an audience needs stays."""
        self._times = times
        for link in (*self.bolts.values(), self._linkage, self._stand, self._full, self._back, self._next):
            link.setVisible(times == 1.0)
        self.set_theme(self._theme)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for link in (
            *self.choices,
            self._ask,
            self.friction,
            self._linkage,
            self._stand,
            self.motions,
            self._full,
            self._back,
            self._next,
        ):
            self._dress(link, _WORDS_PX)
        for link in self.bolts.values():
            self._dress(link, _SMALL_PX)
        sizes = (
            (self._number, _SMALL_PX, theme.pencil, False),
            (self.question, _QUESTION_PX, theme.ink, True),
            (self.answer, _QUESTION_PX - 2, theme.accent, True),
            (self.note, _SMALL_PX, theme.ink, False),
            (self._motion, _WORDS_PX, theme.ink, False),
            (self.couples, _WORDS_PX, theme.ink, True),
            (self.forces, _SMALL_PX, theme.ink, False),
            (self.casing, _SMALL_PX, theme.pencil, False),
        )
        for label, size, colour, bold in sizes:
            font = label.font()
            font.setPixelSize(self._px(size))
            font.setBold(bold)
            font.setItalic(label is self.casing)
            label.setFont(font)
            label.setStyleSheet(f"color: {colour}; background: transparent;")
        self.slider.setStyleSheet(
            f"QSlider::groove:horizontal {{ height: 1px; background: {theme.pencil}; }}"
            f"QSlider::handle:horizontal {{ width: 13px; height: 13px; margin: -7px 0; border-radius: 7px; "
            f"background: {theme.ground}; border: 1.5px solid {theme.ink}; }}"
        )

    def event(self, event: QEvent) -> bool:
        """Write smaller where the room is small, once what is written or the room has changed."""
        done = super().event(event)
        if event.type() in (QEvent.Type.LayoutRequest, QEvent.Type.Resize):
            self._fit()
        return done

    def _px(self, size: int) -> int:
        return round(size * self._times * self._smaller)

    def _fit(self) -> None:
        """Write as large as nothing is cut: a question without its end cannot be answered."""
        labels = self.findChildren(QLabel)
        written = (self.size(), self._times, tuple((x.text(), x.isHidden()) for x in labels), len(self.bolts))
        if written == self._fitted:
            return
        self._fitted = written
        sizes = _SMALLER if self._times == 1.0 else _LARGER + _SMALLER
        for self._smaller in sizes:
            self.set_theme(self._theme)
            column = self.layout()
            if column is None or column.heightForWidth(self.width()) <= self.height():
                return

    def _told(self, words: str) -> str:
        return sentence_in_units(words, self._units)

    def _say_note(self, words: str) -> None:
        self.note.setText(self._told(words))
        self.note.setVisible(bool(words))

    def _dress(self, link: Link, size: int) -> None:
        link.set_theme(self._theme)
        font = link.font()
        font.setPixelSize(self._px(size))
        link.setFont(font)
        link.updateGeometry()

    def _link(self, then: Callable[[], object]) -> Link:
        link = Link("", self._theme)
        link.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        link.clicked.connect(lambda: then())  # without the tick that comes with a click
        return link

    def _verdict_on(self, step: Step, predicted: int | None) -> str:
        right = self.tr("As predicted. ") if predicted == step.answer else self.tr("Not as predicted. ")
        return right + self._told(step.reveal)

    def _mark(self, place: int, answer: int, predicted: int | None, *, revealed: bool) -> str:
        said = self.tr("   predicted") if place == predicted else ""
        return f"{said}   \u2713" if revealed and place == answer else said

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self._number)
        column.addWidget(self.question)
        for link in self.choices:
            column.addWidget(link)
        column.addWidget(self._ask)
        column.addWidget(self.answer)
        column.addWidget(self.note)
        column.addStretch(1)
        column.addWidget(self._motion)
        column.addWidget(self.slider)
        for label in (self.couples, self.forces, self.casing):
            column.addWidget(label)
        column.addLayout(self._bolt_rows)
        for links in (
            (self.friction, self.motions, self._linkage, self._stand),
            (self._back, self._next, self._full),
        ):
            row = QHBoxLayout()
            for link in links:
                row.addWidget(link)
            row.addStretch(1)
            column.addLayout(row)
