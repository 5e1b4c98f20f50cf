"""A table that is read, not changed: rows of words under heads, drawn as the sheet is."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QAbstractItemView, QTableWidget, QTableWidgetItem

from app.theme import Theme
from app.window.lists.caption import thin_bar


class PlainTable(QTableWidget):
    """Filled anew each time."""

    def __init__(self, spoken_name: str) -> None:
        super().__init__()
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.verticalHeader().hide()
        self.setAccessibleName(spoken_name)

    def fill(self, heads: Sequence[str], rows: Sequence[Sequence[str]], tips: Sequence[str] = ()) -> None:
        """Show rows of words; each row may have a tip."""
        self.setColumnCount(len(heads))
        self.setHorizontalHeaderLabels(list(heads))
        self.setRowCount(len(rows))
        for number, row in enumerate(rows):
            for column, words in enumerate(row):
                item = QTableWidgetItem(words)
                if tips:
                    item.setToolTip(tips[number])
                self.setItem(number, column, item)
        self.resizeColumnsToContents()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(
            f"QTableWidget {{ background: {theme.ground}; color: {theme.ink}; border: none;"
            f" gridline-color: {theme.faint}; }}"
            f"QTableWidget::item:selected {{ background: {theme.plate_back}; color: {theme.ink}; }}"
            f"QHeaderView::section {{ background: {theme.ground}; color: {theme.pencil}; border: none;"
            f" border-bottom: 1px solid {theme.ink}; padding: 2px 4px; }}"
        )
        self.verticalScrollBar().setStyleSheet(thin_bar(theme))
