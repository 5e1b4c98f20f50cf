"""The trial strip: couple, tightening and friction follow a slider; a bolt is loosened or taken out."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.lists.caption import Link
from app.window.lists.slide import Slide
from app.window.lists.trial import FRICTION_RANGE, Trial, kept, most_couple_nm, most_tightening_nm, tried
from app.window.lists.typed import VARIOUS, quantity_text
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.fixing import Bolt
from solver.results import QuickAnswer, Results


class TrialStrip(QWidget):
    """Tries without a step; `keep` makes it one."""

    trial_changed = Signal(object, object, object)
    """A bracket, bolts out and bolts slipped, for the quick path."""
    trial_ended = Signal()
    """Nothing is tried any more."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._door, self._theme = door, theme
        self._inch = False
        self._trial = Trial()
        self._couple = Slide(self.tr("try couple"), theme)
        self._tighten = Slide(self.tr("tightening"), theme)
        self._friction = Slide(self.tr("friction"), theme)
        self._loosen = Link(self.tr("loosen"), theme)
        self._out = Link(self.tr("take out"), theme)
        self._keep = Link(self.tr("keep"), theme)
        self._back = Link(self.tr("put back"), theme)
        self._couple.slid.connect(lambda value: self._try(replace(self._trial, couple_nm=value)))
        self._tighten.slid.connect(self._try_tightening)
        self._friction.slid.connect(lambda value: self._try(replace(self._trial, face_friction=value)))
        self._loosen.clicked.connect(lambda: self._toggle("loosened"))
        self._out.clicked.connect(lambda: self._toggle("out"))
        self._keep.clicked.connect(self.keep)
        self._back.clicked.connect(self.put_back)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(8)
        for slide in (self._couple, self._tighten, self._friction):
            line.addWidget(slide, 1)
        for link in (self._loosen, self._out, self._keep, self._back):
            line.addWidget(link)
        self.setAccessibleName(self.tr("Trial: nothing is changed until it is kept"))
        door.changed.connect(self._follow)
        door.picked.connect(lambda _: self._show())
        self._show()

    @property
    def trial(self) -> Trial:
        """Return what is tried."""
        return self._trial

    @property
    def slides(self) -> tuple[Slide, Slide, Slide]:
        """Return the sliders of couple, tightening and friction."""
        return self._couple, self._tighten, self._friction

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for slide in self.slides:
            slide.set_theme(theme)
        for link in (self._loosen, self._out, self._keep, self._back):
            link.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Show inch figures."""
        self._inch = inch
        self._show()

    def set_results(self, results: Results | None, state: str) -> None:
        """Take results; what can be tried depends on the bracket alone."""

    def set_quick(self, answer: QuickAnswer | None) -> None:
        """Take a quick answer; stamp and checks show it."""

    def loosen(self) -> None:
        """Loosen the selected bolt, or tighten it again."""
        self._toggle("loosened")

    def take_out(self) -> None:
        """Take the selected bolt out, or put it back."""
        self._toggle("out")

    def keep(self) -> None:
        """Make what is tried a step."""
        trial = self._trial
        if trial.is_none:
            return
        self._trial = Trial()
        if not self._door.attempt(f"keep the trial: {trial.words}", lambda bracket: kept(bracket, trial)):
            self._trial = trial
            return
        self.trial_ended.emit()
        self._show()

    def put_back(self) -> None:
        """Try nothing any more."""
        self._try(Trial())

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Try again what stands here: another page may have tried something of its own meanwhile."""
        super().showEvent(event)
        if not self._trial.is_none:
            self._try(self._trial)

    def _bolt(self) -> Bolt | None:
        """Return the selected bolt; that of a selected boss if it has one."""
        pick = self._door.pick
        if not isinstance(pick, Pick) or pick.kind != "bolt":
            return None
        return next((bolt for bolt in self._door.bracket.bolts if bolt.name == pick.name), None)

    def _try_tightening(self, torque_nm: float) -> None:
        bolt = self._bolt()
        names = [bolt.name] if bolt is not None else [b.name for b in self._door.bracket.bolts]
        self._try(
            replace(
                self._trial, tightening_nm={**self._trial.tightening_nm, **dict.fromkeys(names, torque_nm)}
            )
        )

    def _toggle(self, what: str) -> None:
        bolt = self._bolt()
        if bolt is None:
            self._door.refuse(
                self.tr("No bolt is selected: press a balloon or a row of the parts list first.")
            )
            return
        self._try(self._trial.toggled(bolt.name, what))

    def _try(self, trial: Trial) -> None:
        self._trial = _plain(trial, self._door.bracket)
        self._show()
        if self._trial.is_none:
            self.trial_ended.emit()
        else:
            bracket = tried(self._door.bracket, self._trial)
            self.trial_changed.emit(bracket, self._trial.out, self._trial.loosened)

    def _follow(self, bracket: Bracket) -> None:
        """Take the trial along to another bracket, without what it no longer has."""
        if not self._trial.is_none:
            self._try(self._trial.without_unknown(bracket))
        self._show()

    def _show(self) -> None:
        bracket, trial = self._door.bracket, self._trial
        drawn = bracket.loads.couple.value_nm
        couple = drawn if trial.couple_nm is None else trial.couple_nm
        self._couple.show_value(couple, drawn, (0.5, most_couple_nm(bracket)), self._figure(couple, "N.m"))
        self._show_tightening()
        self._show_friction()
        bolt = self._bolt()
        name = "" if bolt is None else bolt.name
        self._say(self._loosen, bolt, name in trial.loosened, (self.tr("loosen"), self.tr("tighten")))
        self._say(self._out, bolt, name in trial.out, (self.tr("take out"), self.tr("put in")))
        self._keep.setEnabled(not trial.is_none)
        self._back.setEnabled(not trial.is_none)
        self._keep.say(
            self.tr("keep"), self.tr("Keep the trial as a step: ") + (trial.words or self.tr("nothing"))
        )

    def _show_tightening(self) -> None:
        """Show the selected bolt's torque, or that of all where it is the same."""
        bolts, picked = self._door.bracket.bolts, self._bolt()
        torques = {self._trial.tightening_nm.get(b.name, b.tightening_nm) for b in bolts}
        if picked is None and len({b.tightening_nm for b in bolts}) != 1:
            self._tighten.set_name(self.tr("tightening"))
            self._tighten.show_value(None, None, (0.0, 1.0), self.tr("select a bolt"))
            return
        bolt = picked or bolts[0]
        name = self.tr("all bolts") if picked is None else self.tr("bolt {0}").replace("{0}", bolt.name)
        self._tighten.set_name(name)
        torque = self._trial.tightening_nm.get(bolt.name, bolt.tightening_nm)
        words = self._figure(torque, "N.m") if picked or len(torques) == 1 else VARIOUS
        ends = (0.5, most_tightening_nm(bolt))
        self._tighten.show_value(torque, bolt.tightening_nm, ends, words)

    def _show_friction(self) -> None:
        bolts = self._door.bracket.bolts
        drawn = bolts[0].face_friction if bolts else None
        value = self._trial.face_friction
        same = value is not None or len({bolt.face_friction for bolt in bolts}) <= 1
        value = drawn if value is None else value
        words = "" if value is None else f"{value:.2f}" if same else VARIOUS
        self._friction.show_value(value, drawn, FRICTION_RANGE, words)

    def _say(self, link: Link, bolt: Bolt | None, done: bool, words: tuple[str, str]) -> None:
        word = words[1] if done else words[0]
        name = "" if bolt is None else bolt.name
        link.say(f"{word} {name}".strip(), f"{word} bolt {name}" if name else word)
        link.setEnabled(bolt is not None)

    def _figure(self, value: float | None, unit: str) -> str:
        return "" if value is None else quantity_text(float(f"{value:.3g}"), unit, inch=self._inch)


def _plain(trial: Trial, bracket: Bracket) -> Trial:
    """Return the trial without what is as it is drawn."""
    torques = {
        bolt.name: trial.tightening_nm[bolt.name]
        for bolt in bracket.bolts
        if bolt.name in trial.tightening_nm and trial.tightening_nm[bolt.name] != bolt.tightening_nm
    }
    same_couple = trial.couple_nm == bracket.loads.couple.value_nm
    same_friction = all(bolt.face_friction == trial.face_friction for bolt in bracket.bolts)
    return replace(
        trial,
        couple_nm=None if same_couple else trial.couple_nm,
        tightening_nm=torques,
        face_friction=None if same_friction else trial.face_friction,
    )
