"""Tools that draw a line across: fold, saw, measure."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import Qt

from app.editing.folds import add_fold
from app.editing.names import plate_of
from app.editing.saw import saw
from app.window.flat.guides import line_guide, rings_guide
from app.window.flat.tool_in_hand import Desk, Guide
from app.window.flat.tools.two_places import TwoPlacesTool
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.flat_segments import Flat


class LineTool(TwoPlacesTool):
    """Draws a line from one place to another."""

    def guides(self) -> Sequence[Guide]:
        """Return the line."""
        if self.start is None or self.end is None:
            return ()
        return (line_guide(self.start, self.end), rings_guide((self.start, self.end)))


class FoldTool(LineTool):
    """A line across the plate becomes a fold line, square and up until it is changed."""

    def made(self, start: Flat, end: Flat) -> None:
        """Fold the plate there and select the fold, so that its angle can be typed."""
        name = self.desk.door.shown_plate

        def edit(bracket: Bracket) -> Bracket:
            return bracket.with_plate(add_fold(plate_of(bracket, name), start, end, own=bracket.materials))

        if self.desk.attempt("fold the plate", edit):
            plate = self.plate
            if plate is not None and plate.folds:
                self.desk.door.select(Pick("fold", plate.folds[-1].name, name))
                self.desk.put_down()


class SawTool(LineTool):
    """A line across a plate makes two of it."""

    def made(self, start: Flat, end: Flat) -> None:
        """Saw."""
        name = self.desk.door.shown_plate
        if self.desk.attempt(f"saw plate {name}", lambda bracket: saw(bracket, name, start, end)):
            self.desk.put_down()

    def words(self) -> str:
        """Say what letting go does."""
        if self.start is None:
            return "draw from one edge of the plate to another"
        return "let go to saw" if self.end is not None and self.end != self.start else ""


class MeasureTool(LineTool):
    """Reads distance and direction between two places; it changes nothing."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._read: tuple[Flat, Flat] | None = None

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Begin a reading, or end it."""
        self._read = None
        super().press(at, keys)

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Read on while the line is drawn; keep what was read last."""
        if self._read is None:
            super().move(at, keys, pressed=pressed)

    def made(self, start: Flat, end: Flat) -> None:
        """Keep the line and its reading until the next press."""
        self._read = (start, end)
        self.desk.say(self._reading(start, end))

    def drop(self) -> bool:
        """Take the reading away."""
        was = self._read is not None
        self._read = None
        return super().drop() or was

    def words(self) -> str:
        """Return the reading."""
        return "" if self.start is None or self.end is None else self._reading(self.start, self.end)

    def guides(self) -> Sequence[Guide]:
        """Return the line that is or was read."""
        if self._read is not None:
            return (line_guide(*self._read), rings_guide(self._read))
        return super().guides()

    def _reading(self, start: Flat, end: Flat) -> str:
        across, up = end[0] - start[0], end[1] - start[1]
        length = math.hypot(across, up)
        if length < 1e-9:
            return ""
        parts = [self.desk.words_of(length)]
        if min(abs(across), abs(up)) > 1e-9:
            parts.append(f"{self.desk.words_of(abs(across))} across, {self.desk.words_of(abs(up))} up")
            parts.append(f"{math.degrees(math.atan2(up, across)) % 180.0:.1f}°")
        return "; ".join(parts)
