"""The flat pattern view: what the pointer and the keyboard do on the sheet."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QMenu, QWidget

from app.editing.clips import Clip, PlateClip, pasted, pasted_plate
from app.editing.mends import mend_of
from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.flat.drags import removed, words_of
from app.window.flat.finding_note import FindingNote
from app.window.flat.invitation import Invitation
from app.window.flat.marks import Flag
from app.window.flat.on_sheet import OnSheet
from app.window.flat.sheet_desk import SheetDesk
from app.window.flat.shown_dimensions import dimensions_of, selected_of
from app.window.flat.tool_table import BY_KEY, BY_NAME
from app.window.flat.tools.select_tool import SelectTool
from app.window.flat.typed_dimensions import TypedDimensions
from app.window.flat.under_menu import choices, clip_of
from app.window.flat.walking import WAYS, Nudge, next_of
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.finding_words import sentence
from geometry.flat_segments import Flat

__all__ = ["FlatView"]

_LEFT, _MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton
_NO_KEYS = Qt.KeyboardModifier.NoModifier


class FlatView(SheetDesk):
    """The shown plate's flat pattern, to be looked at, drawn and changed."""

    tool_changed = Signal(str)
    """Name of the tool now in hand."""
    asked = Signal(str)
    """`outline`, `stock`, `open` or `material`: something wanted that is not done on the sheet."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(door, theme, parent)
        self.setAccessibleName(self.tr("Flat pattern"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.viewport().setMouseTracking(True)
        self._tool_name = "select"
        self._select = SelectTool(self)
        self._tool = self._select
        self._clip: Clip | PlateClip | None = None
        self._nudge = Nudge(self)
        self._typed = TypedDimensions(self, self.entry)
        self.entry.left.connect(self.setFocus)
        self.note = FindingNote(self.viewport(), self)
        self.note.set_theme(theme)
        self.invitation = Invitation(self.viewport())
        self.invitation.set_theme(theme)
        self.invitation.asked.connect(self._asked)
        door.changed.connect(self._after_change)
        door.picked.connect(self._describe)
        self.refresh()
        self.fit()
        self._invite()

    # ---- what the window asks for

    @property
    def tool(self) -> str:
        """Return the name of the tool in hand."""
        return self._tool_name

    @property
    def has_clip(self) -> bool:
        """Return whether there is something to paste."""
        return self._clip is not None

    def set_tool(self, name: str) -> None:
        """Take a tool in hand, by its name in the table; KeyError for another."""
        entry = BY_NAME[name]
        self.entry.close_entry()
        self._nudge.keep()
        if self._tool is not None:
            self._tool.drop()
        self._tool_name = name
        self._tool = self._select if name == "select" else entry.make(self)
        self._how = entry.how + ("; Esc ends" if entry.how else "")
        self._said = self._refused = ""
        self.set_bare(bare=self._tool.bare_sheet)
        self._invite()
        self.viewport().setCursor(self._tool.cursor)
        self._items.point_at(self.on_sheet, None)
        if self.isVisible():
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.redraw()
        self.tool_changed.emit(name)

    def put_down(self) -> None:
        """Go back to selecting."""
        self.set_tool("select")

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        super().set_theme(theme)
        for part in (self.entry, self.note, self.invitation):
            part.set_theme(theme)

    def set_results(self, results: object, pencil: bool = False) -> None:
        """Take note of results; the flat pattern shows none."""

    def copy(self) -> bool:
        """Copy what is selected; return whether it can be."""
        sheet, pick = self.on_sheet, self.door.pick
        if sheet is None or pick is None:
            return False
        try:
            clip = clip_of(sheet.plate, pick, self.door)
        except EditRefused as refused:
            self._refused = str(refused)
            return False
        self._clip = clip or self._clip
        self.say(f"copied {words_of(pick)}" if clip is not None else "")
        return clip is not None

    def paste(self, at: Flat | None = None) -> bool:
        """Paste what was copied at a place, at the pointer without one; return whether it was done."""
        clip, name = self._clip, self.door.shown_plate
        if isinstance(clip, PlateClip):
            return self.attempt("paste a plate", lambda bracket: pasted_plate(bracket, clip))
        if clip is None:
            return False
        inside = self.viewport().rect().contains(self._pointer.toPoint())
        place = at or (self.to_flat(self._pointer) if inside else clip.middle_mm)
        caught = self.catch(place)
        return self.attempt("paste", lambda bracket: pasted(bracket, name, clip, caught))

    def remove(self) -> bool:
        """Take away what is selected; return whether it was done."""
        sheet, pick = self.on_sheet, self.door.pick
        edit = None if sheet is None or pick is None else removed(sheet.plate, pick)
        if edit is None or pick is None:
            return False
        done = self.attempt(f"remove {words_of(pick)}", edit)
        if done:
            self.door.select(None)
        return done

    def open_first_number(self) -> bool:
        """Begin typing the first dimension of what is selected."""
        return self._typed.open_first()

    def turn_fold_over(self, name: str) -> None:
        """Let a fold go the other way."""
        self._typed.turn_fold_over(name)

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
            if event.button() == _LEFT and not (panned and self._tool is not self._select):
                self._tool.release(self.to_flat(event.position()), event.modifiers())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - the library's name
        """Close an outline; with the select tool begin to type."""
        if event.button() != _LEFT or self._tool is None:
            return
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
            (plain and self._tool is not None and self._tool.key(key, keys, event.text()))
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

    def _other_key(self, key: int, keys: Qt.KeyboardModifier, text: str, *, plain: bool) -> bool:
        control = bool(keys & Qt.KeyboardModifier.ControlModifier)
        if control and key == Qt.Key.Key_C:
            return self.copy()
        if control and key == Qt.Key.Key_V:
            return self.paste()
        if not plain:
            return False
        match key:
            case Qt.Key.Key_Escape:
                return self._escape()
            case Qt.Key.Key_Delete | Qt.Key.Key_Backspace:
                return self.remove()
            case Qt.Key.Key_Return | Qt.Key.Key_Enter | Qt.Key.Key_F2:
                return self._typed.open_first()
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
                return self._begin(text)

    def _begin(self, text: str) -> bool:
        """Begin to type a number, or take the tool of a letter."""
        if text.isdigit():
            return self._typed.open_first(text)
        tool = BY_KEY.get(text.upper()) if text else None
        if tool is not None:
            self.set_tool(tool.name)
        return tool is not None

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

    # ---- what is written

    def _press_mark(self, px: QPointF) -> bool:
        """Do what a press on something written does; return whether there was something."""
        marks = self.marks()
        for flag in marks.flags:
            if flag.hit(px):
                self._open_note(flag)
                return True
        for balloon in marks.balloons:
            if balloon.hit(px):
                self.door.select(Pick("bolt", balloon.bolt))
                return True
        name = self._named_at(px)
        if name == "material":
            self.asked.emit("material")
        elif name.startswith("fold direction "):
            self._typed.turn_fold_over(name.removeprefix("fold direction "))
        return name in ("material",) or name.startswith("fold direction ") or self._typed.open_named(name)

    def _named_at(self, px: QPointF) -> str:
        """Return the name of what can be typed over or pressed there."""
        marks = self.marks()
        for mark in marks.dimensions:
            if mark.name and mark.words.hit(px):
                return mark.name
        return next((words.name for words in marks.words if words.name and words.hit(px)), "")

    def _light(self, px: QPointF) -> None:
        """Light up what a press there would take hold of."""
        marks = self.marks()
        flag = next((flag for flag in marks.flags if flag.hit(px)), None)
        lit = f"flag {flag.number}" if flag is not None else self._named_at(px)
        at = self.to_flat(px)
        pick = None if lit else self._select.under(at)
        if pick is not None and pick.kind == "plate":
            pick = None
        self._lit = lit
        self._said = "" if pick is None else words_of(pick)
        self._items.point_at(self.on_sheet, pick)
        self.viewport().setCursor(Qt.CursorShape.PointingHandCursor if lit else self._select.cursor)
        self.redraw()

    def _open_note(self, flag: Flag) -> None:
        bracket = self.door.bracket
        mend = mend_of(bracket, flag.finding)

        def apply() -> None:
            if mend is not None:
                self.attempt(mend.words, mend.apply)

        words = "" if mend is None else mend.words
        self.note.open_at(flag.box, flag.number, sentence(flag.finding), words, apply)

    # ---- keeping up

    def _follow(self, event: QMouseEvent) -> None:
        self._pointer = event.position()

    def _say_nothing_if_still(self) -> None:
        if self._tool is self._select and not self._refused:
            self._said = ""

    def _after_change(self, bracket: Bracket) -> None:
        self.note.close_note()
        self._invite()
        self._describe(self.door.pick)

    def _invite(self) -> None:
        """Show the ways to begin while there is nothing on the sheet."""
        empty = not self.door.bracket.plates and not self.is_bare
        self.invitation.setVisible(empty)
        if empty:
            self.invitation.settle()

    def _asked(self, way: str) -> None:
        if way == "outline":
            self.set_tool("outline")
        self.asked.emit(way)

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
