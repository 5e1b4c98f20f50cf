"""The lesson's board: the linkage in motion at the left; question, choices and couple at the right."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.lesson.figures import figures_of
from app.lesson.step import Step
from app.lesson.steps import steps_of
from app.theme import Theme
from app.window.door import Door
from app.window.lesson_keys import press
from app.window.lesson_picture import LessonPicture, Pictured, Picturing
from app.window.lesson_side import LessonSide
from app.window.lesson_standing import LessonStanding
from app.window.lesson_view import LessonView
from app.window.lists.trial import Trial, most_couple_nm, tried
from app.window.mounted_painting import Painting
from app.window.turned_pair import TurnedFlow
from app.window.verdict_flow import VerdictFlow
from app.wording.figures import plain
from geometry.bracket import Bracket
from solver.results import FreeMotion, QuickAnswer, Results

_FALLBACK_NM: Final = 30.0
"""Couple of the slider while the bracket's own is blank."""


class LessonBoard(QWidget):
    """Shows the open bracket; it tries, and never changes it."""

    full_screen_wanted = Signal(bool)

    def __init__(self, door: Door, verdicts: VerdictFlow, theme: Theme, painting: Painting) -> None:
        super().__init__()
        self._door, self._verdicts = door, verdicts
        self._results: Results | None = None
        self._steps: tuple[Step, ...] = ()
        self._shown = LessonStanding()
        self._quick: QuickAnswer | None = None
        self._begun = False
        self._picturing = Picturing()
        self.picture = LessonPicture(theme, painting)
        self.side = LessonSide(theme)
        self.turned = TurnedFlow(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 10, 12, 8)
        row.setSpacing(16)
        row.addWidget(self.picture, 5)
        row.addWidget(self.side, 4)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Lesson"))
        self._listen()
        self.set_theme(theme)

    # -- what is shown

    @property
    def standing(self) -> LessonStanding:
        """Return what is shown now."""
        return self._shown

    @property
    def step(self) -> Step | None:
        """Return the step that is asked; None where the bracket has none."""
        return self._steps[self._shown.step] if self._shown.step < len(self._steps) else None

    @property
    def motion(self) -> FreeMotion | None:
        """Return the free motion that the picture shows; None for none."""
        return self._pictured().motion

    @property
    def view(self) -> LessonView:
        """Return the picture of one bracket."""
        return self.picture.view

    def begin(self) -> None:
        """Take up the bracket and the results as they stand."""
        self._begun = True
        self._results = self._verdicts.results
        self._take()
        if self._bracket.plates:
            self.picture.stand_first()

    def end(self) -> None:
        """Try nothing any more and stop moving."""
        if self._begun:
            self._begun = False
            self.turned.want_no_more()
            self.view.play(on=False)
            if not self._shown.trial.is_none:
                self._verdicts.end_trial()
            self._shown = LessonStanding(step=self._shown.step)
            self._quick = None

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(f"LessonBoard {{ background: {theme.ground}; }}")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.picture.set_theme(theme)
        self.side.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Tell figures in inches and pounds too."""
        self.picture.set_inch(inch)
        self.side.set_inch(inch)
        self._put(self._shown)

    def set_big(self, times: float) -> None:
        """Write everything so many times as large, with few words past 1."""
        self.side.set_big(times)
        self.picture.set_big(times)

    # -- what a trainer does

    def turn(self, by: int) -> None:
        """Go on by so many steps, or back."""
        if self._steps:
            self._put(LessonStanding(step=(self._shown.step + by) % len(self._steps)), tries=True)

    def predict(self, choice: int) -> None:
        """Take a prediction, before the answer is revealed."""
        step = self.step
        if step is not None and 0 <= choice < len(step.choices) and not self._shown.revealed:
            self._put(replace(self._shown, predicted=choice))

    def reveal(self) -> None:
        """Show the answer; without a prediction, ask for one first."""
        step = self.step
        if step is None or self._shown.revealed:
            return
        if self._shown.predicted is None:
            self.side.say_predict()
            return
        if step.answer < 0:
            self.side.say_wait(self.turned.doing)
            return
        friction = step.shows not in ("free motion", "sawn", "loosened bolt")
        trial = self._shown.trial
        if step.shows == "loosened bolt" and step.bolt not in trial.out:
            trial = trial.toggled(step.bolt, "out")
        self._put(replace(self._shown, revealed=True, friction=friction, trial=trial), tries=True)

    def set_couple(self, couple_nm: float) -> None:
        """Try another couple as felt."""
        self._put(replace(self._shown, trial=replace(self._shown.trial, couple_nm=couple_nm)), tries=True)

    def work_bolt(self, name: str) -> None:
        """Loosen a tight bolt, take a loose one out, tighten one that is out."""
        trial = self._shown.trial
        if name in trial.out:
            trial = trial.toggled(name, "out")
        else:
            trial = trial.toggled(name, "out" if name in trial.loosened else "loosened")
        self._put(replace(self._shown, trial=trial), tries=True)

    def turn_friction(self) -> None:
        """Let friction hold, or let every bolt be a pin."""
        self._put(replace(self._shown, friction=not self._shown.friction))

    def turn_linkage(self) -> None:
        """Draw the linkage, or bare metal."""
        self._put(replace(self._shown, linkage=not self._shown.linkage))

    def next_motion(self) -> None:
        """Show the next free motion, if there are several."""
        self._put(replace(self._shown, motion=self._shown.motion + 1))

    def look_from_next(self) -> None:
        """Look from the next of the stands that show a linkage."""
        self.picture.stand_next()

    def step_couple(self, way: int) -> None:
        """Try a couple a newton-metre larger or smaller."""
        now, most = self._couple_nm(), most_couple_nm(self._bracket)
        with QSignalBlocker(self.side):
            self.set_couple(min(max(round(now) + way, 1.0), most))

    def work_next_bolt(self) -> None:
        """Work the first bolt that is still tight; all tight again once none is."""
        trial = self._shown.trial
        tight = [b.name for b in self._bracket.bolts if b.name not in trial.loosened | trial.out]
        if tight:
            self.work_bolt(tight[0])
        else:
            kept = Trial(couple_nm=trial.couple_nm)
            self._put(replace(self._shown, trial=kept), tries=True)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Do everything by keys; Escape leaves the full screen."""
        if not press(self, Qt.Key(event.key())):
            super().keyPressEvent(event)

    # -- inside

    def _listen(self) -> None:
        side = self.side
        side.predicted.connect(self.predict)
        side.reveal_wanted.connect(self.reveal)
        side.turned.connect(self.turn)
        side.couple_slid.connect(self.set_couple)
        side.bolt_worked.connect(self.work_bolt)
        side.friction_turned.connect(self.turn_friction)
        side.linkage_turned.connect(self.turn_linkage)
        side.next_stand_wanted.connect(self.look_from_next)
        side.next_motion_wanted.connect(self.next_motion)
        side.full_screen_wanted.connect(lambda: self.full_screen_wanted.emit(not self.isWindow()))
        self.view.picked.connect(lambda kind, name: self.work_bolt(name) if kind == "bolt" else None)
        self._door.changed.connect(lambda _: self._take() if self._begun else None)
        self._verdicts.results_changed.connect(self._take_results)
        self.turned.changed.connect(lambda: self._take() if self._begun else None)
        self._verdicts.quick_changed.connect(self._take_quick)

    def _take(self) -> None:
        """Work the steps out anew; a step that is still there stays."""
        name = None if self.step is None else self.step.name
        self.turned.take(self._bracket)
        self._steps = steps_of(self._bracket, self._results, self.turned.turned)
        place = next((i for i, step in enumerate(self._steps) if step.name == name), 0)
        changed = name is not None and self.step is not None and place != self._shown.step
        shown = replace(self._shown, step=place, trial=self._shown.trial.without_unknown(self._bracket))
        self._put(LessonStanding(step=place) if changed and self._steps[place].name != name else shown)

    def _take_results(self, results: Results | None, _state: str) -> None:
        if self._begun and results is not self._results:
            self._results = results
            self._take()

    def _take_quick(self, answer: QuickAnswer | None) -> None:
        self._quick = answer
        if self._begun:
            self.side.say_casing(answer)

    @property
    def _bracket(self) -> Bracket:
        return self._door.bracket

    def _pictured(self) -> Pictured:
        return self._picturing.of(self._bracket, self.step, self._shown)

    def _put(self, standing: LessonStanding, *, tries: bool = False) -> None:
        before, self._shown = self._shown, standing
        if tries and standing.trial != before.trial:
            self._try(standing.trial)
        pictured = self._pictured()
        self._draw(pictured)
        self._show_pair()
        self._tell(pictured)

    def _try(self, trial: Trial) -> None:
        self._quick = None
        if trial.is_none:
            self._verdicts.end_trial()
        else:
            self._verdicts.try_out(tried(self._bracket, trial), trial.out, trial.loosened)

    def _draw(self, pictured: Pictured) -> None:
        self.picture.show_pictured(
            pictured,
            self._results,
            self.step,
            revealed=self._shown.revealed,
            friction=self._shown.friction,
        )
        self.picture.show_couple(figures_of(pictured.bracket, self._couple_nm()), forces=self._tells_forces())
        drawing, moving = pictured.drawing, pictured.motion
        if drawing is None or moving is None:
            self.side.say_motion("")
        else:
            self.side.say_motion(drawing.words if moving.moves_casing else plain(moving.words))

    def _show_pair(self) -> None:
        """Show the open bracket and the turned one in place of the picture, once that is revealed."""
        step, own = self.step, self._results
        if step is not None and step.shows == "turned" and step.answer < 0:
            self.turned.want()
        else:
            self.turned.want_no_more()
        shows = step is not None and step.shows == "turned" and self._shown.revealed and own is not None
        if shows and own is not None:
            self.picture.show_pair(self._bracket, own, self.turned.turned)
        else:
            self.picture.show_one()

    def _tell(self, pictured: Pictured) -> None:
        shown, side = self._shown, self.side
        side.show_step(self.step, shown.step + 1, len(self._steps), shown.predicted, revealed=shown.revealed)
        felt = figures_of(self._bracket, self._couple_nm())
        side.show_couple(felt, most_couple_nm(self._bracket), forces=self._tells_forces())
        side.show_bolts([bolt.name for bolt in self._bracket.bolts], shown.trial.loosened, shown.trial.out)
        side.show_friction(on=shown.friction)
        side.show_motions(pictured.number, len(pictured.motions))
        side.say_casing(self._quick)

    def _tells_forces(self) -> bool:
        """Return whether forces may be seen: not while they are what is asked."""
        return self._shown.revealed or self.step is None or self.step.name != "force"

    def _couple_nm(self) -> float:
        tried_nm = self._shown.trial.couple_nm
        return tried_nm or self._bracket.loads.couple.value_nm or _FALLBACK_NM
