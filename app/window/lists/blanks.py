"""How many blanks stand before a verdict, and the way to each."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.lists.blank_places import BlankPlace, blank_places, pick_of
from app.window.lists.caption import Link, plain_tip
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from solver.results import QuickAnswer, Results


class Blanks(QWidget):
    """Tells the count of blanks; pressing it goes to the next one."""

    jump = Signal(object)
    """The path of the field that is to be filled, for parts list and notes to go to."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._door = door
        self._blanks: tuple[BlankPlace, ...] = ()
        self._last: BlankPlace | None = None
        self._link = Link("", theme)
        self._link.clicked.connect(self.next_blank)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self._link)
        line.addStretch(1)
        self._counted: Bracket | None = None
        self.set_findings(findings_of(door.bracket))

    @property
    def blanks(self) -> tuple[BlankPlace, ...]:
        """Return every blank, counted anew if the bracket has changed since."""
        if self._counted is not self._door.bracket:
            self.set_findings(findings_of(self._door.bracket))
        return self._blanks

    def set_findings(self, findings: Sequence[Finding]) -> None:
        """Take what was found about the bracket as it stands, and count the blanks in it."""
        self._counted = self._door.bracket
        self._blanks = blank_places(self._counted, findings)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._link.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Take the units; a count has none."""

    def set_results(self, results: Results | None, state: str) -> None:
        """Take results; blanks are found before anything is solved."""

    def set_quick(self, answer: QuickAnswer | None) -> None:
        """Take a quick answer; it fills no blank."""

    def next_blank(self) -> BlankPlace | None:
        """Go to the blank after the one gone to last, wherever it is; return it, or None if there is none."""
        blanks = self.blanks
        if not blanks:
            self._door.tell("")
            return None
        place = blanks.index(self._last) + 1 if self._last in blanks else 0
        self._last = blanks[place % len(blanks)]
        self._door.tell(self._last.sentence)
        pick = pick_of(self._last.path)
        if pick is not None:
            self._door.select(pick)
        self.jump.emit(self._last.path)
        return self._last

    def _show(self) -> None:
        count = len(self._blanks)
        if not count:
            self._link.say(self.tr("no blanks"), self.tr("Before a verdict: no blanks"))
        elif count == 1:
            self._link.say(self.tr("1 blank"), self.tr("Before a verdict: 1 blank; go to it"), strong=True)
        else:
            words = self.tr("{0} blanks").replace("{0}", str(count))
            told = self.tr("Before a verdict: {0} blanks; go to the next").replace("{0}", str(count))
            self._link.say(words, told, strong=True)
        self._link.setEnabled(bool(count))
        self._link.setToolTip(plain_tip("\n".join(blank.sentence for blank in self._blanks[:6])))
