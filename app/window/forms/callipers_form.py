"""The casing as measured: spacings of the bosses by callipers, its block, its mass, its threads."""

from __future__ import annotations

import itertools
import math
from typing import Final

from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit

from app.editing.callipers import SHAFT, TOLD_ABOVE_MM, BossMeasure, MeasuredBosses, boss_places
from app.editing.measured_casing import MeasuredBody, with_measured_casing
from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.forms.form import Form
from app.window.lists.field import Field
from app.window.lists.typed import typed
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.casing import Casing
from geometry.units import UnitError

_BODY: Final = (
    ("face", "boss face across", "24 mm"),
    ("depth", "usable depth of thread", "20 mm"),
    ("width", "casing across", "128 mm"),
    ("height", "casing high", "120 mm"),
    ("length", "casing along the shaft", "135 mm"),
)
_USUAL_BOSSES: Final = ("A", "B", "C")
_MOST_BOSSES: Final = 8
_LEAST_APART_MM: Final = 0.005
"""Below it a distance is written as nought, which no callipers read."""


class CallipersForm(Form):
    """Any distances that fix the places will do; what fits them best is put into the bracket."""

    def __init__(self, door: Door, theme: Theme, *, inch: bool = False) -> None:
        super().__init__(
            "Casing and bosses",
            "Type distances as the callipers give them, middle to middle; leave out what cannot be reached. "
            "The bosses are named clockwise as seen from the wheel, the first one standing above the shaft.",
            "Put the casing in",
            theme,
        )
        self._door, self._inch = door, inch
        casing = door.bracket.casing
        there = [] if casing is None else [boss.name for boss in casing.bosses]
        # a name may have a comma in it
        self._between = ";" if any("," in name for name in there) else ","
        self._names = QLineEdit(f"{self._between} ".join(there or _USUAL_BOSSES))
        self._names.editingFinished.connect(self._lay_out)
        self.labelled(worded("bosses"), self._names)
        self._grid = QGridLayout()
        self.rows.addLayout(self._grid)
        self._spacings: dict[tuple[str, str], QLineEdit] = {}
        self._thread = QLineEdit("" if casing is None or not casing.bosses else casing.bosses[0].thread)
        self._thread.setPlaceholderText(worded("such as M10"))
        self.labelled(worded("thread"), self._thread)
        self._body = {key: QLineEdit(_now(casing, key)) for key, _, _ in _BODY}
        for key, words, example in _BODY:
            # examples, not values: nothing that nobody measured enters a verdict
            self._body[key].setPlaceholderText(worded("such as {example}", example=example))
            self.labelled(words, self._body[key])
        self._mass = QLineEdit("" if casing is None else f"{casing.mass_kg:g} kg")
        self._mass.setPlaceholderText(worded("such as 5.2 kg"))
        self.labelled(worded("casing's mass"), self._mass)
        self._lay_out()

    def is_done(self) -> bool:
        """Put the casing into the bracket; say why if the measures make none."""
        try:
            found = self._found()
            body = self._measured_body()
        except (UnitError, EditRefused) as refused:
            self.say(str(refused), bad=True)
            return False

        def edit(bracket: Bracket) -> Bracket:
            return with_measured_casing(bracket, found.places, body)

        if not self._door.attempt("measure the casing", edit):
            self.say(worded("The casing was not put in: the line under the views says why."), bad=True)
            return False
        tell = self._door.refuse if found.residual_mm > TOLD_ABOVE_MM else self._door.tell
        tell(found.words)
        return True

    def _lay_out(self) -> None:
        """Lay out an entry for each distance there can be, with what is known of it."""
        names = self._boss_names()
        known = _known(self._door.bracket.casing)
        filled = {pair: entry.text() for pair, entry in self._spacings.items()}
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        self._spacings = {}
        pairs = [(SHAFT, name) for name in names] + list(itertools.combinations(names, 2))
        half = (len(pairs) + 1) // 2
        for number, pair in enumerate(pairs):
            entry = QLineEdit(filled.get(pair, known.get(pair, "")))
            entry.setPlaceholderText("in" if self._inch else "mm")
            entry.setAccessibleName(worded("{pair} to {pair_2}", pair=pair[0], pair_2=pair[1]))
            entry.textChanged.connect(self._judge)
            row, column = number % half, 2 * (number // half)
            self._grid.addWidget(
                QLabel(worded("{pair} to {pair_2}", pair=pair[0], pair_2=pair[1])), row, column
            )
            self._grid.addWidget(entry, row, column + 1)
            self._spacings[pair] = entry
        self._judge()

    def _judge(self) -> None:
        try:
            found = self._found()
        except (UnitError, EditRefused) as refused:
            self.say(str(refused))
        else:
            self.say(found.words, bad=found.residual_mm > TOLD_ABOVE_MM)

    def _found(self) -> MeasuredBosses:
        measures = [
            BossMeasure(first, second, self._length(f"{first} to {second}", entry))
            for (first, second), entry in self._spacings.items()
            if entry.text().strip()
        ]
        names = self._boss_names()
        casing = self._door.bracket.casing
        start = {} if casing is None else {b.name: (b.at_mm[0], b.at_mm[1]) for b in casing.bosses}
        return boss_places(
            measures, names, {n: start[n] for n in names} if set(names) <= set(start) else None
        )

    def _boss_names(self) -> list[str]:
        names = self._names.text().split(self._between)
        return [name.strip() for name in names if name.strip()][:_MOST_BOSSES]

    def _measured_body(self) -> MeasuredBody:
        mm = {
            key: self._length(words, self._body[key])
            for key, words, _ in _BODY
            if self._body[key].text().strip()
        }
        missing = [words for key, words, _ in _BODY if key not in mm and key != "depth"]
        if missing:
            raise EditRefused(f"{missing[0]} is blank: measure it")
        for words, entry in (("thread", self._thread), ("casing's mass", self._mass)):
            self.filled(words, entry, "read or weigh it")
        return MeasuredBody(
            thread=self._thread.text().strip(),
            face_diameter_mm=mm["face"],
            depth_mm=mm.get("depth"),
            width_mm=mm["width"],
            height_mm=mm["height"],
            length_mm=mm["length"],
            mass_kg=self._read("casing's mass", self._mass, "kg"),
        )

    def _length(self, words: str, entry: QLineEdit) -> float:
        return self._read(words, entry, "mm")

    def _read(self, words: str, entry: QLineEdit, unit: str) -> float:
        """Return what was typed in `unit`, as every cell of the sheet reads it."""
        read = typed(
            Field((), words, None, "quantity", unit), entry.text(), self._door.bracket, inch=self._inch
        )
        return float(str(read))


def _known(casing: Casing | None) -> dict[tuple[str, str], str]:
    """Return the distances of the bosses that are there already; none where one lies behind another."""
    if casing is None:
        return {}
    places = {SHAFT: (0.0, 0.0)} | {boss.name: boss.at_mm[:2] for boss in casing.bosses}
    apart = {(a, b): math.dist(places[a], places[b]) for a, b in itertools.combinations(places, 2)}
    return {pair: f"{mm:.2f} mm" for pair, mm in apart.items() if mm >= _LEAST_APART_MM}


def _now(casing: Casing | None, key: str) -> str:
    """Return what is known of the casing's body."""
    if casing is None:
        return ""
    low, high = casing.envelope.low_mm, casing.envelope.high_mm
    sizes = {"width": high[0] - low[0], "height": high[1] - low[1], "length": high[2] - low[2]}
    if casing.bosses:
        sizes["face"] = casing.bosses[0].face_diameter_mm
        depth = casing.bosses[0].depth_mm
        if depth is None and key == "depth":
            return ""
        sizes["depth"] = depth or 0.0
    return f"{sizes[key]:g} mm" if key in sizes else ""
