"""The parts list: a table as ISO 7573 lays it out, in which every number is typed over in its cell."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.lists.caption import small
from app.window.lists.entries import Entries
from app.window.lists.field import Path
from app.window.lists.part_columns import PartsHead, widths_in
from app.window.lists.part_row import PAD_PX, PartRow
from app.window.lists.part_rows import part_rows
from app.window.lists.rows import Row
from app.window.lists.scrolled import Scrolled, draw_frame
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.results import BoltResult, QuickAnswer, Results

_SIZE = 0.94
"""Of the words in the table beside those of the notes: seven columns stand side by side."""


class PartsList(QFrame):
    """Rows of parts; the selected one tells the rest of itself below."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._door, self._theme = door, theme
        self._entries = Entries(door, self)
        self._opened: set[str] = set()
        self._rows: list[PartRow] = []
        self._results: Results | None = None
        self._states: tuple[BoltResult, ...] | None = None
        self._look = "ink"
        self._state = "none"
        self.setFont(small(self.font(), _SIZE))
        self._head = PartsHead(theme)
        self._scroll = Scrolled()
        self._column = self._scroll.column
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(1, 1, 1, 1)
        whole.setSpacing(0)
        whole.addWidget(self._head)
        whole.addWidget(self._scroll, 1)
        self.setAccessibleName(self.tr("Parts list"))
        self._fit = QTimer(self)
        self._fit.setSingleShot(True)
        self._fit.setInterval(0)
        self._fit.timeout.connect(self.fit_columns)
        self._scroll.viewport().installEventFilter(self)
        self._scroll.horizontalScrollBar().valueChanged.connect(self._head.scroll_to)
        door.opened.connect(self._begin_anew)
        door.changed.connect(self._show)
        door.picked.connect(self._choose)
        self.set_theme(theme)
        self._show(door.bracket)

    @property
    def rows(self) -> list[PartRow]:
        """Return the rows from top to bottom."""
        return self._rows

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self._head.set_theme(theme)
        self._scroll.set_theme(theme)
        for row in self._rows:
            row.set_theme(theme)
        self.update()

    def set_inch(self, inch: bool) -> None:
        """Show inch figures, and take bare numbers for them."""
        self._entries.inch = inch
        self._show(self._door.bracket)

    def set_findings(self, findings: Sequence[Finding]) -> None:
        """Say at each cell what was found about what stands in it."""
        self._entries.set_findings(findings)

    def set_results(self, results: Results | None, state: str) -> None:
        """Show what the analysis says of each bolt; `state` is pencil, ink, out of date or none."""
        self._results, self._state = results, state
        self._states = None if results is None or state == "none" else results.bolts
        self._look = state
        self._show(self._door.bracket)

    def set_quick(self, answer: QuickAnswer | None) -> None:
        """Show what a quick answer says of each bolt, in pencil; None goes back to the results."""
        if answer is None:
            self.set_results(self._results, self._state)
            return
        self._states, self._look = answer.bolts, "pencil"
        self._show(self._door.bracket)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for five rows."""
        return QSize(self.fontMetrics().averageCharWidth() * 66, (self.fontMetrics().height() + 6) * 6)

    def go_to(self, path: Path) -> bool:
        """Put the focus into the field of a path and bring it into view; return whether it is here."""
        for row in self._rows:
            if not row.has(path):
                continue
            self._door.select(row.row.pick)
            self._mark_chosen(row)
            edit = row.edit_at(path)
            if edit is not None:
                edit.setFocus(Qt.FocusReason.OtherFocusReason)
                self._bring(row)
                return True
        return False

    def open_row(self, key: str, opened: bool = True) -> None:
        """Show each part of a row of several below it, or no longer."""
        if opened:
            self._opened.add(key)
        else:
            self._opened.discard(key)
        self._show(self._door.bracket)

    def fit_columns(self) -> None:
        """Share the width among the columns.

        What decides, bolts and plates, is shown whole first; then the names of parts; then all the rest.
        Where not even the first has room all is shown whole, and scrolled.
        """
        room = self._scroll.viewport().width()
        metrics = (self._rows[0] if self._rows else self).fontMetrics()
        fitted = widths_in(
            room,
            heads=self._head.natural_widths(),
            rows=[row.natural_widths() for row in self._rows],
            deciding=[row.natural_widths() for row in self._rows if row.row.decides],
            part=metrics.horizontalAdvance("bolt to dash bar") + 2 * PAD_PX + 1,
        )
        wide = sum(fitted)
        self._scroll.set_least_width(wide if wide > room else 0)
        self._head.set_widths(fitted)
        for row in self._rows:
            row.set_widths(fitted, room)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Share the width anew when the table gets another, as it does when a scroll bar comes or goes."""
        if event.type() == QEvent.Type.Resize and watched is self._scroll.viewport():
            self._fit.start()
        return False

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the frame."""
        draw_frame(self, self._theme)

    def _show(self, bracket: Bracket) -> None:
        rows = part_rows(bracket, opened=self._opened, states=self._states, inch=self._entries.inch)
        old = {row.row.key: row for row in self._rows}
        self._rows = []
        for place, row in enumerate(rows):
            shown = old.pop(row.key, None)
            if shown is None:
                shown = self._made(row)
            else:
                shown.show_row(row)
            shown.set_state_look(self._look)
            self._column.insertWidget(place, shown)
            self._rows.append(shown)
        for gone in old.values():
            self._column.removeWidget(gone)
            gone.take_away()
        self._choose(self._door.pick, bring=False)
        self.fit_columns()

    def _begin_anew(self) -> None:
        """Drop every row with what was refused in it, and those that were opened."""
        for row in self._rows:
            self._column.removeWidget(row)
            row.take_away()
        self._rows = []
        self._opened.clear()

    def _made(self, row: Row) -> PartRow:
        made = PartRow(self._entries, row, self._theme)
        made.reached.connect(self._reach)
        made.toggled.connect(self._toggle)
        made.stepped.connect(self._step)
        return made

    def _reach(self, row: PartRow) -> None:
        pick = self._door.pick
        if not row.row.is_of(pick):
            self._door.select(row.row.pick)
        self._mark_chosen(row)
        self._bring(row)

    def _choose(self, pick: Pick | None, *, bring: bool = True) -> None:
        """Mark the row of what is selected: the single one where its row is open."""
        focused = next((row for row in self._rows if row.isAncestorOf(self.focusWidget() or self)), None)
        mine = [row for row in self._rows if row.row.is_of(pick)]
        chosen = focused if focused in mine else (mine[-1] if mine else None)
        self._mark_chosen(chosen)
        if chosen is not None and bring:
            self._bring(chosen)

    def _bring(self, row: PartRow) -> None:
        """Bring a row into view; of one too high for it, what is typed or the top."""
        self._column.activate()
        if row.height() <= self._scroll.viewport().height():
            across = self._scroll.horizontalScrollBar().value()
            half = row.height() // 2
            self._scroll.ensureVisible(across + 1, row.y() + half, 0, half + 2)
        else:
            self._scroll.verticalScrollBar().setValue(row.y())
        here = self.focusWidget()
        if here is not None and row.isAncestorOf(here):
            # not ensureWidgetVisible, which looks at the place of the cursor alone
            middle = here.rect().center()
            x, y = row.x() + here.mapTo(row, middle).x(), row.y() + here.mapTo(row, middle).y()
            self._scroll.ensureVisible(x, y, middle.x() + PAD_PX, middle.y() + 2)

    def _mark_chosen(self, chosen: PartRow | None) -> None:
        for row in self._rows:
            row.choose(row is chosen)
        stops = [stop for row in self._rows for stop in row.stops()]
        for before, after in zip(stops, stops[1:], strict=False):  # noqa: RUF007 - reads as it is
            QWidget.setTabOrder(before, after)

    def _toggle(self, key: str) -> None:
        self.open_row(key, key not in self._opened)

    def _step(self, row: PartRow, by: int) -> None:
        """Go to the same column of the next row that has a field there, else to its item."""
        place = self._rows.index(row) + by
        if not 0 <= place < len(self._rows):
            return
        here = self.focusWidget()
        x = here.geometry().center().x() if here is not None and here is not row.mark else 0
        target = self._rows[place]
        near = [
            e
            for e in target.edits
            if x and e.geometry().left() - 2 * PAD_PX <= x <= e.geometry().right() + 60
        ]
        (near[-1] if near else target.mark).setFocus(Qt.FocusReason.TabFocusReason)
