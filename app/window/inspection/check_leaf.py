"""The check-list: lines by group, each open, met, not met or not applicable, with its remark."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QGridLayout,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from app.record.due import line_due, with_line_due
from app.record.record import Item, ItemState
from app.theme import Theme
from app.window.inspection.desk import InspectionDesk
from app.window.inspection.sides import Entry, LeafCaption, leaf_style
from app.window.lists.caption import plain_label, thin_bar

STATES: Final[tuple[ItemState, ...]] = ("open", "met", "not met", "not applicable")
_SHORT: Final = {"open": "open", "met": "met", "not met": "not met", "not applicable": "n/a"}
_KEYS: Final[dict[int, ItemState]] = {
    Qt.Key.Key_O: "open",
    Qt.Key.Key_M: "met",
    Qt.Key.Key_N: "not met",
    Qt.Key.Key_A: "not applicable",
}
_ITEM: Final = Qt.ItemDataRole.UserRole
_PLACE: Final = Qt.ItemDataRole.UserRole + 1
_BOXES_PX: Final = 290


class CheckLeaf(QWidget):
    """The list, and under it the remark of the line it stands on."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.lines = _Lines(theme)
        self.lines.state_wanted.connect(self._set_state)
        self.lines.currentItemChanged.connect(lambda *_: self._show_remark())
        self._keys = plain_label(
            self.tr("Keys: M met, N not met, A not applicable, O open, R remark; arrows go from line to line")
        )
        self.whole = plain_label()
        self.whole.setAccessibleName(self.tr("The line that is stood on, whole"))
        self._caption = LeafCaption(self.tr("remark on this line"), theme)
        self.remark = Entry(self.tr("Remark on this line"), self._set_remark)
        self._due_caption = LeafCaption(self.tr("to be settled by, as 2031-05-30"), theme)
        self.due = Entry(self.tr("Day this line is to be settled by"), self._set_due)
        self.lines.remark_wanted.connect(self.remark.setFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.lines, 1)
        column.addWidget(self._keys)
        column.addWidget(self.whole)
        under = QGridLayout()
        under.setHorizontalSpacing(14)
        under.setColumnStretch(0, 3)
        under.setColumnStretch(1, 1)
        for place, widget in enumerate((self._caption, self._due_caption, self.remark, self.due)):
            under.addWidget(widget, place // 2, place % 2)
        column.addLayout(under)
        desk.changed.connect(self._show)
        self.set_theme(theme)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(leaf_style(theme))
        self._keys.setStyleSheet(f"color: {theme.pencil};")
        self.whole.setStyleSheet(f"color: {theme.ink};")
        self._caption.set_theme(theme)
        self._due_caption.set_theme(theme)
        self.lines.set_theme(theme)

    def go_to(self, place: int) -> None:
        """Stand on a line of the check-list."""
        self.lines.go_to(place)
        self.lines.setFocus()

    def _show(self) -> None:
        self.lines.show_items(self._desk.record.check_list)
        self._show_remark()

    def _show_remark(self) -> None:
        place = self.lines.place
        item = None if place is None else self._desk.record.check_list[place]
        # a narrow list cuts it off, and nobody ticks what he cannot read
        self.whole.setText("" if item is None else "; ".join(w for w in (item.words, item.clause) if w))
        self.remark.setEnabled(place is not None)
        self.remark.stand("" if place is None else self._desk.record.check_list[place].remark)
        self.due.setEnabled(place is not None)
        self.due.stand("" if place is None else line_due(self._desk.record, place))

    def _set_state(self, place: int, state: ItemState) -> None:
        self._desk.change(lambda record: record.with_item(place, state=state))

    def _set_due(self, day: str) -> bool:
        place = self.lines.place
        return place is not None and self._desk.change(lambda r: with_line_due(r, place, day))

    def _set_remark(self, words: str) -> bool:
        place = self.lines.place
        return place is not None and self._desk.change(lambda r: r.with_item(place, remark=words))


class _Lines(QListWidget):
    """Headings of groups cannot be stood on; every other row is a line with four boxes."""

    state_wanted = Signal(int, str)
    remark_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._shown: tuple[Item, ...] = ()
        self._drawn = _LineDrawing(theme)
        self.setItemDelegate(self._drawn)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Check-list"))

    @property
    def place(self) -> int | None:
        """Return the place in the check-list of the line it stands on."""
        row = self.currentItem()
        place = None if row is None else row.data(_PLACE)
        return place if isinstance(place, int) and place < len(self._shown) else None

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._drawn.theme = theme
        self.verticalScrollBar().setStyleSheet(thin_bar(theme))
        self.viewport().update()

    def show_items(self, items: tuple[Item, ...]) -> None:
        """Show these lines; what it stood on it stands on again."""
        if items == self._shown:
            return
        same_lines = [(i.group, i.words) for i in items] == [(i.group, i.words) for i in self._shown]
        self._shown = items
        if same_lines:
            for row in (self.item(n) for n in range(self.count())):
                if isinstance(row.data(_PLACE), int):
                    self._fill(row, row.data(_PLACE))
            return
        self.clear()
        group = ""
        for place, item in enumerate(items):
            if item.group != group:
                group = item.group
                heading = QListWidgetItem(group)
                heading.setFlags(Qt.ItemFlag.NoItemFlags)
                self.addItem(heading)
            row = QListWidgetItem()
            self._fill(row, place)
            self.addItem(row)
        self.go_to(0)

    def go_to(self, place: int) -> None:
        """Stand on the line at that place of the check-list."""
        for row in (self.item(n) for n in range(self.count())):
            if row.data(_PLACE) == place:
                self.setCurrentItem(row)
                self.scrollToItem(row)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Set the line's state by its letter; R goes to its remark."""
        state = _KEYS.get(event.key())
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier)
        if plain and state is not None and self.place is not None:
            self.state_wanted.emit(self.place, state)
        elif plain and event.key() == Qt.Key.Key_R:
            self.remark_wanted.emit()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Stand on the line, and set its state if a box of it is pressed."""
        super().mousePressEvent(event)
        row = self.itemAt(event.position().toPoint())
        if row is None or not isinstance(row.data(_PLACE), int):
            return
        room = QRectF(self.visualItemRect(row))
        for state, box in zip(STATES, box_rooms(room), strict=True):
            if box.contains(event.position()):
                self.state_wanted.emit(row.data(_PLACE), state)

    def _fill(self, row: QListWidgetItem, place: int) -> None:
        item = self._shown[place]
        row.setData(_ITEM, item)
        row.setData(_PLACE, place)
        remark = f"; {item.remark}" if item.remark else ""
        row.setData(Qt.ItemDataRole.AccessibleTextRole, f"{item.words}: {item.state}{remark}")


def box_rooms(row: QRectF) -> list[QRectF]:
    """Return where the four boxes of a row are, in the order of STATES."""
    step = _BOXES_PX / len(STATES)
    left = row.right() - _BOXES_PX
    return [QRectF(left + n * step, row.top(), step, row.height()) for n in range(len(STATES))]


class _LineDrawing(QStyledItemDelegate):
    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme

    def sizeHint(  # noqa: N802 - Qt's name
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        metrics = QFontMetricsF(option.font)
        item = index.data(_ITEM)
        if not isinstance(item, Item):
            return QSize(0, int(metrics.height() * 1.5))
        lines = 1 + bool(_under(item))
        return QSize(0, int(metrics.height() * (lines + 0.35)))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        room = QRectF(option.rect)
        item = index.data(_ITEM)
        painter.save()
        painter.setFont(option.font)
        if not isinstance(item, Item):
            self._heading(painter, room, str(index.data()))
        else:
            taken = bool(option.state & QStyle.StateFlag.State_Selected)
            self._line(painter, room, item, taken=taken)
        painter.restore()

    def _heading(self, painter: QPainter, room: QRectF, words: str) -> None:
        font = painter.font()
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.ink))
        flags = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
        painter.drawText(room.adjusted(6, 0, 0, -2), flags, words)

    def _line(self, painter: QPainter, room: QRectF, item: Item, *, taken: bool) -> None:
        look, metrics = self.theme, QFontMetricsF(painter.font())
        if taken:
            painter.fillRect(room, QColor(look.plate_back))
            painter.fillRect(QRectF(room.left(), room.top(), 3, room.height()), QColor(look.accent))
        wide = room.width() - _BOXES_PX - 24
        base = room.top() + metrics.height() * 0.15 + metrics.ascent()
        painter.setPen(QColor(look.ink))
        painter.drawText(
            QPointF(room.left() + 16, base),
            metrics.elidedText(item.words, Qt.TextElideMode.ElideRight, wide),
        )
        if under := _under(item):
            painter.setPen(QColor(look.pencil))
            painter.drawText(
                QPointF(room.left() + 28, base + metrics.height()),
                metrics.elidedText(under, Qt.TextElideMode.ElideRight, wide - 12),
            )
        for state, box in zip(STATES, box_rooms(room), strict=True):
            self._box(painter, box, base, state, ticked=state == item.state)

    def _box(self, painter: QPainter, room: QRectF, base: float, state: str, *, ticked: bool) -> None:
        look, metrics = self.theme, QFontMetricsF(painter.font())
        side = metrics.ascent() * 0.78
        box = QRectF(room.left() + 4, base - side, side, side)
        painter.setPen(QPen(QColor(look.ink if ticked else look.pencil), 1.2))
        painter.drawRect(box)
        if ticked:
            painter.setPen(QPen(QColor(look.ink), 2.0))
            painter.drawLine(box.topLeft(), box.bottomRight())
            painter.drawLine(box.topRight(), box.bottomLeft())
        font = painter.font()
        font.setBold(ticked)
        painter.setFont(font)
        painter.setPen(QColor(look.ink if ticked else look.pencil))
        painter.drawText(QPointF(box.right() + 5, base), _SHORT[state])
        font.setBold(False)
        painter.setFont(font)


def _under(item: Item) -> str:
    return "; ".join(part for part in (item.clause, item.remark) if part)
