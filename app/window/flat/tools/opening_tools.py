"""Slots and rectangular cut-outs, drawn from one place to another."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt

from app.editing.openings import add_rectangle, add_slot
from app.window.flat.guides import box_guide, edge_guide
from app.window.flat.tool_in_hand import Guide
from app.window.flat.tools.hole_tool import opening_names, select_new_opening
from app.window.flat.tools.two_places import TwoPlacesTool
from geometry.flat_pattern import opening_loop
from geometry.flat_segments import Flat
from geometry.plate import Slot

USUAL_WIDTH_MM: Final = 9.0


class SlotTool(TwoPlacesTool):
    """From the middle of one round end to the middle of the other; a figure is the width."""

    def made(self, start: Flat, end: Flat) -> None:
        """Make the slot."""
        name, slot, before = self.desk.door.shown_plate, self._slot(start, end), opening_names(self.desk)
        if self.desk.attempt(
            "make a slot",
            lambda b: add_slot(b, name, slot.centre_mm, slot.length_mm, slot.width_mm, slot.angle_deg),
        ):
            select_new_opening(self.desk, before)

    def key(self, key: int, keys: Qt.KeyboardModifier, text: str) -> bool:
        """Take a figure as the width of the next slots."""
        if not text.isdigit():
            return False
        self.desk.ask_number(text, "width of slots", self._set_width)
        return True

    def guides(self) -> Sequence[Guide]:
        """Return the slot that would be made."""
        if self.start is None or self.end is None:
            return ()
        slot = self._slot(self.start, self.end)
        return tuple(edge_guide(edge, "guide") for edge in opening_loop(slot, ""))

    def _slot(self, start: Flat, end: Flat) -> Slot:
        width = self._width_mm()
        return Slot(
            name="slot",
            centre_mm=((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0),
            length_mm=math.dist(start, end) + width,
            width_mm=width,
            angle_deg=math.degrees(math.atan2(end[1] - start[1], end[0] - start[0])),
        )

    def _width_mm(self) -> float:
        return self.desk.memory.get("slot", USUAL_WIDTH_MM)

    def _set_width(self, value_mm: float) -> bool:
        if value_mm > 0.0:
            self.desk.memory["slot"] = value_mm
            self.desk.redraw()
        return value_mm > 0.0


class RectangleTool(TwoPlacesTool):
    """From one corner of a rectangular cut-out to the opposite one."""

    def caught(self, at: Flat, keys: Qt.KeyboardModifier) -> Flat:
        """Return where the pointer is caught; a rectangle's corners are not squared to each other."""
        return self.desk.catch(at, free=bool(keys & Qt.KeyboardModifier.AltModifier))

    def made(self, start: Flat, end: Flat) -> None:
        """Make the cut-out."""
        name, before = self.desk.door.shown_plate, opening_names(self.desk)
        low = (min(start[0], end[0]), min(start[1], end[1]))
        high = (max(start[0], end[0]), max(start[1], end[1]))
        if self.desk.attempt("cut a rectangle", lambda b: add_rectangle(b, name, low, high)):
            select_new_opening(self.desk, before)

    def words(self) -> str:
        """Return width and height."""
        if self.start is None or self.end is None:
            return ""
        across, up = abs(self.end[0] - self.start[0]), abs(self.end[1] - self.start[1])
        return f"{self.desk.words_of(across)} by {self.desk.words_of(up)}"

    def guides(self) -> Sequence[Guide]:
        """Return the rectangle that would be made."""
        return () if self.start is None or self.end is None else (box_guide(self.start, self.end),)
