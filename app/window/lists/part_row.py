"""One row of the parts list: its cells, ruled, and below it what the columns have no room for."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, Qt, Signal
from PySide6.QtGui import QColor, QFont, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.lists.caption import Link, plain_tip
from app.window.lists.entries import Entries
from app.window.lists.field import Field, Path
from app.window.lists.field_edit import FieldEdit
from app.window.lists.item_mark import ItemMark
from app.window.lists.kept_edits import kept_edits
from app.window.lists.rest_below import RestBelow
from app.window.lists.rows import COLUMNS, Row

PAD_PX = 3
STATE = len(COLUMNS) - 1
_FIRST_CELL = 3
_USUAL_WORDS = "38.5 N.m"


class PartRow(QWidget):
    """Draws a row and holds its fields."""

    reached = Signal(object)
    """Itself, when something of it got the focus or was pressed."""
    toggled = Signal(str)
    """The key of its row, to be opened or closed."""
    stepped = Signal(object, int)
    """Itself, and up (-1) or down (1)."""

    def __init__(self, entries: Entries, row: Row, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries, self._theme, self._row = entries, theme, row
        self._widths: tuple[int, ...] = ()
        self._seen = 0
        self._edits: list[FieldEdit] = []
        self._chosen = self._placing = False
        self._state_look = "ink"
        self._mark = ItemMark(row, theme, self)
        self._mark.clicked.connect(lambda: self.reached.emit(self))
        self._mark.reached.connect(lambda: self.reached.emit(self))
        self._mark.stepped.connect(lambda by: self.stepped.emit(self, by))
        self._mark.toggled_open.connect(lambda: self.toggled.emit(self._row.key))
        self._each = Link("", theme, self)
        self._each.clicked.connect(lambda: self.toggled.emit(self._row.key))
        self._rest = RestBelow(entries, theme, self)
        self._rest.reached.connect(lambda: self.reached.emit(self))
        self._rest.grown.connect(self.place)
        self.show_row(row)

    @property
    def row(self) -> Row:
        """Return the row that is shown."""
        return self._row

    @property
    def mark(self) -> ItemMark:
        """Return the cell of its item."""
        return self._mark

    @property
    def edits(self) -> list[FieldEdit]:
        """Return the fields of its columns."""
        return self._edits

    @property
    def chosen(self) -> bool:
        """Return whether it is selected."""
        return self._chosen

    def stops(self) -> list[QWidget]:
        """Return what takes the focus in it, in order."""
        each = [self._each] if self._row.opened is not None else []
        return [self._mark, *each, *self._edits, *(self._rest.stops() if self._chosen else [])]

    def edit_at(self, path: Path) -> FieldEdit | None:
        """Return the field that holds the value of a path, also in the sentence below while it is shown."""
        below = self._rest.edits if self._chosen else []
        return next((edit for edit in (*self._edits, *below) if path in edit.field.paths), None)

    def has(self, path: Path) -> bool:
        """Return whether it has a field for the value of a path, shown or not."""
        return any(path in field.paths for field in self._row.fields)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self._mark.set_theme(theme)
        self._each.set_theme(theme)
        self._rest.set_theme(theme)
        for edit in self._edits:
            edit.set_theme(theme)
        self.update()

    def show_row(self, row: Row) -> None:
        """Show a row; fields that stay keep their focus and what is being typed."""
        self._placing = True
        fields = [piece for cell in row.cells for piece in cell if isinstance(piece, Field)]
        edits, gone = kept_edits(self._edits, fields, self._made)
        self._row, self._edits = row, edits
        self._placing = False
        for edit in gone:
            edit.take_away()
        self._mark.show_row(row, row.spoken(inch=self._entries.inch))
        self.setAccessibleName(row.spoken(inch=self._entries.inch))
        self._each.setVisible(row.opened is not None)
        if row.opened is not None:
            told = self.tr("close items {0}") if row.opened else self.tr("show each of items {0}")
            self._each.say(str(row.off), told.replace("{0}", row.item))
            self._each.setToolTip(plain_tip(told.replace("{0}", row.item)))
        if self._chosen:
            self._tell_rest()
        self.place()

    def take_away(self) -> None:
        """Be no more, and its fields with it."""
        for edit in self._edits:
            edit.take_away()
        self._rest.take_away()
        self.hide()
        self.deleteLater()

    def choose(self, chosen: bool) -> None:
        """Show it as selected or not; a selected row tells the rest of itself below."""
        if chosen != self._chosen:
            self._chosen = chosen
            self._rest.fold()
            if chosen:
                self._tell_rest()
            self.place()

    def set_state_look(self, look: str) -> None:
        """Draw the state in `ink`, in `pencil`, or as `out of date`."""
        self._state_look = look
        self.update()

    def set_widths(self, widths: tuple[int, ...], seen: int) -> None:
        """Take the widths of the columns in pixels, and how much of the row is seen at once."""
        self._widths, self._seen = widths, seen
        self.place()

    def natural_widths(self) -> list[int]:
        """Return the room each column would like."""
        metrics = self.fontMetrics()
        widths = [self._mark.sizeHint().width() - PAD_PX, metrics.horizontalAdvance(str(self._row.off))]
        # one more: an advance is rounded, and what is a hair too long is cut
        widths.append(metrics.horizontalAdvance(self._row.part) + 1)
        edits = iter(self._edits)
        for cell in self._row.cells:
            wide = 0
            for piece in cell:
                if isinstance(piece, Field):
                    wide += next(edits).sizeHint().width()
                else:  # plain words give way before numbers do
                    wide += min(metrics.horizontalAdvance(piece), metrics.horizontalAdvance(_USUAL_WORDS))
            widths.append(wide)
        return [wide + 2 * PAD_PX for wide in widths]

    def place(self) -> None:
        """Set the fields into their columns."""
        if self._placing:
            return
        self._placing = True
        self._place()
        self._placing = False

    def _place(self) -> None:
        metrics = self.fontMetrics()
        high = metrics.height() + 6
        if self._widths:
            self._place_cells(high)
        fault = self._fault()
        below = high
        self._fault_box = QRect()
        if fault:
            room = QRect(PAD_PX, 0, max(self._across() - 2 * PAD_PX, 60), 4000)
            told = metrics.boundingRect(room, int(Qt.TextFlag.TextWordWrap), fault)
            self._fault_box = QRect(PAD_PX, below, room.width(), told.height() + 2)
            below += told.height() + 4
        if self._chosen and self._row.rest is not None:
            indent = self._widths[0] if self._widths else PAD_PX
            below += self._rest.place(indent, below, max(self._across() - indent - PAD_PX, 60)) + 3
        if below != self.minimumHeight() or below != self.maximumHeight():
            self.setFixedHeight(below)
        self.update()

    def _across(self) -> int:
        """Return how far sentences may run: nobody scrolls to and fro for every line of them."""
        return min(self.width(), self._seen) if self._seen else self.width()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Select the row."""
        self._mark.setFocus(Qt.FocusReason.MouseFocusReason)
        self.reached.emit(self)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Set the fields anew."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.place()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the ruling and the words of the cells."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._theme
        if self._chosen:
            painter.fillRect(self.rect(), QColor(look.plate))
        painter.setPen(QPen(QColor(look.faint), 1))
        painter.drawLine(QPointF(0, self.height() - 0.5), QPointF(self.width(), self.height() - 0.5))
        high = self.fontMetrics().height() + 6
        x = 0
        for column, wide in enumerate(self._widths[:-1]):
            x += wide
            after = self._row.cells[column + 1 - _FIRST_CELL] if column + 1 > _FIRST_CELL else None
            if after == ("",):
                continue  # what stands before it may need its room
            painter.drawLine(QPointF(x - 0.5, 0), QPointF(x - 0.5, high))
        if self._chosen:
            painter.fillRect(QRect(0, 0, 3, self.height()), QColor(look.accent))
        self._draw_words(painter, high)
        if not self._fault_box.isNull():
            painter.setPen(QColor(look.bad))
            painter.drawText(self._fault_box, int(Qt.TextFlag.TextWordWrap), self._fault())

    def _tell_rest(self) -> None:
        """Show the sentence below; it is made when it is first seen, for there are many rows."""
        self._rest.tell(self._row.rest, self._row.part)

    def _made(self, field: Field) -> FieldEdit:
        made = FieldEdit(self._entries, field, self._theme, self)
        made.resized.connect(self.place)
        made.refused.connect(self.place)
        made.reached.connect(lambda: self.reached.emit(self))
        made.stepped.connect(lambda by: self.stepped.emit(self, by))
        made.show()
        return made

    def _fault(self) -> str:
        return next((edit.below for edit in self._edits if edit.below), "")

    def _place_cells(self, high: int) -> None:
        metrics = self.fontMetrics()
        lefts = [sum(self._widths[:column]) for column in range(len(self._widths))]
        self._mark.setGeometry(3, 1, self._widths[0] - 4, high - 2)
        if self._row.opened is not None:
            size = self._each.sizeHint()
            self._each.setGeometry(lefts[1] + PAD_PX - 3, 1, size.width(), high - 2)
        edits = iter(self._edits)
        for column, cell in enumerate(self._row.cells, start=_FIRST_CELL):
            x, right = lefts[column] + PAD_PX, self._right_of(column) - 1
            for piece in cell:
                if isinstance(piece, Field):
                    edit = next(edits)
                    wide = edit.sizeHint().width() if not edit.hasFocus() else right - x
                    edit.setGeometry(x - 1, 1, max(min(wide, right - x), 8), high - 2)
                    x += wide
                else:
                    x += metrics.horizontalAdvance(piece)

    def _draw_words(self, painter: QPainter, high: int) -> None:
        metrics = self.fontMetrics()
        base = (high + metrics.ascent() - metrics.descent()) / 2.0
        x = self._widths[0] if self._widths else 0
        painter.setPen(QColor(self._theme.ink))
        for column, words in ((1, str(self._row.off)), (2, self._row.part)):
            if column >= len(self._widths):
                return
            room = self._widths[column] - 2 * PAD_PX
            if column == 1 and self._row.opened is not None:
                x += self._widths[column]
                continue
            text = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room)
            painter.drawText(QPointF(x + PAD_PX, base), text)
            x += self._widths[column]
        edits = iter(self._edits)
        for column, cell in enumerate(self._row.cells, start=_FIRST_CELL):
            at = x + PAD_PX
            for piece in cell:
                if isinstance(piece, Field):
                    at += next(edits).sizeHint().width()
                    continue
                self._dress_cell(painter, column)
                room = self._right_of(column) - PAD_PX - at
                text = metrics.elidedText(piece, Qt.TextElideMode.ElideRight, max(room + 2, 8))
                painter.drawText(QPointF(at, base), text)
                at += metrics.horizontalAdvance(piece)
            x += self._widths[column]

    def _right_of(self, column: int) -> int:
        """Return where the room of a cell ends: where the next cell that says anything begins."""
        last = column
        while last + 1 < len(self._widths) and self._row.cells[last + 1 - _FIRST_CELL] == ("",):
            last += 1
        return sum(self._widths[: last + 1])

    def _dress_cell(self, painter: QPainter, column: int) -> None:
        """Draw what an analysis says in ink or in pencil; everything else is ink."""
        font = QFont(self.font())
        drawn = self._state_look if column == STATE and self._row.balloon else "ink"
        font.setItalic(drawn != "ink")
        painter.setFont(font)
        painter.setPen(QColor(self._theme.ink if drawn == "ink" else self._theme.pencil))
