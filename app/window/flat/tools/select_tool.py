"""Selecting and dragging: the tool in hand unless another was taken."""

from __future__ import annotations

import math
from typing import Final

from PySide6.QtCore import Qt

from app.window.flat.drags import Drag, drag_of, drag_of_handle, words_of
from app.window.flat.handles import HIT_PX, Handle, handles_of
from app.window.flat.tool_in_hand import Desk, ToolInHand
from app.window.flat.under import under
from app.window.selection import Pick
from geometry.flat_segments import Flat

DRAGGED_PX: Final = 4.0
REACH_PX: Final = 10.0


class SelectTool(ToolInHand):
    """A press selects, a drag moves; on the bare ground the view pans instead."""

    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._drag: Drag | None = None
        self._handle: Handle | None = None
        self._pressed: Flat | None = None
        self._moving = False

    def grips(self, at: Flat) -> bool:
        """Return whether a press there would take hold of something, so that the sheet is not panned."""
        if self._handle_at(at) is not None:
            return True
        pick = self.under(at)
        return pick is not None and pick.kind not in ("plate", "boss")

    def under(self, at: Flat) -> Pick | None:
        """Return what a press there would select."""
        sheet = self.desk.on_sheet
        return None if sheet is None else under(sheet, at, REACH_PX / self.desk.px_per_mm)

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Select, and be ready to drag."""
        self._pressed, self._moving, self._drag = at, False, None
        self._handle = handle = self._handle_at(at)
        if handle is not None and self.plate is not None:
            self._drag = drag_of_handle(self.plate, handle)
            return
        pick = self.under(at)
        if not self.grips(at):
            return  # the sheet is panned, or this is selected when the button goes up where it went down
        self.desk.door.select(pick)
        plate = self.plate
        self._drag = None if pick is None or plate is None else drag_of(plate, pick, at)

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Drag what was pressed, or say what the pointer is on."""
        if self._drag is None or self._pressed is None or not pressed:
            return
        if not self._moving and math.dist(at, self._pressed) * self.desk.px_per_mm < DRAGGED_PX:
            return
        self._moving = True
        to = self._target(self._drag, self._pressed, at, keys)
        if self.desk.preview(self._drag.edit(to)):
            self.desk.say(self._reading(self._drag, to), self.desk.caught_words)

    def release(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Keep what was dragged as one step; a handle that was only clicked selects what it is of."""
        drag, self._drag, self._pressed = self._drag, None, None
        handle, self._handle = self._handle, None
        if drag is not None and self._moving:
            self.desk.keep_preview(drag.words)
        elif handle is not None:
            self.desk.door.select(handle.pick)
        self._moving = False

    def click(self, at: Flat) -> None:
        """Select what lies where the button went down and up again, the bare ground too."""
        if not self.grips(at):
            self.desk.door.select(self.under(at))

    def drop(self) -> bool:
        """Drop the drag."""
        was = self._moving
        self._drag, self._handle, self._pressed, self._moving = None, None, None, False
        self.desk.drop_preview()
        return was

    def _handle_at(self, at: Flat) -> Handle | None:
        sheet = self.desk.on_sheet
        if sheet is None:
            return None
        handles = handles_of(sheet.plate, self.desk.door.pick, self.desk.px_per_mm)
        near = [(math.dist(h.at_mm, at), n) for n, h in enumerate(handles)]
        best = min(near, default=None)
        return handles[best[1]] if best is not None and best[0] * self.desk.px_per_mm <= HIT_PX else None

    def _target(self, drag: Drag, pressed: Flat, at: Flat, keys: Qt.KeyboardModifier) -> Flat:
        """Return where the thing goes: moved as the pointer was, then caught."""
        free = bool(keys & Qt.KeyboardModifier.AltModifier)
        wanted = (drag.start_mm[0] + at[0] - pressed[0], drag.start_mm[1] + at[1] - pressed[1])
        if drag.value is not None:
            return self._rounded(drag, wanted, free=free)
        caught = self.desk.catch(wanted, from_mm=drag.start_mm, leaving=drag.leaving, free=free)
        if drag.along is None:
            return caught
        ux, uy = drag.along
        far = (caught[0] - drag.start_mm[0]) * ux + (caught[1] - drag.start_mm[1]) * uy
        return (drag.start_mm[0] + far * ux, drag.start_mm[1] + far * uy)

    def _rounded(self, drag: Drag, wanted: Flat, *, free: bool) -> Flat:
        """Return the place near the pointer at which the measure that is dragged is a round figure."""
        self.desk.catch(wanted, free=True)
        if free or drag.value is None:
            return wanted
        value = drag.value(wanted)
        step = self.desk.grid_mm
        target = max(round(value / step), 0) * step
        reach = 1e-3 + abs(value)
        ahead = drag.value(_further(drag, wanted, reach * 0.01))
        slope = (ahead - value) / (reach * 0.01)
        return wanted if abs(slope) < 1e-9 else _further(drag, wanted, (target - value) / slope)

    def _reading(self, drag: Drag, to: Flat) -> str:
        if drag.value is not None:
            return f"{drag.reading} {self.desk.words_of(drag.value(to))}"
        dx, dy = to[0] - drag.start_mm[0], to[1] - drag.start_mm[1]
        parts = []
        if abs(dx) > 1e-9:
            parts.append(f"{self.desk.words_of(abs(dx))} {'right' if dx > 0 else 'left'}")
        if abs(dy) > 1e-9:
            parts.append(f"{self.desk.words_of(abs(dy))} {'up' if dy > 0 else 'down'}")
        return ", ".join(parts)


def _further(drag: Drag, at: Flat, by: float) -> Flat:
    """Return a place further out along what the drag measures: along its one direction, or to the right."""
    ux, uy = drag.along or (1.0, 0.0)
    return (at[0] + by * ux, at[1] + by * uy)


__all__ = ["SelectTool", "words_of"]
