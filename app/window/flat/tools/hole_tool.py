"""Round holes: plain ones, and such as are bolted at once to a boss or to the dash bar."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt

from app.editing.bolting import add_bolted_hole, add_hole_to_bar
from app.editing.openings import add_hole
from app.window.flat.guides import circle_guide
from app.window.flat.tool_in_hand import Desk, Guide, ToolInHand
from app.window.flat.under import nearest_on
from app.window.selection import Pick
from app.window.worded import worded
from geometry.bolt_tables import UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import AtDashBar
from geometry.flat_segments import Flat, Line

USUAL_HOLE_MM: Final = 9.0
USUAL_BOLT: Final = "M8"
_BOSS_PX: Final = 12.0


class HoleTool(ToolInHand):
    """A click makes a hole; on a boss that is free the hole is bolted at once."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._at: Flat | None = None

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Make the hole."""
        place = self._caught(at, keys)
        boss = self.boss_at(place, 0.01)
        name, diameter = self.desk.door.shown_plate, self._diameter_mm()
        before = opening_names(self.desk)

        def edit(bracket: Bracket) -> Bracket:
            if boss:
                return add_bolted_hole(bracket, name, place, boss)
            return add_hole(bracket, name, place, diameter)

        if self.desk.attempt(f"bolt boss {boss}" if boss else "make a hole", edit):
            select_new_opening(self.desk, before)

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Show the hole that a click would make."""
        self._at = self._caught(at, keys)
        boss = self.boss_at(self._at, 0.01)
        size = "" if boss else f"hole {self.desk.words_of(self._diameter_mm())}"
        self.desk.say(
            f"on boss {boss}: bolted at once" if boss else size, "" if boss else self.desk.caught_words
        )
        self.desk.redraw()

    def key(self, key: int, keys: Qt.KeyboardModifier, text: str) -> bool:
        """Take a figure as the diameter of the next holes."""
        if not text.isdigit():
            return False
        self.desk.ask_number(text, "diameter of holes", self._set_diameter)
        return True

    def guides(self) -> Sequence[Guide]:
        """Return the hole that a click would make."""
        return () if self._at is None else (circle_guide(self._at, self._diameter_mm() / 2.0),)

    def boss_at(self, at: Flat, reach_mm: float) -> str:
        """Return the name of the free boss at a place, empty if there is none."""
        sheet = self.desk.on_sheet
        bosses = [] if sheet is None else [b for b in sheet.bosses if not b.bolted]
        near = [(math.dist(b.at_mm, at), b.name) for b in bosses]
        best = min(near, default=None)
        return best[1] if best is not None and best[0] <= reach_mm else ""

    def _caught(self, at: Flat, keys: Qt.KeyboardModifier) -> Flat:
        return self.desk.catch(at, free=bool(keys & Qt.KeyboardModifier.AltModifier))

    def _diameter_mm(self) -> float:
        return self.desk.memory.get("hole", USUAL_HOLE_MM)

    def _set_diameter(self, value_mm: float) -> bool:
        if value_mm > 0.0:
            self.desk.memory["hole"] = value_mm
            self.desk.redraw()
        return value_mm > 0.0


class BoltTool(HoleTool):
    """A click on a free boss or under the dash bar makes a hole with its bolt."""

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Make the hole and bolt it."""
        boss, place = self._target(at, keys)
        if place is None:
            self.desk.say(worded("nothing to bolt to here: click on a free boss or over the dash bar"))
            return
        name, size, before = self.desk.door.shown_plate, self._size(), opening_names(self.desk)

        def edit(bracket: Bracket) -> Bracket:
            if boss:
                return add_bolted_hole(bracket, name, place, boss)
            return add_hole_to_bar(bracket, name, place, size)

        if self.desk.attempt(f"bolt boss {boss}" if boss else "bolt to the dash bar", edit):
            select_new_opening(self.desk, before)

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Say what a click would bolt to."""
        boss, self._at = self._target(at, keys)
        if boss:
            self.desk.say(worded("bolt to boss {boss}", boss=boss))
        elif self._at is not None:
            self.desk.say(worded("{size} to the dash bar", size=self._size()), self.desk.caught_words)
        else:
            self.desk.say(worded("click on a free boss or over the dash bar"))
        self.desk.redraw()

    def key(self, key: int, keys: Qt.KeyboardModifier, text: str) -> bool:
        """Leave figures alone: the hole follows from the bolt."""
        return False

    def _diameter_mm(self) -> float:
        try:
            return bolt_size(self._size()).hole_medium_mm
        except UnknownBoltError:
            return USUAL_HOLE_MM

    def _target(self, at: Flat, keys: Qt.KeyboardModifier) -> tuple[str, Flat | None]:
        """Return the boss, if any, and the place of the hole; no place where there is nothing to bolt to."""
        sheet = self.desk.on_sheet
        boss = self.boss_at(at, _BOSS_PX / self.desk.px_per_mm)
        if sheet is None or boss:
            place = next((b.at_mm for b in sheet.bosses if b.name == boss), None) if sheet else None
            return boss, place
        if sheet.bar is None:
            return "", None
        middle = Line(*sheet.bar.middle)
        half = math.dist(nearest_on(Line(*sheet.bar.lines[0]), sheet.bar.middle[0]), sheet.bar.middle[0])
        if math.dist(nearest_on(middle, at), at) > half:
            return "", None
        return "", self._caught(at, keys)

    def _size(self) -> str:
        bolts = [b for b in self.desk.door.bracket.bolts if isinstance(b.joins, AtDashBar)]
        return bolts[-1].size if bolts else USUAL_BOLT


def opening_names(desk: Desk) -> set[str]:
    """Return the names of the shown plate's openings."""
    plate = next((p for p in desk.door.bracket.plates if p.name == desk.door.shown_plate), None)
    return set() if plate is None else {opening.name for opening in plate.openings}


def select_new_opening(desk: Desk, before: set[str]) -> None:
    """Select the opening that was not there before."""
    new = opening_names(desk) - before
    if new:
        desk.door.select(Pick("opening", sorted(new)[-1], desk.door.shown_plate))
