"""The dash bar as measured: how long, where it runs, what tube it is, how its ends are held."""

from __future__ import annotations

from typing import Final

from pydantic import ValidationError
from PySide6.QtWidgets import QComboBox, QLineEdit

from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.forms.form import Form
from app.window.lists.field import Field, Kind
from app.window.lists.typed import typed
from app.window.worded import worded
from geometry.fixing import DashBar

_PLACES: Final = (
    ("long", "between its ends", ("such as 1240 mm", "such as 48 3/4 in")),
    ("above", "middle of the bar above the shaft axis", ("such as 110 mm", "such as 4 3/8 in")),
    (
        "toward",
        "toward the driver from the boss faces",
        ("such as 34 mm, or -34 mm", "such as 1 3/8 in, or -1 3/8 in"),
    ),
)
_TUBES: Final = ("such as 38.1 x 2.5 or 40 x 40 x 3 mm", "such as 1 1/2 x 0.095 or 2 x 2 x 1/8 in")
"""What stands in an entry until something is typed: for a reader of mm, of inches."""
_ENDS: Final = ("welded", "bolted flange", "pinned", "free")


class DashBarForm(Form):
    """Puts a bar across the car, square to the shaft; the parts list turns it afterwards."""

    def __init__(self, door: Door, theme: Theme, *, inch: bool = False) -> None:
        super().__init__(
            "Dash bar",
            "It is put square across the shaft, its middle over it; its ends can be moved in the"
            " parts list, and measured by a pull afterwards (Bolt, Dash bar's ends).",
            "Put the bar in",
            theme,
        )
        self._door, self._inch = door, inch
        self._places = {key: self.asked(words, worded(examples[inch])) for key, words, examples in _PLACES}
        self._section = self.asked(worded("tube"), worded(_TUBES[inch]))
        self._material = self.asked(worded("its material"), worded("such as S235"))
        self._ends = QComboBox()
        self._ends.addItems(list(_ENDS))
        # none is chosen at first: nothing that nobody looked at enters a verdict
        self._ends.setPlaceholderText(worded("look at them"))
        self._ends.setCurrentIndex(-1)
        self._seen = QLineEdit()
        self._seen.setPlaceholderText(worded("who saw the ends"))
        self.labelled(worded("both ends are"), self._ends)
        self.labelled(worded("seen by"), self._seen)

    def is_done(self) -> bool:
        """Put the bar in; say what is missing or wrong."""
        try:
            bar = self._bar()
        except EditRefused as refused:
            self.say(str(refused), bad=True)
            return False
        return self._door.attempt("put the dash bar in", lambda bracket: bracket.but(dash_bar=bar))

    def _bar(self) -> DashBar:
        read = {key: self._read(words, "quantity", self._places[key]) for key, words, _ in _PLACES}
        section = self._read("tube", "section", self._section)
        steel = self._read("its material", "material", self._material)
        if self._ends.currentIndex() < 0:
            raise EditRefused("both ends are blank: look how they are held, and choose")
        end = {"kind": self._ends.currentText(), "seen_by": self._seen.text().strip() or None}
        half = float(str(read["long"])) / 2.0
        try:
            return DashBar.model_validate(
                {
                    "from_mm": (-half, read["above"], read["toward"]),
                    "to_mm": (half, read["above"], read["toward"]),
                    "section": section,
                    "material": steel,
                    "ends": (end, end),
                }
            )
        except ValidationError as error:
            raise EditRefused(
                f"that makes no bar ({error.errors()[0]['msg']}): look at its measures"
            ) from None

    def _read(self, words: str, kind: Kind, entry: QLineEdit) -> object:
        text = self.filled(words, entry, "measure it, or read it on the tube")
        return typed(Field((), words, None, kind, "mm"), text, self._door.bracket, inch=self._inch)
