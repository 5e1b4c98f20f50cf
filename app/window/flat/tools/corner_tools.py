"""Tools for corners and edges: a new corner, a rounding, a chamfer, an arc."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from PySide6.QtCore import Qt

from app.editing.loops import edge_of
from app.editing.names import plate_of, with_plate_changed
from app.editing.outline import (
    arc_edge,
    chamfer_corner,
    insert_corner,
    move_corner,
    round_corner,
    round_inside_corners,
    straighten_edge,
)
from app.window.door import Edit
from app.window.flat.guides import rings_guide
from app.window.flat.tool_in_hand import Desk, Guide, ToolInHand
from app.window.flat.under import CornerSpot, EdgeSpot, corner_near, edge_near, inward, loops_of, nearest_on
from app.window.selection import Pick
from app.window.worded import worded
from geometry.bracket import Bracket
from geometry.flat_segments import Flat
from geometry.plate import Plate

REACH_PX: Final = 12.0
DRAGGED_PX: Final = 4.0


def plate_edit(name: str, edit: Callable[[Plate], Plate]) -> Edit:
    """Return an edit of one plate as an edit of the bracket."""

    def whole(bracket: Bracket) -> Bracket:
        return with_plate_changed(bracket, name, edit(plate_of(bracket, name)))

    return whole


def depth_inside(plate: Plate, spot: CornerSpot, at: Flat) -> tuple[float, float] | None:
    """Return how far a place lies inward from a corner, and half the corner's angle."""
    corners = dict(loops_of(plate))[spot.loop]
    way = inward(corners, spot.index)
    if way is None:
        return None
    (ux, uy), half = way
    x, y = corners[spot.index].at_mm
    return max((at[0] - x) * ux + (at[1] - y) * uy, 0.0), half


class CornerTool(ToolInHand):
    """A press on an edge puts a corner there, which can be dragged on."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._spot: EdgeSpot | None = None
        self._taken: EdgeSpot | None = None

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Put the corner."""
        self._taken = spot = self._caught(at)
        if spot is None:
            self.desk.say(worded("press on an edge"))
            return
        edit = plate_edit(self._name, lambda p: insert_corner(p, spot.index, spot.at_mm, spot.loop))
        if not self.desk.preview(edit):
            self._taken = None

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Drag the new corner, or show where one would be."""
        spot = self._taken
        if spot is None:
            self._spot = self._caught(at)
            if self._spot is None:
                self.desk.say(worded("press on an edge"))
            self.desk.redraw()
            return
        if math.dist(at, spot.at_mm) * self.desk.px_per_mm < DRAGGED_PX:
            return
        to = self.desk.catch(at, from_mm=spot.at_mm, free=bool(keys & Qt.KeyboardModifier.AltModifier))

        def edit(plate: Plate) -> Plate:
            put = insert_corner(plate, spot.index, spot.at_mm, spot.loop)
            moved = move_corner(put, spot.index + 1, to, spot.loop)
            return round_inside_corners(moved, plate, spot.loop)

        self.desk.preview(plate_edit(self._name, edit))

    def release(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Keep the corner."""
        spot, self._taken = self._taken, None
        if spot is not None:
            self.desk.keep_preview(f"add corner {spot.index + 2}")
            self.desk.door.select(Pick("corner", plate=self._name, index=spot.index + 1, loop=spot.loop))

    def drop(self) -> bool:
        """Drop the new corner."""
        was, self._taken = self._taken is not None, None
        self.desk.drop_preview()
        return was

    def guides(self) -> Sequence[Guide]:
        """Return where a corner would be."""
        return (rings_guide((self._spot.at_mm,)),) if self._spot is not None and self._taken is None else ()

    @property
    def _name(self) -> str:
        return self.desk.door.shown_plate

    def _caught(self, at: Flat) -> EdgeSpot | None:
        """Return the spot on the edge under the pointer, at a round figure along it."""
        spot = None if self.plate is None else edge_near(self.plate, at, REACH_PX / self.desk.px_per_mm)
        if spot is None or self.plate is None:
            return None
        edge = edge_of(dict(loops_of(self.plate))[spot.loop], spot.index)
        return replace(spot, at_mm=nearest_on(edge, self.desk.catch(at)))


class RoundTool(ToolInHand):
    """A press on a corner rounds it as last time; a drag from it inward makes the rounding follow."""

    measure = "radius"
    step = "round"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._spot: CornerSpot | None = None
        self._from: Flat | None = None

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Round the corner."""
        self._spot = self._near(at)
        self._from = at if self._spot is not None else None
        if self._spot is None:
            self.desk.say(worded("press on a corner"))
            return
        self._preview(self._value())

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Let the rounding follow the pointer."""
        if self._from is None or self._spot is None or self.plate is None:
            self._spot = self._near(at)
            self.desk.say(
                f"{self.measure} {self.desk.words_of(self._value())}" if self._spot else "press on a corner"
            )
            self.desk.redraw()
            return
        if math.dist(at, self._from) * self.desk.px_per_mm < DRAGGED_PX:
            return
        deep = depth_inside(self.plate, self._spot, at)
        if deep is not None:
            value = max(round(self.measured(*deep) / self.desk.grid_mm), 0) * self.desk.grid_mm
            if self._preview(value):
                self.desk.memory[self.measure] = value or self._value()
                self.desk.say(f"{self.measure} {self.desk.words_of(value)}")

    def release(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Keep the rounding."""
        spot, self._from = self._spot, None
        if spot is not None:
            self.desk.keep_preview(f"{self.step} corner {spot.index + 1}")

    def key(self, key: int, keys: Qt.KeyboardModifier, text: str) -> bool:
        """Take a figure for the next corners."""
        if not text.isdigit():
            return False
        self.desk.ask_number(text, f"{self.measure} of corners", self._set_value)
        return True

    def drop(self) -> bool:
        """Drop the rounding."""
        was, self._from = self._from is not None, None
        self.desk.drop_preview()
        return was

    def guides(self) -> Sequence[Guide]:
        """Return the corner that would be rounded."""
        return (rings_guide((self._spot.at_mm,)),) if self._spot is not None and self._from is None else ()

    def measured(self, deep_mm: float, half_angle: float) -> float:
        """Return the radius whose arc passes that far inside the corner."""
        return deep_mm / (1.0 / math.sin(half_angle) - 1.0)

    def edited(self, plate: Plate, spot: CornerSpot, value_mm: float) -> Plate:
        """Return the plate with the corner rounded."""
        return round_corner(plate, spot.index, value_mm, spot.loop)

    def _preview(self, value_mm: float) -> bool:
        spot = self._spot
        if spot is None:
            return False
        return self.desk.preview(
            plate_edit(self.desk.door.shown_plate, lambda p: self.edited(p, spot, value_mm))
        )

    def _near(self, at: Flat) -> CornerSpot | None:
        return None if self.plate is None else corner_near(self.plate, at, REACH_PX / self.desk.px_per_mm)

    def _value(self) -> float:
        usual = 5.0 if self.plate is None else self.plate.thickness_mm
        return self.desk.memory.get(self.measure, usual)

    def _set_value(self, value_mm: float) -> bool:
        if value_mm > 0.0:
            self.desk.memory[self.measure] = value_mm
        return value_mm > 0.0


class ChamferTool(RoundTool):
    """A press on a corner cuts it off as last time; a drag from it inward makes the chamfer follow."""

    measure = "chamfer"
    step = "chamfer"

    def measured(self, deep_mm: float, half_angle: float) -> float:
        """Return the leg of the chamfer that passes that far inside the corner."""
        return deep_mm / math.cos(half_angle)

    def edited(self, plate: Plate, spot: CornerSpot, value_mm: float) -> Plate:
        """Return the plate with the corner cut off; a leg of nothing leaves it."""
        return chamfer_corner(plate, spot.index, value_mm, spot.loop) if value_mm > 0.0 else plate


class ArcTool(ToolInHand):
    """A drag from an edge bends it through the pointer; a click on an arc makes it straight."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._spot: EdgeSpot | None = None
        self._from: Flat | None = None
        self._bent = False

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Take the edge."""
        self._spot, self._bent = self._near(at), False
        self._from = at if self._spot is not None else None
        if self._spot is None:
            self.desk.say(worded("press on an edge"))

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Bend the edge through the pointer."""
        if self._from is None or self._spot is None:
            self._spot = self._near(at)
            self.desk.say("drag to bend this edge" if self._spot else "press on an edge")
            self.desk.redraw()
            return
        if math.dist(at, self._from) * self.desk.px_per_mm < DRAGGED_PX:
            return
        spot = self._spot
        via = self.desk.catch(at, free=bool(keys & Qt.KeyboardModifier.AltModifier))
        edit = plate_edit(self._name, lambda p: arc_edge(p, spot.index, via, spot.loop))
        self._bent = self.desk.preview(edit) or self._bent

    def release(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Keep the arc, or make an arc straight that was only clicked."""
        spot, self._from = self._spot, None
        if spot is None:
            return
        if self._bent:
            self.desk.keep_preview(f"bend edge {spot.index + 1}")
        elif (
            self.plate is not None
            and dict(loops_of(self.plate))[spot.loop][spot.index].arc_via_mm is not None
        ):
            self.desk.attempt(
                f"straighten edge {spot.index + 1}",
                plate_edit(self._name, lambda p: straighten_edge(p, spot.index, spot.loop)),
            )

    def drop(self) -> bool:
        """Drop the arc."""
        was, self._from = self._from is not None, None
        self.desk.drop_preview()
        return was

    @property
    def _name(self) -> str:
        return self.desk.door.shown_plate

    def _near(self, at: Flat) -> EdgeSpot | None:
        return None if self.plate is None else edge_near(self.plate, at, REACH_PX / self.desk.px_per_mm)
