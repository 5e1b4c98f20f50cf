"""The page of the record: somebody's bracket, read only, with its claim, the check-list and the decision."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.record.open_items import OpenItem
from app.record.record_name import SUFFIX
from app.register.entry import Entry
from app.theme import Theme
from app.window.asks import Asks
from app.window.inspection.bracket_leaf import BracketLeaf
from app.window.inspection.check_leaf import CheckLeaf
from app.window.inspection.comparison_leaf import ComparisonLeaf
from app.window.inspection.decision_leaf import DecisionLeaf
from app.window.inspection.desk import Computes, InspectionDesk
from app.window.inspection.inspection_judge import InspectionJudge
from app.window.inspection.leads_to import first_bolt, leaf_of
from app.window.inspection.measured_leaf import MeasuredLeaf
from app.window.inspection.open_side import OpenSide
from app.window.inspection.outputs import Outputs
from app.window.inspection.photo_leaf import PhotoLeaf
from app.window.inspection.record_keeper import RecordKeeper
from app.window.inspection.register_leaf import RegisterLeaf
from app.window.leaf_row import LeafRow
from app.window.lists.caption import Link
from app.window.mounted_painting import Painting
from app.window.said_line import SaidLine
from app.window.seeing import Seeing
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.finding import Finding

_LEAVES: Final = ("Comparison", "Bracket", "Check-list", "Measured", "Photographs", "Decision", "Register")
_KEYS: Final = {"save": "Ctrl+S", "open": "Ctrl+O", "undo": "Ctrl+Z", "redo": "Ctrl+Shift+Z"}
_SIDE_PX: Final = 400


class RecordPage(QWidget):
    """Holds the inspection; nothing of the bracket's file is ever written from here."""

    def __init__(
        self, asks: Asks, seeing: Seeing, judge: Computes | None = None, painting: Painting | None = None
    ) -> None:
        super().__init__()
        self._asks, self._seeing = asks, seeing
        look = seeing.theme
        self.desk = InspectionDesk(InspectionJudge(self) if judge is None else judge, self)
        self.keeper = RecordKeeper(self.desk, self)
        self.outputs = Outputs(self.desk, asks)
        self._others = False
        """Whether a file was opened here, so that the sheet's bracket no longer counts."""
        self.side = OpenSide(self.desk, look)
        self.comparison = ComparisonLeaf(self.desk, look)
        self.bracket = BracketLeaf(self.desk, look, painting)
        self.check_list = CheckLeaf(self.desk, look)
        self.measured = MeasuredLeaf(self.desk, look)
        self.photographs = PhotoLeaf(self.desk, look)
        self.decision = DecisionLeaf(self.desk, look)
        self.register = RegisterLeaf(self.desk, look)
        self.said = SaidLine(look)
        self.turns = LeafRow([self.tr(words) for words in _LEAVES], look, spacing=9)
        self._doings = [
            (Link(self.tr(words), look), do)
            for words, do in (
                ("Open somebody's bracket…", self.open),
                ("Take up a record…", self.open_record),
                ("Judge under a profile…", self.open_profile),
                ("Save record…", self.save_as),
                ("Letter of open items…", self.write_letter),
                ("Sheet for the car…", self.write_sheet),
                ("Report…", self.write_report),
            )
        ]
        self._lay_out()
        self._listen(seeing)
        self.turn_to(0)
        self.set_theme(look)

    @property
    def leaf(self) -> str:
        """Return the words of the leaf that lies on top."""
        return _LEAVES[self.turns.place]

    def turn_to(self, place: int) -> None:
        """Lay a leaf on top, by its place."""
        self.turns.turn_to(place)

    def take_keys(self) -> None:
        """Let the leaf on top have the keys, where it has keys of its own; else the page."""
        of_its_own: dict[str, QWidget] = {
            "Bracket": self.bracket.view,
            "Check-list": self.check_list.lines,
            "Register": self.register.list,
        }
        of_its_own.get(self.leaf, self).setFocus()

    def turn_to_words(self, words: str) -> None:
        """Lay a leaf on top, by its words."""
        self.turn_to(_LEAVES.index(words))

    def look_at_sheet(self, bracket: Bracket, path: Path | None, findings: tuple[Finding, ...] = ()) -> None:
        """Inspect the bracket on the sheet, unless somebody else's is inspected already.

        What was found about its file stands against the verdict here too.
        """
        same = self.desk.bracket == bracket and self.desk.path == path and self.desk.findings == findings
        if self._others or same:
            return
        if self.may_leave():
            self.desk.look_at(bracket, path, findings)
            if path is None:
                self.keeper.recover_for_sheet()
        else:
            self.desk.told.emit(
                worded(
                    "This record is of the bracket as it was before; the sheet shows"
                    " another now: save the record or let it go, and turn to this page again."
                )
            )

    def open(self) -> None:
        """Ask for somebody's bracket file and open it, to be read only."""
        path = self._asks.bracket_to_open(self.outputs.folder)
        if path is not None:
            self.open_path(path)

    def open_path(self, path: Path) -> None:
        """Open somebody's bracket file, to be read only."""
        if self.may_leave() and self.desk.open_path(path):
            self._others = True
            self.turn_to(0)

    def open_record(self) -> None:
        """Ask for a record and go on with it."""
        path = self._asks.record_to_open(self.outputs.folder)
        if path is not None and self.may_leave():
            self.desk.open_record(path)
            self.desk.compute()

    def open_entry(self, entry: Entry) -> None:
        """Open a record that stands in the register, with the bracket beside it."""
        record = Path(entry.record_file)
        bracket = record.with_name(Path(entry.bracket_file).name or ".")
        if not (record.is_file() and bracket.is_file()):
            lost = bracket if record.is_file() else record
            self.desk.told.emit(
                worded(
                    "{lost} is not there: put it back, or open the bracket where it is and"
                    " take up its record.",
                    lost=lost,
                )
            )
            return
        self.open_path(bracket)
        if self.desk.path == bracket and self.desk.record_path != record:
            self.desk.open_record(record)
            self.desk.compute()

    def open_profile(self) -> None:
        """Ask for a profile and judge under it."""
        path = self._asks.profile_to_open(self.outputs.folder)
        if path is not None:
            self.desk.take_profile(path)

    def save(self) -> bool:
        """Save the record where it is kept, or ask; return whether it was saved."""
        self.setFocus()  # what is being typed is taken first
        path = self.desk.record_path
        return self.desk.save(path) if path is not None and path.is_file() else self.save_as()

    def save_as(self) -> bool:
        """Ask where to save the record, and save it there; return whether it was saved."""
        self.setFocus()
        suggested = self.desk.record_path or self.outputs.folder / f"bracket{SUFFIX}"
        path = self._asks.where_to_save_record(suggested)
        return path is not None and self.desk.save(path)

    def may_leave(self) -> bool:
        """Return whether the record may go: it is saved, or is not wanted."""
        if not self.desk.has_unsaved_work:
            return True
        answer = self._asks.leave_unsaved(f"The record of {self.desk.record.title or 'this bracket'}")
        return answer == "leave" or (answer == "save" and self.save())

    def recover(self) -> None:
        """Go on with a record that a crash left behind, if there is one."""
        self._others = self.keeper.recover() or self._others

    def leave(self) -> None:
        """End what computes and what keeps the record aside."""
        self.keeper.leave()
        self.desk.leave()

    def write_letter(self) -> None:
        """Ask where to write the letter of open items, and write it."""
        self.outputs.write(self.desk.letter(), "letter", inch=self._seeing.inch)

    def write_sheet(self) -> None:
        """Ask where to write the sheet for the car, and write it."""
        self.outputs.write(self.desk.car_sheet(), "car_sheet", inch=self._seeing.inch)

    def write_report(self) -> None:
        """Ask where to write the report with this record in it, and write it."""
        self.setFocus()
        self.outputs.report(inch=self._seeing.inch)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        for leaf in self._all_leaves:
            leaf.set_theme(theme)
        self.side.set_theme(theme)
        self.said.set_theme(theme)
        self.turns.set_theme(theme)
        for link, _ in self._doings:
            link.set_theme(theme)

    def event(self, event: QEvent) -> bool:
        """Keep saving, opening and undo for the record while this page lies on top."""
        overrides = event.type() == QEvent.Type.ShortcutOverride
        if overrides and isinstance(event, QKeyEvent) and self._asked(event) is not None:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Save the record, open a bracket to inspect, undo and redo."""
        doings = {"save": self.save, "open": self.open, "undo": self.desk.undo, "redo": self.desk.redo}
        asked = self._asked(event)
        if asked is None:
            super().keyPressEvent(event)
        else:
            doings[asked]()

    @property
    def _all_leaves(
        self,
    ) -> tuple[ComparisonLeaf, BracketLeaf, CheckLeaf, MeasuredLeaf, PhotoLeaf, DecisionLeaf, RegisterLeaf]:
        return (
            self.comparison, self.bracket, self.check_list, self.measured, self.photographs, self.decision,
            self.register,
        )  # fmt: skip

    def _asked(self, event: QKeyEvent) -> str | None:
        pressed = QKeySequence(event.keyCombination())
        return next((name for name, keys in _KEYS.items() if pressed == QKeySequence(keys)), None)

    def _lay_out(self) -> None:
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(self.tr("Record of an inspection"))
        self.side.setMaximumWidth(_SIDE_PX)
        doings = QHBoxLayout()
        doings.setSpacing(14)
        for link, do in self._doings:
            link.say(link.text())
            link.clicked.connect(lambda _=False, do=do: do())
            doings.addWidget(link)
        doings.addStretch(1)
        right = QVBoxLayout()
        right.addWidget(self.turns)
        right.addWidget(self.turns.stack(self._all_leaves), 1)
        both = QHBoxLayout()
        both.setSpacing(18)
        both.addWidget(self.side, 1)
        both.addLayout(right, 2)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(16, 10, 16, 6)
        whole.addLayout(both, 1)
        whole.addWidget(self.said)
        whole.addLayout(doings)

    def _listen(self, seeing: Seeing) -> None:
        self.desk.told.connect(self.said.say)
        self.turns.turned.connect(lambda _place: self.take_keys())
        self.side.item_picked.connect(self._go_to)
        self.photographs.choose_wanted.connect(
            lambda: self.photographs.take(self._asks.photographs_to_take(self.outputs.folder))
        )
        self.register.open_wanted.connect(self.open_entry)
        self.register.out_wanted.connect(lambda: self.outputs.list_out(self.register.write))
        self.register.in_wanted.connect(lambda: self.outputs.list_in(self.register.take))
        for leaf in (self.bracket, self.measured, self.comparison, self.side, self.register):
            seeing.inch_changed.connect(leaf.set_inch)
            leaf.set_inch(seeing.inch)

    def _go_to(self, item: OpenItem) -> None:
        leaf = leaf_of(item)
        self.turn_to_words(leaf)
        if item.line is not None:
            self.check_list.go_to(item.line)
        elif leaf == "Bracket":
            self.bracket.point_at_bolt(first_bolt(item))
        elif leaf == "Decision":
            self.decision.name.setFocus()
