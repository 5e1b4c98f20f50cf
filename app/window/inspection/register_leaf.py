"""The register: every inspection that was added, what is overdue first; search, open, add, out and in."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.register.csv_list import read_csv, write_csv
from app.register.database import Register
from app.register.entry import Entry, Numbered, entry_of, other_records, overdue_first
from app.register.register_error import RegisterError
from app.theme import Theme
from app.window.inspection.desk import InspectionDesk
from app.window.inspection.sides import leaf_style
from app.window.lists.caption import plain_label, plain_tip, thin_bar
from app.wording.figures import Units, sentence_in_units

_NUMBERED: Final = Qt.ItemDataRole.UserRole


class RegisterLeaf(QWidget):
    """Enter in the list, or in the search, opens the record it stands on."""

    open_wanted = Signal(object)
    """The Entry to open."""
    out_wanted = Signal()
    """A place for a list is to be asked for, for `write`."""
    in_wanted = Signal()
    """A list is to be asked for, for `take`."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._theme = desk, theme
        self._all: tuple[Numbered, ...] = ()
        self._trouble = ""
        self._units: Units = "mm"
        self.search = _Search()
        self.search.setPlaceholderText(self.tr("search: a name, a word, a date, a hash"))
        self.search.setAccessibleName(self.tr("Search the register"))
        self.search.textChanged.connect(self._fill)
        self.list = _List()
        self.list.setAccessibleName(self.tr("Register of inspected brackets"))
        self.list.entered.connect(self._open)
        self.list.itemDoubleClicked.connect(lambda _item: self._open())
        self.search.left.connect(self.list.setFocus)
        self.search.entered.connect(self._open)
        self._count = plain_label()
        self._count.setAccessibleName(self.tr("What is in the register"))
        doings = QHBoxLayout()
        for words, do in (
            (self.tr("Open its record"), self._open),
            (self.tr("Add this one"), self.add_this),
            (self.tr("Write as CSV…"), self.out_wanted.emit),
            (self.tr("Take in a CSV…"), self.in_wanted.emit),
        ):
            button = QPushButton(words)
            button.clicked.connect(lambda _=False, do=do: do())
            doings.addWidget(button)
        doings.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.search)
        column.addWidget(self.list, 1)
        column.addWidget(self._count)
        column.addLayout(doings)
        self.set_theme(theme)

    @property
    def said(self) -> str:
        """Return what is said of the register."""
        return self._count.text()

    @property
    def titles(self) -> tuple[str, ...]:
        """Return what the rows are called, from the top."""
        rows = (self.list.item(row).data(_NUMBERED) for row in range(self.list.count()))
        return tuple(_title(one.entry) for one in rows)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.setStyleSheet(
            leaf_style(theme)
            + f"QListWidget::item {{ padding: 4px 4px; border-bottom: 1px solid {theme.faint}; }}"
        )
        self.list.verticalScrollBar().setStyleSheet(thin_bar(theme))
        self._count.setStyleSheet(f"color: {theme.pencil};")

    def set_inch(self, inch: bool) -> None:
        """Tell figures in pounds and feet too."""
        self._units = "inch" if inch else "mm"
        self._fill()

    def look(self) -> None:
        """Read the register anew; what is wrong with it is said in the leaf."""
        self._trouble, self._all = "", ()
        try:
            self._all = Register().newest()
        except RegisterError as error:
            self._trouble = str(error)
        self._fill()

    def add_this(self) -> None:
        """Add the inspection that lies open, as it is saved."""
        desk = self._desk
        path = desk.record_path
        if path is None or not desk.is_kept or desk.has_unsaved_work:
            desk.told.emit(self.tr("Save the record first: the register says where it is kept."))
            return
        if desk.results is None:
            desk.told.emit(self.tr("Wait until all is computed: the register says what the verdict was."))
            return
        entry = entry_of(
            desk.record, path, desk.items, desk.standing, desk.judgements.verdict,
            desk.results.holds_to_nm, desk.profile.called,
        )  # fmt: skip
        title = entry.title or path.name

        def add() -> str:
            new = Register().add([entry]).new
            return (
                f"{title} is in the register." if new else f"{title} stands in the register just so already."
            )

        self._do(add)

    def write(self, path: Path) -> None:
        """Write every entry as CSV."""

        def out() -> str:
            count = write_csv(path, Register().every(), datetime.date.today())
            return f"Written to {path}: {count} {'entry' if count == 1 else 'entries'}."

        self._do(out)

    def take(self, path: Path) -> None:
        """Take the entries of a CSV into the register, all or none."""

        def take() -> str:
            added = Register().add(read_csv(path), from_list=True)
            return f"Added {added.new} from {path.name}; {added.known} stood there just so already."

        self._do(take)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Read the register anew: another window may have added to it."""
        super().showEvent(event)
        self.look()

    def _do(self, deed: Callable[[], str]) -> None:
        try:
            told = deed()
        except RegisterError as error:
            told = str(error)
        self.look()
        self._desk.told.emit(told)

    def _fill(self) -> None:
        today = datetime.date.today()
        wanted = self.search.text()
        listed = overdue_first((one for one in self._all if one.entry.holds(wanted)), today)
        late = sum(1 for one in listed if one.entry.overdue(today))
        with QSignalBlocker(self.list):
            self.list.clear()
            for one in listed:
                self.list.addItem(_row(one, today, other_records(one, self._all), self._units))
            self.list.setCurrentRow(0 if listed else -1)
        count = f"{len(listed)} of {len(self._all)}" if wanted.strip() else f"{len(listed)}"
        things = "inspection" if len(self._all) == 1 else "inspections"
        self._count.setText(
            self._trouble
            or (
                f"{count} {things}, {late} overdue."
                if self._all
                else self.tr("Nothing is in the register yet.")
            )
        )

    def _open(self) -> None:
        row = self.list.currentItem()
        one = None if row is None else row.data(_NUMBERED)
        if isinstance(one, Numbered):
            self.open_wanted.emit(one.entry)


class _Search(QLineEdit):
    entered = Signal()
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go down into the list, or open what leads it."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        elif event.key() == Qt.Key.Key_Down:
            self.left.emit()
        else:
            super().keyPressEvent(event)


class _List(QListWidget):
    """Enter opens the record that is stood on."""

    entered = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Open it."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        else:
            super().keyPressEvent(event)


def _row(one: Numbered, today: datetime.date, others: str, units: Units) -> QListWidgetItem:
    """Return a row of two lines: whose bracket and what is due, then how it stands."""
    entry = one.entry
    late = entry.overdue(today)
    due = late[0] if late else next(iter(entry.due), None)
    due_words = "" if due is None else f"   {'OVERDUE' if late else 'due'} {due.by}: {due.words}"
    holds = "" if entry.holds_to_nm is None else f", holds to {entry.holds_to_nm:.3g} N.m"
    told = sentence_in_units(f"{entry.verdict.upper() or 'nothing computed'}{holds}", units)
    under = (
        entry.standing or entry.decision, told,
        f"{entry.open_items} open", entry.date or "no date", entry.certifier or "no name",
        *((others,) if others else ()),
    )  # fmt: skip
    row = QListWidgetItem(f"{one.number}   {_title(entry)}{due_words}\n{';  '.join(under)}")
    font = row.font()
    font.setBold(bool(late))
    row.setFont(font)
    row.setToolTip(plain_tip(entry.record_file))
    row.setData(_NUMBERED, one)
    return row


def _title(entry: Entry) -> str:
    return entry.title or entry.bracket_file or Path(entry.record_file).name
