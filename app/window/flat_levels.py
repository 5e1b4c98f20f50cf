"""From where projection lines set out: the top and bottom of the flat pattern, and its fold lines."""

from __future__ import annotations

from typing import Final, Protocol

from PySide6.QtCore import QPointF

from app.window.door import Door
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import Flat, ShapeError

_CLEAR_PX: Final = 12.0


class Pictures(Protocol):
    """A view that says where a flat place is drawn."""

    def to_px(self, at: Flat) -> QPointF:
        """Return where a flat place is in the view."""


class FlatLevels:
    """Asks the door for the plate and the view for the pixels."""

    def __init__(self, view: Pictures, door: Door) -> None:
        self._view, self._door = view, door

    def levels(self) -> list[tuple[float, float]]:
        """Return (x, y) in pixels of the view, one for each level, just right of the plate."""
        plate = next((p for p in self._door.drawn.plates if p.name == self._door.shown_plate), None)
        if plate is None:
            return []
        try:
            _, low, right, high = flat_pattern(plate).polygon.bounds
        except ShapeError:
            return []
        heights = {low, high, *(0.5 * (fold.from_mm[1] + fold.to_mm[1]) for fold in plate.folds)}
        places = [self._view.to_px((right, height)) for height in sorted(heights)]
        return [(at.x() + _CLEAR_PX, at.y()) for at in places]
