"""The decision: what it is, its conditions and reason, remarks, and who decides when."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QGridLayout, QPlainTextEdit, QRadioButton, QVBoxLayout, QWidget

from app.record.due import conditions_told, with_conditions
from app.record.record import HASH_WORDS, DecisionWord
from app.theme import Theme
from app.window.inspection.desk import InspectionDesk
from app.window.inspection.sides import Entry, LeafCaption, leaf_style
from app.window.lists.caption import plain_label

DECISIONS: Final[tuple[tuple[DecisionWord, str], ...]] = (
    ("undecided", "Undecided"),
    ("accept", "Accept"),
    ("accept with conditions", "Accept with conditions"),
    ("refuse", "Refuse"),
    ("ask", "Ask the builder"),
)


class DecisionLeaf(QWidget):
    """Accepting while anything is open is refused with a sentence."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.name = Entry(self.tr("Certifier's name"), lambda t: self._put(certifier=t))
        self.date = Entry(self.tr("Date, as 2031-04-30"), lambda t: self._put(date=t))
        self.choices = {word: QRadioButton(self.tr(said)) for word, said in DECISIONS}
        self.conditions = _Words(self.tr("Conditions, one a line"), self._put_conditions)
        self.reason = _Words(
            self.tr("Reason to accept although the computed verdict is FAIL; it is printed"),
            lambda t: self._put(reason=t),
        )
        self.remarks = _Words(self.tr("Remarks"), lambda t: self._put(remarks=t))
        self._captions: list[LeafCaption] = []
        self._hash = plain_label(HASH_WORDS)
        self._why = plain_label()
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        self._captioned(grid, 0, 0, self.tr("certifier"), self.name, theme)
        self._captioned(grid, 0, 1, self.tr("date, as 2031-04-30"), self.date, theme)
        choices = QVBoxLayout()
        for word, button in self.choices.items():
            button.clicked.connect(lambda _=False, word=word: self._decide(word))
            choices.addWidget(button)
        choices.addWidget(self._why)
        choices.addStretch(1)
        grid.addLayout(choices, 2, 0, 2, 1)
        self._captioned(
            grid,
            2,
            1,
            self.tr("conditions, one a line; a day by which: refit bolt 3 by 2031-05-30"),
            self.conditions,
            theme,
        )
        self._captioned(
            grid, 4, 0, self.tr("reason, if the computed verdict is FAIL; it is printed"), self.reason, theme
        )
        self._captioned(grid, 4, 1, self.tr("remarks"), self.remarks, theme)
        grid.setRowStretch(3, 1)
        grid.setRowStretch(5, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(grid, 1)
        column.addWidget(self._hash)
        desk.changed.connect(self._show)
        self.set_theme(theme)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(leaf_style(theme))
        self._hash.setStyleSheet(f"color: {theme.pencil};")
        for caption in self._captions:
            caption.set_theme(theme)

    def _captioned(
        self, grid: QGridLayout, row: int, column: int, words: str, entry: QWidget, theme: Theme
    ) -> None:
        caption = LeafCaption(words, theme)
        caption.setBuddy(entry)
        self._captions.append(caption)
        grid.addWidget(caption, row, column)
        grid.addWidget(entry, row + 1, column)

    def _show(self) -> None:
        record = self._desk.record
        self.name.stand(record.certifier)
        self.date.stand(record.date)
        for entry, text in (
            (self.conditions, "\n".join(conditions_told(record))),
            (self.reason, record.reason),
            (self.remarks, record.remarks),
        ):
            entry.stand(text)
        with QSignalBlocker(self):
            self.choices[record.decision].setChecked(True)
        count = len(self._desk.items)
        self._why.setText(
            self.tr("{0} open: it cannot be accepted while anything is open").replace("{0}", str(count))
            if count
            else self.tr("Nothing is open.")
        )

    def _decide(self, word: DecisionWord) -> None:
        self.setFocus()  # what is being typed is taken first
        self._desk.decide(word)
        self._show()

    def _put(self, **changes: object) -> bool:
        return self._desk.change(lambda record: record.but(**changes))

    def _put_conditions(self, text: str) -> bool:
        return self._desk.change(lambda record: with_conditions(record, text.splitlines()))


class _Words(QPlainTextEdit):
    """Several lines of words, taken when they are left; Tab goes on to the next entry."""

    left = Signal()

    def __init__(self, told: str, done: Callable[[str], bool]) -> None:
        super().__init__()
        self._done = done
        self._stands = ""
        self.setTabChangesFocus(True)
        self.setAccessibleName(told)

    def stand(self, text: str) -> None:
        """Show what stands in the record, unless something is being typed."""
        if text != self._stands or not self.hasFocus():
            self._stands = text
            if self.toPlainText() != text:
                self.setPlainText(text)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Take what was typed."""
        super().focusOutEvent(event)
        typed = self.toPlainText().strip()
        if typed != self._stands and not self._done(typed):
            self.setPlainText(self._stands)
