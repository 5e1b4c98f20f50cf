"""What was measured on the bracket as built, beside what is drawn; and what the proof says."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from app.editing.refused import EditRefused
from app.record.proof import cards_of, proof_words, untold
from app.record.record import Record
from app.record.stiffness import stiffness_lines
from app.theme import Theme
from app.window.inspection.desk import InspectionDesk
from app.window.inspection.measured_rows import rows_of
from app.window.inspection.row import Put, Row
from app.window.inspection.sides import Entry, leaf_style
from app.window.lists.caption import plain_label, thin_bar
from app.wording.figures import Units, sentence_in_units
from geometry.units import UnitError

_COLUMNS: Final = 2
_SAID_PX: Final = 116
"""Of what is said under the rows; more of it is scrolled to."""
_WIDE_PX: Final = 700
"""Narrower leaves have one column."""


class MeasuredLeaf(QWidget):
    """Rows of entries in two columns; under them what differs and what is expected."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._theme, self._inch = desk, theme, False
        self._columns = _COLUMNS
        self._entries: list[Entry] = []
        self._labels: list[tuple[str, str, str]] = []
        self._puts: list[Put] = []
        self._pencilled: list[QLabel] = []
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._said = plain_label()
        self._said.setAccessibleName(self.tr("What the measured values say"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._scroll, 1)
        under = QScrollArea()
        under.setWidgetResizable(True)
        under.setMaximumHeight(_SAID_PX)
        under.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        under.setWidget(self._said)
        self._said.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._under = under
        column.addWidget(under)
        desk.changed.connect(self._show)
        self.set_theme(theme)
        self._show()

    @property
    def said(self) -> str:
        """Return what is said of the measured values."""
        return self._said.text()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Return the entries in their order."""
        return tuple(self._entries)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.setStyleSheet(leaf_style(theme))
        for area in (self._scroll, self._under):
            area.verticalScrollBar().setStyleSheet(thin_bar(theme))
        for label in self._pencilled:
            label.setStyleSheet(f"color: {theme.pencil};")

    def set_inch(self, inch: bool) -> None:
        """Read and show lengths in inches."""
        self._inch = inch
        self._show()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Lay the rows out in as many columns as there is room for."""
        super().resizeEvent(event)
        columns = _COLUMNS if self.width() >= _WIDE_PX else 1
        if columns != self._columns:
            self._columns, self._labels = columns, []
            self._show()

    def _show(self) -> None:
        desk = self._desk
        cards = cards_of(desk.bracket, desk.results)
        rows = rows_of(desk.bracket, desk.record, cards, inch=self._inch)
        labels = [(row.section, row.words, row.drawn) for row in rows]
        if labels != self._labels:
            self._labels = labels
            self._lay_out(rows)
        self._puts = [row.put for row in rows]
        for entry, row in zip(self._entries, rows, strict=True):
            entry.stand(row.stands)
        units: Units = "inch" if self._inch else "mm"
        self._said.setText("\n".join(sentence_in_units(said, units) for said in self._sayings()))

    def _lay_out(self, rows: list[Row]) -> None:
        self._entries, self._pencilled = [], []
        held = QWidget()
        grid = QGridLayout(held)
        grid.setContentsMargins(4, 2, 8, 2)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(3)
        line, column, section = 0, 0, ""
        for number, row in enumerate(rows):
            if row.section != section:
                section = row.section
                line, column = line + (1 if column else 0), 0
                heading = plain_label(section)
                heading.setIndent(0)
                heading.setStyleSheet("font-weight: bold; padding-top: 6px;")
                grid.addWidget(heading, line, 0, 1, 3 * self._columns)
                line += 1
            self._add(grid, line, column * 3, number, row)
            column += 1
            if column == self._columns:
                line, column = line + 1, 0
        grid.setRowStretch(line + 1, 1)
        for place in range(self._columns):
            grid.setColumnStretch(place * 3 + 2, 1)
        self._scroll.setWidget(held)

    def _add(self, grid: QGridLayout, line: int, column: int, number: int, row: Row) -> None:
        # three places in inches are long: in one line they would push the entries out of sight
        drawn = plain_label(row.drawn)
        drawn.setStyleSheet(f"color: {self._theme.pencil};")
        self._pencilled.append(drawn)
        told = f"{row.words}, drawn {row.drawn}" if row.drawn else row.words
        entry = Entry(f"{row.section}: {told}", lambda text: self._put(number, text))
        entry.setMinimumWidth(90)
        label = plain_label(row.words, wrapped=False)
        label.setMaximumWidth(200)
        label.setToolTip("")
        grid.addWidget(label, line, column)
        grid.addWidget(drawn, line, column + 1)
        grid.addWidget(entry, line, column + 2)
        self._entries.append(entry)

    def _put(self, number: int, text: str) -> bool:
        def edit(record: Record) -> Record:
            try:
                return self._puts[number](record, text)
            except UnitError as error:
                raise EditRefused(str(error)) from error

        return self._desk.change(edit)

    def _sayings(self) -> list[str]:
        desk = self._desk
        compared = desk.comparison
        said = [*compared.as_built.differences, *compared.as_built.misfits]
        said += [compared.built_line] if compared.built_line else []
        for proof in desk.record.measured.proof:
            said.append(proof_words(proof, desk.results, desk.bracket))
            said += [tells] if (tells := untold(proof, desk.results, desk.bracket)) else []
        said += [line.words for line in stiffness_lines(desk.record, desk.bracket)]
        return said or [self.tr("Nothing measured differs from what is drawn; no proof is written down.")]
