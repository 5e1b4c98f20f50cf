"""A tool that works from one place to another: drag, or click twice."""

from __future__ import annotations

import math
from typing import Final

from PySide6.QtCore import Qt

from app.window.flat.tool_in_hand import Desk, ToolInHand
from geometry.flat_segments import Flat

DRAGGED_PX: Final = 5.0


class TwoPlacesTool(ToolInHand):
    """Takes a start and an end; what comes of them is the tool's own."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.start: Flat | None = None
        self.end: Flat | None = None

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Begin, or end what two clicks make."""
        caught = self.caught(at, keys)
        if self.start is None:
            self.start = self.end = caught
        else:
            self.end = caught
            self._finish()
        self.desk.redraw()

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Show what would come of it."""
        self.end = self.caught(at, keys)
        self.desk.say(self.words(), self.desk.caught_words)
        self.desk.redraw()

    def release(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """End what a drag makes."""
        if self.start is None:
            return
        self.end = self.caught(at, keys)
        if math.dist(self.start, self.end) * self.desk.px_per_mm > DRAGGED_PX:
            self._finish()
            self.desk.redraw()

    def drop(self) -> bool:
        """Drop the gesture."""
        was = self.start is not None
        self.start = self.end = None
        self.desk.redraw()
        return was

    def caught(self, at: Flat, keys: Qt.KeyboardModifier) -> Flat:
        """Return where the pointer is caught."""
        return self.desk.catch(at, from_mm=self.start, free=bool(keys & Qt.KeyboardModifier.AltModifier))

    def words(self) -> str:
        """Return what is said of the gesture in progress."""
        return (
            ""
            if self.start is None or self.end is None
            else self.desk.words_of(math.dist(self.start, self.end))
        )

    def made(self, start: Flat, end: Flat) -> None:
        """Make what the tool is for; what is refused is told by the desk."""

    def _finish(self) -> None:
        start, end, self.start = self.start, self.end, None
        if start is not None and end is not None:
            self.made(start, end)
