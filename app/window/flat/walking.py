"""The keyboard on the sheet: walking through what can be selected, and nudging it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt

from app.window.flat.drags import moved_by, words_of
from app.window.flat.on_sheet import OnSheet
from app.window.flat.tool_in_hand import Desk
from app.window.flat.under import loops_of
from app.window.selection import Pick
from geometry.flat_segments import Flat
from geometry.plate import Plate

WAYS: Final[dict[int, Flat]] = {
    int(Qt.Key.Key_Left): (-1.0, 0.0),
    int(Qt.Key.Key_Right): (1.0, 0.0),
    int(Qt.Key.Key_Up): (0.0, 1.0),
    int(Qt.Key.Key_Down): (0.0, -1.0),
}
_INCH_MM: Final = 25.4


def walk_of(sheet: OnSheet) -> list[Pick]:
    """Return what can be selected on a sheet, in the order Tab goes through it."""
    plate = sheet.plate
    walk = [Pick("plate", plate.name)]
    for loop, corners in loops_of(plate):
        if loop is None:
            walk += _loop(plate, loop, len(corners))
    for opening in plate.openings:
        walk.append(Pick("opening", opening.name, plate.name))
        if opening.kind == "cut-out":
            walk += _loop(plate, opening.name, len(opening.corners))
    walk += [Pick("fold", fold.name, plate.name) for fold in plate.folds]
    walk += [Pick("bolt", ring.bolt) for ring in sheet.rings]
    walk += [Pick("weld", run.weld) for run in sheet.welds]
    walk += [Pick("boss", boss.name) for boss in sheet.bosses if not boss.bolted]
    return walk


def next_of(sheet: OnSheet, pick: Pick | None, *, forward: bool) -> Pick | None:
    """Return what Tab selects next; None past the end, so that the keyboard can leave the sheet."""
    walk = walk_of(sheet)
    if pick not in walk:
        return walk[0] if forward else walk[-1]
    place = walk.index(pick) + (1 if forward else -1)
    return walk[place] if 0 <= place < len(walk) else None


def step_mm(keys: Qt.KeyboardModifier, *, inch: bool) -> float:
    """Return how far an arrow key moves: 1 mm or 1/16 in, with Shift 0.1 mm or 1/64 in."""
    finer = bool(keys & Qt.KeyboardModifier.ShiftModifier)
    if inch:
        return _INCH_MM / (64.0 if finer else 16.0)
    return 0.1 if finer else 1.0


class Nudge:
    """Moves what is selected while arrow keys are down: one step for as long as one is held."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._by: Flat | None = None
        self._pick: Pick | None = None

    def press(self, key: int, keys: Qt.KeyboardModifier) -> bool:
        """Move on; return whether there was something to move."""
        door, way = self._desk.door, WAYS[key]
        plate = next((p for p in door.bracket.plates if p.name == door.shown_plate), None)
        pick = door.pick
        if plate is None or pick is None:
            return False
        if pick != self._pick:
            self.keep()
        step = step_mm(keys, inch=self._desk.is_inch)
        x, y = self._by or (0.0, 0.0)
        by = (x + way[0] * step, y + way[1] * step)
        edit = moved_by(plate, pick, by)
        if edit is None:
            return False
        if self._desk.preview(edit):
            self._by, self._pick = by, pick
            words = [
                self._desk.words_of(abs(far)) + " " + side for far, side in _sides(by) if abs(far) > 1e-9
            ]
            self._desk.say(", ".join(words))
        return True

    def keep(self) -> None:
        """Make a step of it."""
        if self._by is not None and self._pick is not None:
            self._desk.keep_preview(f"nudge {words_of(self._pick)}")
        self._by = self._pick = None

    def drop(self) -> bool:
        """Take it back; return whether there was a nudge."""
        was, self._by, self._pick = self._by is not None, None, None
        if was:
            self._desk.drop_preview()
        return was


def _sides(by: Flat) -> tuple[tuple[float, str], tuple[float, str]]:
    return ((by[0], "right" if by[0] > 0.0 else "left"), (by[1], "up" if by[1] > 0.0 else "down"))


def _loop(plate: Plate, loop: str | None, count: int) -> list[Pick]:
    walk = []
    for index in range(count):
        walk.append(Pick("corner", plate=plate.name, index=index, loop=loop))
        walk.append(Pick("edge", plate=plate.name, index=index, loop=loop))
    return walk
