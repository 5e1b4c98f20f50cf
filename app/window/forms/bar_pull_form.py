"""The dash bar's ends as a pull at its middle measures them: a mass or a scale, and three gauges."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QLineEdit

from app.editing.bar_pull import BarReadings, bar_answer, with_measured_ends
from app.editing.entry import entered
from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.forms.form import Form
from app.window.worded import worded
from app.wording.figures import unit_word
from geometry.units import UnitError

_ROWS: Final = (
    ("pull", "pull at its middle", "N", "such as 600 N or 60 kgf, up or down"),
    ("middle", "its middle moved", "mm", "the way of the pull, such as 0.42 mm"),
    ("first", "its first end moved", "mm", "the same way; 0 if the needle stood still"),
    ("other", "its other end moved", "mm", "the same way"),
)


class BarPullForm(Form):
    """Works the stiffness out as it is typed, and puts it at both ends with its source when done."""

    def __init__(self, door: Door, theme: Theme, *, inch: bool = False) -> None:
        if door.bracket.dash_bar is None:
            raise EditRefused("There is no dash bar to measure: Bolt, Dash bar puts one in.")
        super().__init__(
            "Dash bar's ends, by a pull",
            "Hang a mass from the middle of the bar, or pull with a scale. Stand one gauge there and one at"
            " each end, on the body of the car; set them to nought first.",
            "Put it at both ends",
            theme,
        )
        self._door, self._inch = door, inch
        self._entries = {key: self.asked(words, example, self._tell) for key, words, _, example in _ROWS}
        self._who = self.asked(worded("read by"), worded("who read it, and with what"), self._tell)

    def is_done(self) -> bool:
        """Put the ends' stiffness in; say what is missing or wrong."""
        try:
            read = self._readings()
            bar_answer(self._door.bracket, read)
        except (EditRefused, UnitError) as refused:
            self.say(str(refused), bad=True)
            return False
        return self._door.attempt(
            "dash bar's ends as measured", lambda bracket: with_measured_ends(bracket, read)
        )

    def _tell(self) -> None:
        """Tell the stiffness as soon as everything is there."""
        self.tell(
            (*self._entries.values(), self._who),
            lambda: bar_answer(self._door.bracket, self._readings()).words,
        )

    def _readings(self) -> BarReadings:
        read = {key: self._read(words, unit, self._entries[key]) for key, words, unit, _ in _ROWS}
        who = self.filled("read by", self._who, "a measured stiffness says who read it")
        if len(who) > 100:
            raise EditRefused("read by is longer than 100 letters: say it shorter")
        return BarReadings(read["pull"], read["middle"], (read["first"], read["other"]), who)

    def _read(self, words: str, unit: str, entry: QLineEdit) -> float:
        typed = self.filled(words, entry, "read it, 0 if the needle stood still")
        return entered(typed, unit, bare=unit_word(unit, "inch" if self._inch else "mm"))
