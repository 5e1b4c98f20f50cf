"""Stand a plate by its holes: this hole on that boss, this hole on the dash bar."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel

from app.editing.refused import EditRefused
from app.editing.standing import HoleOn, Partner, stand_by_holes
from app.theme import Theme
from app.window.door import Door
from app.window.forms.form import Form
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole
from geometry.plate import CutOut

_NOT: Final = "-"


class StandingForm(Form):
    """Two holes, or three, each with what it is put on."""

    def __init__(self, door: Door, theme: Theme) -> None:
        plate = door.shown_plate
        if not plate:
            raise EditRefused("There is no plate to stand: draw one or begin with a stock shape.")
        super().__init__(
            f"Stand {plate} by its holes",
            "The first boss, anchor or hole named is met exactly; the plate is turned about it until the "
            "others lie on theirs as nearly as can be.",
            "Stand it so",
            theme,
        )
        self._door, self._plate = door, plate
        bracket = door.bracket
        holes = [o.name for o in bracket.plate(plate).openings if not isinstance(o, CutOut)]
        self._partners = _partners(bracket, plate)
        if len(holes) < 2 or not self._partners:
            raise EditRefused(
                f"{plate} stands by two of its holes, on bosses, the dash bar, anchors or another plate: "
                "make these first."
            )
        bolted = [(bolt.hole, _words(bolt.joins)) for bolt in bracket.bolts if bolt.plate == plate]
        self._rows = [self._row(k, holes, bolted[k] if k < len(bolted) else None) for k in range(3)]
        self._judge()

    def is_done(self) -> bool:
        """Stand the plate; say why if the holes do not reach."""
        try:
            standing = stand_by_holes(self._door.bracket, self._plate, *self._wanted())
        except EditRefused as refused:
            self.say(str(refused), bad=True)
            return False
        wanted = self._wanted()
        if not self._door.attempt(
            f"stand {self._plate}", lambda bracket: stand_by_holes(bracket, self._plate, *wanted).bracket
        ):
            return False
        self._door.tell(f"{standing.words[:1].upper()}{standing.words[1:]}.")
        return True

    def _row(
        self, number: int, holes: list[str], taken: tuple[str, str] | None
    ) -> tuple[QComboBox, QComboBox]:
        hole, partner = QComboBox(), QComboBox()
        hole.addItems([_NOT, *holes] if number == 2 else holes)
        partner.addItems(list(self._partners))
        if taken is not None:
            hole.setCurrentText(taken[0])
            partner.setCurrentText(taken[1])
        elif number < 2:
            hole.setCurrentIndex(number)
        row = QHBoxLayout()
        for words, box in (("hole", hole), ("on", partner)):
            row.addWidget(QLabel(words))
            row.addWidget(box, 1)
            box.setAccessibleName(worded("{words}, row {number}", words=words, number=number + 1))
            box.currentTextChanged.connect(self._judge)
        self.rows.addLayout(row)
        return hole, partner

    def _judge(self) -> None:
        if not hasattr(self, "_rows"):
            return
        try:
            standing = stand_by_holes(self._door.bracket, self._plate, *self._wanted())
        except EditRefused as refused:
            self.say(str(refused))
        else:
            self.say(f"{standing.words[:1].upper()}{standing.words[1:]}.")

    def _wanted(self) -> tuple[HoleOn, HoleOn] | tuple[HoleOn, HoleOn, HoleOn]:
        first, second, third = (
            (hole.currentText(), self._partners[partner.currentText()]) for hole, partner in self._rows
        )
        return (first, second) if third[0] == _NOT else (first, second, third)


def _partners(bracket: Bracket, plate: str) -> dict[str, Partner]:
    """Return all that a hole can be put on, by the words for it."""
    found: list[Partner] = []
    if bracket.casing is not None:
        found += [AtBoss(boss=boss.name) for boss in bracket.casing.bosses]
    if bracket.dash_bar is not None:
        found.append(AtDashBar())
    found += [AtAnchor(anchor=anchor.name) for anchor in bracket.anchors]
    for other in bracket.plates:
        if other.name != plate:
            holes = [o.name for o in other.openings if not isinstance(o, CutOut)]
            found += [AtHole(plate=other.name, opening=name) for name in holes]
    return {_words(partner): partner for partner in found}


def _words(partner: Partner) -> str:
    match partner:
        case AtBoss():
            return f"boss {partner.boss}"
        case AtAnchor():
            return f"anchor {partner.anchor}"
        case AtHole():
            return f"hole {partner.opening} of {partner.plate}"
    return "the dash bar"
