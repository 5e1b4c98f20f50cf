"""Repeating the selected opening in a line: drag from it to where the next one goes."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt

from app.editing.moved_shapes import middle_of, shifted
from app.editing.repeats import repeat_in_line
from app.window.flat.guides import edge_guide, line_guide
from app.window.flat.tool_in_hand import Guide, ToolInHand
from app.window.worded import worded
from geometry.flat_pattern import opening_loop
from geometry.flat_segments import Flat, ShapeError
from geometry.plate import CutOut, Hole, Slot


class RepeatTool(ToolInHand):
    """A click makes the copies; a figure says how many there are, with the first."""

    _to: Flat | None = None

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Make the copies."""
        opening = self._opening()
        if opening is None:
            self.desk.say(worded("select an opening first, then repeat it"))
            return
        start, to = middle_of(opening), self._caught(at, keys)
        name, count, step = self.desk.door.shown_plate, self._count(), (to[0] - start[0], to[1] - start[1])
        if self.desk.attempt(
            f"repeat opening {opening.name}",
            lambda bracket: repeat_in_line(bracket, name, opening.name, step, count),
        ):
            self.desk.put_down()

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Show the copies."""
        self._to = self._caught(at, keys)
        self.desk.say(
            "" if self._opening() else "select an opening first",
            f"{self._count()} of them",
            self.desk.caught_words,
        )
        self.desk.redraw()

    def key(self, key: int, keys: Qt.KeyboardModifier, text: str) -> bool:
        """Take a figure as how many."""
        if not text.isdigit():
            return False
        self.desk.ask_count("how many, with this one", self._set_count, text)
        return True

    def guides(self) -> Sequence[Guide]:
        """Return the copies that would be made."""
        opening = self._opening()
        if opening is None or self._to is None:
            return ()
        x, y = middle_of(opening)
        step = (self._to[0] - x, self._to[1] - y)
        drawn = [line_guide((x, y), self._to)]
        for number in range(1, self._count()):
            copy = shifted(opening, (number * step[0], number * step[1]))
            try:
                drawn += [edge_guide(edge, "guide") for edge in opening_loop(copy, "")]
            except ShapeError:
                return drawn
        return drawn

    def _caught(self, at: Flat, keys: Qt.KeyboardModifier) -> Flat:
        opening = self._opening()
        start = None if opening is None else middle_of(opening)
        return self.desk.catch(at, from_mm=start, free=bool(keys & Qt.KeyboardModifier.AltModifier))

    def _opening(self) -> Hole | Slot | CutOut | None:
        plate, pick = self.plate, self.desk.door.pick
        if plate is None or pick is None or pick.kind != "opening":
            return None
        return next((o for o in plate.openings if o.name == pick.name), None)

    def _count(self) -> int:
        return int(self.desk.memory.get("repeat", 2))

    def _set_count(self, count: int) -> bool:
        if count >= 2:
            self.desk.memory["repeat"] = count
            self.desk.redraw()
        return count >= 2
