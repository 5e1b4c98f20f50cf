"""K from one bent test strip: what was read off it before and after bending; the K goes to the folds."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QComboBox, QLineEdit

from app.editing.bent_strip import StripAnswer, StripReadings, k_from_strip
from app.editing.entry import entered
from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.forms.form import Form
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.units import UnitError

_LENGTHS: Final = (
    ("flat", "length before bending", "such as 120 mm"),
    ("leg_a", "first leg, bent", "from its end to where the faces meet"),
    ("leg_b", "second leg, bent", "from its end to where the faces meet"),
    ("thick", "thickness", "as measured, such as 2.95 mm"),
    ("radius", "inside radius", "with a radius gauge"),
)


class StripForm(Form):
    """Works K out as it is typed, and puts it at every fold of the bracket when done."""

    def __init__(self, door: Door, theme: Theme, *, inch: bool = False) -> None:
        super().__init__(
            "K from a test strip",
            "Cut a strip of the same sheet, measure it, bend it once on the same brake, measure it again.",
            "Put this K at every fold",
            theme,
        )
        self._door, self._inch = door, inch
        self._lengths = {key: self.asked(words, example, self._tell) for key, words, example in _LENGTHS}
        self._angle = QLineEdit("90 deg")
        self._angle.textChanged.connect(self._tell)
        self.labelled(worded("turned out of flat"), self._angle)
        self._side = QComboBox()
        self._side.addItems(["outside", "inside"])
        self._side.currentTextChanged.connect(self._tell)
        self.labelled(worded("legs are read"), self._side)

    def is_done(self) -> bool:
        """Put K at every fold; say what is missing or wrong."""
        try:
            answer = self._answer()
        except (EditRefused, UnitError) as refused:
            self.say(str(refused), bad=True)
            return False
        if not any(plate.folds for plate in self._door.bracket.plates):
            self.say(
                worded("{words} There is no fold to put it at: draw one first.", words=answer.words), bad=True
            )
            return False
        found = round(answer.k_factor, 3)
        return self._door.attempt(f"K {found:g} from a test strip", lambda bracket: _with_k(bracket, found))

    def _tell(self) -> None:
        """Tell K as soon as everything is there."""
        self.tell(self._lengths.values(), lambda: self._answer().words)

    def _answer(self) -> StripAnswer:
        read = {key: self._read(words, self._lengths[key], "mm") for key, words, _ in _LENGTHS}
        return k_from_strip(
            StripReadings(
                flat_mm=read["flat"],
                leg_a_mm=read["leg_a"],
                leg_b_mm=read["leg_b"],
                turned_deg=self._read("turned out of flat", self._angle, "deg"),
                thickness_mm=read["thick"],
                inside_radius_mm=read["radius"],
                legs="inside" if self._side.currentText() == "inside" else "outside",
            )
        )

    def _read(self, words: str, entry: QLineEdit, unit: str) -> float:
        typed = self.filled(words, entry, "measure it on the strip")
        return entered(typed, unit, bare="in" if self._inch and unit == "mm" else None)


def _with_k(bracket: Bracket, k_factor: float) -> Bracket:
    """Return the bracket with that K at every fold."""
    return bracket.but(
        plates=tuple(
            plate.but(folds=tuple(fold.but(k_factor=k_factor) for fold in plate.folds))
            for plate in bracket.plates
        )
    )
