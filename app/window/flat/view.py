"""The flat pattern view: what the pointer and the keyboard do on the sheet."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QMenu, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.flat.deed_sheet import DeedSheet
from app.window.flat.drags import words_of
from app.window.flat.on_sheet import OnSheet
from app.window.flat.shown_dimensions import dimensions_of, selected_of
from app.window.flat.tool_table import BY_KEY
from app.window.flat.under import is_there
from app.window.flat.under_menu import choices
from app.window.flat.walking import WAYS, next_of, step_mm
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.flat_segments import Flat

__all__ = ["FlatView"]

_LEFT, _MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton
CLICKED_PX: Final = 5
_KEYED = Qt.KeyboardModifier.AltModifier
"""The keyboard goes where it is sent: nothing catches it."""


class FlatView(DeedSheet):
    """The shown plate's flat pattern, to be looked at, drawn and changed."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(door, theme, parent)
        self.setAccessibleName(self.tr("Flat pattern"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.viewport().setMouseTracking(True)
        self._pressed_px = QPointF()
        self._keyed: Flat | None = None
        door.changed.connect(self._after_change)
        door.picked.connect(self._describe)
        self.refresh()
        self.fit()
        self._invite()

    # ---- the pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - the library's name
        """Take hold of what is there, or of the sheet."""
        self._follow(event)
        self.note.close_note()
        if not self.entry.isHidden() and not self.entry.take():
            return
        self._nudge.keep()
        self._refused = ""
        if event.button() == _MIDDLE:
            self.begin_pan(event)
        if event.button() != _LEFT or self._tool is None:
            return
        self._pressed_px, self._keyed = event.position(), None
        if self._tool is self._select:
            if self._press_mark(event.position()):
                return
            if not self._select.grips(self.to_flat(event.position())):
                self.begin_pan(event)
        self._tool.press(self.to_flat(event.position()), event.modifiers())
        self._say_nothing_if_still()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - the library's name
        """Drag, or show what the pointer is on."""
        self._follow(event)
        if self.pan_along(event) or self._tool is None:
            return
        pressed = bool(event.buttons() & _LEFT)
        if not pressed:
            self._refused = ""
        self._tool.move(self.to_flat(event.position()), event.modifiers(), pressed=pressed)
        if self._tool is self._select and not pressed:
            self._light(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - the library's name
        """Let go."""
        panned = self.end_pan()
        if self._tool is not None:
            self.viewport().setCursor(self._tool.cursor)
        if event.button() != _LEFT or self._tool is None:
            return
        at = self.to_flat(event.position())
        if self._tool is self._select and panned:
            if (event.position() - self._pressed_px).manhattanLength() < CLICKED_PX:
                self._select.click(at)
        else:
            self._tool.release(at, event.modifiers())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - the library's name
        """Close an outline; with the select tool begin to type."""
        if event.button() != _LEFT or self._tool is None:
            return
        self._pressed_px, self._keyed = event.position(), None
        if self._tool is self._select:
            if self._press_mark(event.position()) or self._typed.open_first():
                return
            self._tool.press(self.to_flat(event.position()), event.modifiers())
        else:
            self._tool.double(self.to_flat(event.position()))

    def leaveEvent(self, event: object) -> None:  # noqa: N802 - the library's name
        """Say nothing while the pointer is elsewhere."""
        self._said, self._lit = "", ""
        self._items.point_at(self.on_sheet, None)
        self.redraw()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:  # noqa: N802 - the library's name
        """Open the menu of what is under the pointer."""
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        at = self.to_flat(QPointF(event.pos()))
        pick = self.door.pick if by_key else self._select.under(at)
        if not by_key:
            self._pointer = QPointF(event.pos())
            self.door.select(pick)
        menu = self.menu_at(pick, at)
        menu.exec(event.globalPos())

    def menu_at(self, pick: Pick | None, at: Flat) -> QMenu:
        """Return the menu of a thing at a place."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for choice in choices(self, pick, at):
            menu.addAction(choice.words, choice.do)
        return menu

    # ---- the keyboard

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - the library's name
        """Nudge, type, take tools; what is not of use here goes on to the window."""
        key, keys = event.key(), event.modifiers()
        plain = not keys & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
        used = (
            (plain and self._point_by_key(key, keys))
            or (plain and self._tool is not None and self._tool.key(key, keys, event.text()))
            or (plain and key in WAYS and self._nudge.press(key, keys))
            or self._other_key(key, keys, event.text(), plain=plain)
        )
        event.setAccepted(bool(used))

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - the library's name
        """Keep a nudge when its key goes up."""
        if event.key() in WAYS and not event.isAutoRepeat():
            self._nudge.keep()
        event.ignore()

    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: N802 - the library's names
        """Walk through the sheet with Tab; past the last thing the keyboard goes on to the next part."""
        self._nudge.keep()
        sheet = self.on_sheet
        pick = None if sheet is None or self.is_bare else next_of(sheet, self.door.pick, forward=next)
        if pick is None:
            self.door.select(None)
            return super().focusNextPrevChild(next)
        self.door.select(pick)
        return True

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - the library's name
        """Keep a nudge when the keyboard goes elsewhere."""
        self._nudge.keep()
        super().focusOutEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - the library's name
        """Keep the invitation in the middle."""
        super().resizeEvent(event)
        if hasattr(self, "invitation"):
            self.invitation.settle()

    def _point_by_key(self, key: int, keys: Qt.KeyboardModifier) -> bool:
        """Let arrow keys move a tool over the sheet and Enter press it; return whether that was meant."""
        tool = self._tool
        if tool is None or tool is self._select:
            return False
        if key in WAYS:
            x, y = self._keyed or self._begin_keyed()
            dx, dy = WAYS[key]
            step = step_mm(keys, inch=self.is_inch)
            self._keyed = (x + dx * step, y + dy * step)
            self._pointer = self.to_px(self._keyed)
            tool.move(self._keyed, _KEYED, pressed=False)
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._keyed is not None:
            at, self._keyed = self._keyed, None
            tool.press(at, _KEYED)
            tool.release(at, _KEYED)
            return True
        return False

    def _begin_keyed(self) -> Flat:
        """Return where the keyboard begins: at the pointer, or in the middle, on a whole step."""
        inside = self.viewport().rect().contains(self._pointer.toPoint())
        x, y = self.to_flat(self._pointer if inside else QPointF(self.viewport().rect().center()))
        step = step_mm(Qt.KeyboardModifier.NoModifier, inch=self.is_inch)
        return (round(x / step) * step, round(y / step) * step)

    def _other_key(self, key: int, keys: Qt.KeyboardModifier, text: str, *, plain: bool) -> bool:
        control = bool(keys & Qt.KeyboardModifier.ControlModifier)
        if control and key == Qt.Key.Key_C:
            self.copy_selected()
            return True
        if control and key == Qt.Key.Key_V:
            self.paste_copied()
            return True
        if not plain:
            return False
        match key:
            case Qt.Key.Key_Escape:
                return self._escape()
            case Qt.Key.Key_Delete | Qt.Key.Key_Backspace:
                self.remove_selected()
                return True
            case Qt.Key.Key_Return | Qt.Key.Key_Enter | Qt.Key.Key_F2:
                self.type_measures()
                return True
            case Qt.Key.Key_F | Qt.Key.Key_Home:
                self.fit()
                return True
            case Qt.Key.Key_Plus | Qt.Key.Key_Equal:
                self.zoom(1.25)
                return True
            case Qt.Key.Key_Minus:
                self.zoom(0.8)
                return True
            case _:
                return self._begin_held(key, keys) or self._begin(text)

    def _begin_held(self, key: int, keys: Qt.KeyboardModifier) -> bool:
        """Do what a letter stands for with Shift held; without it, it is a tool's."""
        welds = key == Qt.Key.Key_W and bool(keys & Qt.KeyboardModifier.ShiftModifier)
        if welds:
            self.weld_selected()
        return welds

    def _begin(self, text: str) -> bool:
        """Begin to type a number, or take the tool of a letter."""
        if text.isdigit():
            return self._typed.open_first(text)
        tool = BY_KEY.get(text.upper()) if text else None
        if tool is not None:
            self.set_tool(tool.name)
        return tool is not None or self.do_by_key(text.upper())

    def _escape(self) -> bool:
        self._said = self._refused = ""
        self.redraw()
        if not self.note.isHidden():
            self.note.close_note()
        elif self._nudge.drop() or (self._tool is not None and self._tool.drop()):
            pass
        elif self._tool is not self._select:
            self.set_tool("select")
        else:
            self.door.select(None)
        return True

    # ---- keeping up

    def _follow(self, event: QMouseEvent) -> None:
        self._pointer, self._keyed = event.position(), None

    def _say_nothing_if_still(self) -> None:
        if self._tool is self._select and not self._refused:
            self._said = ""

    def _after_change(self, bracket: Bracket) -> None:
        self.note.close_note()
        self._invite()
        pick = self.door.pick
        if pick is not None and not is_there(bracket, pick):
            self.door.select(None)
        self._describe(self.door.pick)

    def _describe(self, pick: Pick | None) -> None:
        """Keep the spoken description: what is selected and its measures."""
        sheet: OnSheet | None = self.on_sheet
        if sheet is None or pick is None:
            self.setAccessibleDescription(f"plate {self.door.shown_plate}" if self.door.shown_plate else "")
            return
        found = dimensions_of(sheet.plate, selected_of(pick, sheet.plate))
        measures = ", ".join(
            f"{d.name} {self.words_of(d.value_mm) if d.unit == 'mm' else f'{d.value_mm:g} degrees'}"
            for d in found
        )
        self.setAccessibleDescription(f"{words_of(pick)}: {measures}" if measures else words_of(pick))
