"""Drawing a run of corners that closes on itself: a plate's outline, or a free cut-out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt

from app.editing.openings import add_cut_out
from app.editing.outline import new_plate
from app.window.flat.guides import line_guide, rings_guide, run_guide
from app.window.flat.tool_in_hand import Desk, Guide, ToolInHand
from app.window.selection import Pick
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.flat_segments import Flat

CLOSING_PX: Final = 12.0
_IN_LINE_PX: Final = 7.0
USUAL_THICKNESS_MM: Final = 5.0
"""Of a first plate; it stands in the caption to be typed over."""


class RunTool(ToolInHand):
    """Clicks make corners; the first corner, Enter or a double click closes the run.

    While a run is open a number typed is the length of the next edge in the pointer's direction.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.corners: list[Flat] = []
        self._why = ""
        self._pointer: Flat | None = None

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Put a corner, or close the run on its first one."""
        if self._closes(at):
            self._close()
            return
        self._add(self._caught(at, keys))

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Show the next edge and say what catches it."""
        if self._closes(at):
            self._pointer = self.corners[0]
            self.desk.say(worded("closes the outline"))
        else:
            self._pointer = self._caught(at, keys)
        self.desk.redraw()

    def double(self, at: Flat) -> None:
        """Close the run; the double click's first press put the last corner."""
        self._close()

    def key(self, key: int, keys: Qt.KeyboardModifier, text: str) -> bool:
        """Enter closes, Backspace takes the last corner back, a figure begins a length."""
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.corners:
            self._close()
            return True
        if key == Qt.Key.Key_Backspace and self.corners:
            self.corners.pop()
            self.desk.redraw()
            return True
        if text.isdigit() and self.corners and self._pointer is not None:
            self.desk.ask_number(text, "length of this edge", self._edge_of_length)
            return True
        return False

    def drop(self) -> bool:
        """Drop the run."""
        was = bool(self.corners)
        self.corners.clear()
        self.desk.redraw()
        return was

    def guides(self) -> Sequence[Guide]:
        """Return the run so far and the next edge."""
        drawn: list[Guide] = []
        if len(self.corners) > 1:
            drawn.append(run_guide(self.corners))
        if self.corners and self._pointer is not None:
            drawn.append(line_guide(self.corners[-1], self._pointer))
        if self.corners:
            drawn.append(rings_guide(self.corners))
        return drawn

    def finish(self, corners: list[Flat]) -> bool:
        """Make of the corners what the tool is for; return whether it was made."""
        raise NotImplementedError(f"{type(self).__name__} makes nothing of its corners: give it `finish`")

    def _closes(self, at: Flat) -> bool:
        return len(self.corners) > 2 and math.dist(at, self.corners[0]) * self.desk.px_per_mm < CLOSING_PX

    def _caught(self, at: Flat, keys: Qt.KeyboardModifier) -> Flat:
        start = self.corners[-1] if self.corners else None
        caught = self.desk.catch(at, from_mm=start, free=bool(keys & Qt.KeyboardModifier.AltModifier))
        caught = self._in_line_with_first(at, caught)
        if start is not None:
            self.desk.say(self.desk.words_of(math.dist(start, caught)), self._why)
        return caught

    def _in_line_with_first(self, at: Flat, caught: Flat) -> Flat:
        """Let the run's first corner catch too, so that the last edge can close it square."""
        self._why = self.desk.caught_words
        if len(self.corners) < 2:
            return caught
        x, y = self.corners[0]
        reach = _IN_LINE_PX / self.desk.px_per_mm
        if abs(at[0] - x) < reach and abs(caught[0] - x) > 1e-9:
            caught, self._why = (x, caught[1]), "in line with the first corner"
        elif abs(at[1] - y) < reach and abs(caught[1] - y) > 1e-9:
            caught, self._why = (caught[0], y), "in line with the first corner"
        return caught

    def _add(self, at: Flat) -> None:
        if not self.corners or math.dist(at, self.corners[-1]) > 1e-6:
            self.corners.append(at)
        self.desk.redraw()

    def _edge_of_length(self, value_mm: float) -> bool:
        start, toward = self.corners[-1], self._pointer
        reach = 0.0 if toward is None else math.dist(start, toward)
        if toward is None or reach < 1e-9:
            return False
        share = value_mm / reach
        self._add((start[0] + share * (toward[0] - start[0]), start[1] + share * (toward[1] - start[1])))
        return True

    def _close(self) -> None:
        if self.finish(list(self.corners)):
            self.corners.clear()
            self._pointer = None
            self.desk.put_down()


class OutlineTool(RunTool):
    """Draws the outline of a new plate."""

    bare_sheet = True

    def finish(self, corners: list[Flat]) -> bool:
        """Make the plate and show it."""
        before = self.desk.door.bracket
        like = before.plates[-1] if before.plates else None
        thickness = USUAL_THICKNESS_MM if like is None else like.thickness_mm

        def edit(bracket: Bracket) -> Bracket:
            return new_plate(
                bracket, corners, thickness_mm=thickness, material=None if like is None else like.material
            )

        if not self.desk.attempt("draw a plate", edit):
            return False
        plates = self.desk.door.bracket.plates
        if len(plates) > len(before.plates):
            self.desk.door.select(Pick("plate", plates[-1].name))
        return True


class CutOutTool(RunTool):
    """Draws a free opening."""

    def finish(self, corners: list[Flat]) -> bool:
        """Make the opening."""
        name = self.desk.door.shown_plate
        return self.desk.attempt("cut an opening", lambda bracket: add_cut_out(bracket, name, corners))
