"""What stands under the bracket as mounted: let it swing, how far it is drawn moved, which load case."""

from __future__ import annotations

import math
from typing import Final, Protocol

from PySide6.QtCore import QSignalBlocker, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QMenu, QPushButton, QSizePolicy, QSlider, QWidget

from app.mounted.stands import STANDS, Stand
from app.theme import Theme
from app.window.action import Choice
from app.window.worded import worded
from app.wording.figures import figure
from solver.results import FreeMotion, Results

_MOST: Final = 5000.0
_STEPS: Final = 200
_NONE: Final = "-"
_TIMES: Final = "\u00d7"
_MOVES_MOST: Final = "moves most"
_OPENS: Final = "\u25be"
_ROUND_PX: Final = 8
"""What a word's button has round it, both sides together."""


class Mounted(Protocol):
    """The view as mounted, as far as its controls need it."""

    @property
    def playing(self) -> bool:
        """Return whether it swings."""

    def play(self, on: bool) -> None:
        """Let it swing, or bring it to rest."""

    def set_exaggeration(self, factor: float | None) -> None:
        """Draw the movement times a factor; None is one well seen."""

    def show_case(self, number: int | None) -> None:
        """Show the movement of a load case of the results; None the one that moves most."""

    def show_forces(self, on: bool) -> None:
        """Draw bolt forces as arrows, or leave them out."""

    def show_map(self, on: bool) -> None:
        """Draw the map of stress, or bare metal."""

    def show_free_motion(self, number: int | None) -> None:
        """Show a free motion in place of the deflection."""

    def stand(self, name: Stand) -> None:
        """Look from a named stand."""

    def fit(self) -> None:
        """Bring the whole bracket into the picture."""

    def unpin(self) -> None:
        """Take all labels off."""


class MountedControls(QWidget):
    """A row of words and one slider; the See menu offers the same."""

    def __init__(self, view: Mounted, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._results: Results | None = None
        self._case: int | None = None
        self._forces = False
        self._map = True
        self._motion: int | None = None
        self._factor: float | None = None
        self._play = _word("play", "Let it swing about once a second", self.play_or_rest)
        self._slider = QSlider(Qt.Orientation.Horizontal)
        self._slider.setRange(0, _STEPS)
        self._slider.setAccessibleName(worded("How many times the movement is drawn"))
        self._slider.setToolTip(worded("How many times the movement is drawn"))
        self._slider.valueChanged.connect(self._slid)
        self._times = QLabel()
        self._true = _word(
            "true scale", "Draw the movement as it is; press again to see it well", self.true_scale
        )
        self._true.setCheckable(True)
        bold = QFont(self._true.font())
        bold.setBold(True)  # as it is written while it is chosen
        self._true.setMinimumWidth(QFontMetrics(bold).horizontalAdvance(self._true.text()) + 8)
        self._cases = _word("", "Load case or free motion that is shown", self._offer)
        self._cases.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        usual = f"{_MOVES_MOST} {_OPENS}"
        self._cases.setMinimumWidth(QFontMetrics(self._cases.font()).horizontalAdvance(usual) + _ROUND_PX + 2)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 3, 0, 0)
        row.setSpacing(8)
        row.addWidget(self._play)
        row.addWidget(self._slider, 2)
        row.addWidget(self._times)
        row.addWidget(self._true)
        row.addWidget(self._cases, 3)
        self.set_theme(theme)
        self._write()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(
            f"QPushButton {{ color: {theme.ink}; border: none; padding: 1px 2px; }}"
            f"QPushButton:disabled, QLabel {{ color: {theme.pencil}; }}"
            f"QPushButton:hover, QPushButton:focus {{ text-decoration: underline; color: {theme.accent}; }}"
            f"QPushButton:checked {{ font-weight: bold; }}"
            f"QSlider::groove:horizontal {{ height: 1px; background: {theme.pencil}; }}"
            f"QSlider::handle:horizontal {{ width: 11px; height: 11px; margin: -6px 0; border-radius: 6px; "
            f"background: {theme.ground}; border: 1.5px solid {theme.ink}; }}"
            f"QSlider::handle:horizontal:focus {{ border-color: {theme.accent}; }}"
        )

    def set_results(self, results: Results | None, state: str) -> None:
        """Offer the load cases and free motions of these results."""
        self._results = None if state in ("none", "out of date") else results
        results = self._results
        if self._case is not None and (results is None or self._case >= len(results.cases)):
            self._case = None
        if self._motion is not None and (results is None or self._motion >= len(results.free_motions)):
            self._motion = None
        self._write()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the height of the row."""
        return QSize(300, self.fontMetrics().height() + 10)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Cut the words of the case anew."""
        super().resizeEvent(event)
        self._fit()

    def play_or_rest(self) -> None:
        """Let it swing, or bring it to rest."""
        self._view.play(not self._view.playing)
        self._write()

    def is_playing(self) -> bool:
        """Return whether it swings."""
        return self._view.playing

    def true_scale(self) -> None:
        """Draw the movement as it is, or again so that it is well seen."""
        self._take(None if self._factor == 1.0 else 1.0)

    def is_true_scale(self) -> bool:
        """Return whether the movement is drawn as it is."""
        return self._factor == 1.0

    def case_choices(self) -> list[Choice]:
        """Return the load cases that can be shown."""
        cases = () if self._results is None else self._results.cases
        if not cases:
            return []
        found = [Choice("the case that moves most", _NONE, self._case is None)]
        found += [Choice(f"{c.words}, {c.state}", str(k), k == self._case) for k, c in enumerate(cases)]
        return found

    def set_case(self, number: str) -> None:
        """Show a load case, counted from 0; or the one that moves most."""
        self._case = None if number == _NONE else int(number)
        self._view.show_case(self._case)
        self._write()

    def stress_map(self) -> None:
        """Draw the map of stress on the plates, or bare metal."""
        self._map = not self._map
        self._view.show_map(self._map)

    def has_map(self) -> bool:
        """Return whether the map of stress is drawn."""
        return self._map

    def forces(self) -> None:
        """Draw the bolts' forces as arrows, or leave them out again."""
        self._forces = not self._forces
        self._view.show_forces(self._forces)

    def has_forces(self) -> bool:
        """Return whether the bolts' forces are drawn."""
        return self._forces

    def motion_choices(self) -> list[Choice]:
        """Return the free motions that can be shown."""
        motions = () if self._results is None else self._results.free_motions
        if not motions:
            return []
        found = [Choice("how it deflects", _NONE, self._motion is None)]
        found += [Choice(m.words, str(k), k == self._motion) for k, m in enumerate(motions)]
        return found

    def set_motion(self, number: str) -> None:
        """Show a free motion, counted from 0, swinging; or the deflection again."""
        self._motion = None if number == _NONE else int(number)
        self._view.show_free_motion(self._motion)
        self._view.play(self._motion is not None)
        self._write()

    def show_motion(self, motion: FreeMotion | None) -> None:
        """Show one of the results' free motions, swinging; None shows the deflection."""
        motions = () if self._results is None else self._results.free_motions
        number = next((k for k, there in enumerate(motions) if there is motion), None)
        self.set_motion(_NONE if number is None else str(number))

    def stand_choices(self) -> list[Choice]:
        """Return the places to look from."""
        return [Choice(name, name) for name in STANDS]

    def set_stand(self, name: str) -> None:
        """Look from one of the named stands."""
        self._view.stand(next(stand for stand in STANDS if stand == name))

    def fit(self) -> None:
        """Bring the whole bracket into the picture."""
        self._view.fit()

    def take_labels_off(self) -> None:
        """Take off the labels that were left in the picture."""
        self._view.unpin()

    def _slid(self, step: int) -> None:
        self._take(None if step == 0 else _rounded(_MOST ** (step / _STEPS)))

    def _take(self, factor: float | None) -> None:
        self._factor = factor
        self._view.set_exaggeration(factor)
        self._write()

    def _write(self) -> None:
        has = self._results is not None
        for part in (self._play, self._slider, self._true, self._cases):
            part.setEnabled(has)
        self._play.setText("rest" if self._view.playing else "play")
        self._times.setText(
            f"{_TIMES} well seen" if self._factor is None else f"{_TIMES} {figure(self._factor)}"
        )
        self._true.setChecked(self.is_true_scale())
        with QSignalBlocker(self._slider):
            share = 0.0 if self._factor is None else math.log(self._factor) / math.log(_MOST)
            self._slider.setValue(round(share * _STEPS))
        self._fit()

    def _fit(self) -> None:
        """Cut the words of the case to the room there is."""
        words = f"{self._case_words()} {_OPENS}" if self._results is not None else ""
        room = max(self._cases.width() - _ROUND_PX, 20)
        self._cases.setText(self.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room))
        self._cases.setAccessibleName(words)

    def _case_words(self) -> str:
        if self._motion is not None:
            return f"free motion {self._motion + 1}"
        if self._case is None or self._results is None:
            return _MOVES_MOST
        case = self._results.cases[self._case]
        return f"case: {case.words}, {case.state}"

    def _offer(self) -> None:
        menu = QMenu(self)
        for choices, call in ((self.case_choices(), self.set_case), (self.motion_choices(), self.set_motion)):
            for choice in choices:
                action = menu.addAction(choice.words)
                action.setCheckable(True)
                action.setChecked(choice.is_taken)
                action.triggered.connect(lambda _=False, c=call, a=choice.argument: c(a))
            menu.addSeparator()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(self._cases.mapToGlobal(self._cases.rect().bottomLeft()))


def _word(words: str, tip: str, call: object) -> QPushButton:
    button = QPushButton(words)
    button.setFlat(True)
    button.setCursor(Qt.CursorShape.PointingHandCursor)
    button.setToolTip(tip)
    button.clicked.connect(call)
    return button


def _rounded(factor: float) -> float:
    """Return a factor with two digits, as people say one."""
    power = 10.0 ** math.floor(math.log10(factor))
    return max(1.0, round(factor / power, 1) * power)
