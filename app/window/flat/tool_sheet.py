"""The sheet with a tool in hand, and what can be pressed of what is written on it."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtWidgets import QWidget

from app.editing.bolting import add_bolted_hole
from app.editing.clips import Clip, PlateClip, pasted, pasted_plate
from app.editing.mends import mend_of, sharp_corners
from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.flat.drags import removed, words_of
from app.window.flat.finding_note import FindingNote
from app.window.flat.invitation import Invitation
from app.window.flat.mark_layout import SHARP_NAME
from app.window.flat.marks import Flag
from app.window.flat.sheet_desk import SheetDesk
from app.window.flat.tool_table import BY_NAME
from app.window.flat.tools.select_tool import SelectTool
from app.window.flat.typed_dimensions import TypedDimensions
from app.window.flat.under_menu import clip_of
from app.window.flat.walking import Nudge
from app.window.selection import Pick
from app.window.worded import worded
from geometry.finding_words import sentence
from geometry.flat_segments import Flat

_SAME_MM = 1e-6
_WITHOUT_PLATE = ("select", "outline")
"""Tools that are of use on an empty sheet."""


class ToolSheet(SheetDesk):
    """Takes tools in hand and puts them down."""

    tool_changed = Signal(str)
    """Name of the tool now in hand."""
    asked = Signal(str)
    """`outline`, `stock`, `open` or `material`: something wanted that is not done on the sheet."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(door, theme, parent)
        self._tool_name = "select"
        self._select = SelectTool(self)
        self._tool = self._select
        self._clip: Clip | PlateClip | None = None
        self._nudge = Nudge(self)
        self._typed = TypedDimensions(self, self.entry)
        self.entry.left.connect(self.setFocus)
        self.note = FindingNote(self.viewport(), self)
        self.invitation = Invitation(self.viewport())
        for part in (self.note, self.invitation):
            part.set_theme(theme)
        self.invitation.asked.connect(self._asked)

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
        if name not in _WITHOUT_PLATE and not self.door.bracket.plates:
            self.door.refuse(
                worded(
                    "there is no plate to use {tool} on: draw an outline first",
                    tool=repr(entry.words.lower()),
                )
            )
            name, entry = "select", BY_NAME["select"]
        self.entry.close_entry()
        self._nudge.keep()
        if self._tool is not None:
            self._tool.drop()
        self._tool_name = name
        self._tool = self._select if name == "select" else entry.make(self)
        self._how = entry.how + ("; Alt: nothing catches; Esc ends" if entry.how else "")
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

    def bolt_picked_boss(self) -> bool:
        """Make a hole with its bolt at the boss that is selected; return whether it was done."""
        pick, sheet, name = self.door.pick, self.on_sheet, self.door.shown_plate
        if pick is None or pick.kind != "boss" or sheet is None:
            return False
        boss = next((b for b in sheet.bosses if b.name == pick.name), None)
        if boss is None:
            return False
        return self.attempt(
            f"bolt boss {boss.name}", lambda b: add_bolted_hole(b, name, boss.at_mm, boss.name)
        )

    def open_first_number(self) -> bool:
        """Begin typing the first dimension of what is selected."""
        return self._typed.open_first()

    def turn_fold_over(self, name: str) -> None:
        """Let a fold go the other way."""
        self._typed.turn_fold_over(name)

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
        elif name.startswith(SHARP_NAME):
            self._round_sharp(int(name.removeprefix(SHARP_NAME)))
        else:
            return self._typed.open_named(name)
        return True

    def _round_sharp(self, number: int) -> None:
        """Give a sharp inside corner its radius."""
        plate, sheet = self.door.shown_plate, self.on_sheet
        at = None if sheet is None or number >= len(sheet.sharp) else sheet.sharp[number]
        for corner in sharp_corners(self.door.bracket, plate):
            if at is not None and math.dist(corner.at_mm, at) < _SAME_MM and corner.mend is not None:
                self.attempt(corner.mend.words, corner.mend.apply)
                return

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
        if lit.startswith(SHARP_NAME):
            self._said = "sharp inside corner: click to give it a radius"
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
