"""Typing over a number on the sheet: which one, where its entry opens, and what it does."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, Protocol

from PySide6.QtCore import QPointF

from app.editing.dimensions import Dimension, Selected, set_dimension
from app.editing.entry import shown
from app.editing.folds import change_fold, fold_of
from app.window.door import Door, Edit
from app.window.flat.drags import words_of
from app.window.flat.entry_box import NumberEntry
from app.window.flat.mark_layout import Marks
from app.window.flat.shown_dimensions import dimensions_of, selected_of
from app.window.flat.tools.corner_tools import plate_edit
from app.window.selection import Pick
from geometry.flat_segments import Flat
from geometry.plate import Plate


class Asked(Protocol):
    """What the view does for it."""

    @property
    def door(self) -> Door:
        """Return the one door for edits."""

    @property
    def is_inch(self) -> bool:
        """Return whether lengths are read in inches."""

    def marks(self) -> Marks:
        """Return what is written on the sheet."""

    def to_px(self, at: Flat) -> QPointF:
        """Return where a flat place is in the viewport."""

    def attempt(self, words: str, edit: Edit) -> bool:
        """Make an edit as one step; if it is refused, say why."""

    @property
    def refused(self) -> str:
        """Return why the last edit was refused."""


@dataclass(frozen=True)
class Number:
    """One number that can be typed over."""

    selected: Selected
    dimension: Dimension


class TypedDimensions:
    """Opens the entry at a number and goes from one to the next."""

    def __init__(self, view: Asked, entry: NumberEntry) -> None:
        self._view = view
        self._entry = entry
        self._open: Number | None = None
        entry.tabbed.connect(self._go_on)

    def open_named(self, name: str) -> bool:
        """Open the number a mark's name stands for; return whether there is one."""
        plate = self._plate()
        if plate is None:
            return False
        of_plate = {"plate width": "width", "plate height": "height", "thickness": "thickness"}
        if name in of_plate:
            return self._open_one(Selected(plate.name, "plate"), of_plate[name])
        for start, dimension in (("fold angle ", "angle"), ("fold radius ", "inside radius")):
            if name.startswith(start):
                return self._open_one(Selected(plate.name, "fold", name=name.removeprefix(start)), dimension)
        selected = selected_of(self._view.door.pick, plate)
        return selected is not None and self._open_one(selected, name)

    def open_first(self, typed: str = "") -> bool:
        """Open the first number of what is selected, beginning with what was typed."""
        plate = self._plate()
        selected = None if plate is None else selected_of(self._view.door.pick, plate)
        if plate is None or selected is None:
            return False
        found = dimensions_of(plate, selected)
        return bool(found) and self._open_one(selected, found[0].name, typed)

    def turn_fold_over(self, name: str) -> None:
        """Let a fold go the other way."""
        plate = self._plate()
        if plate is None:
            return
        way: Literal["up", "down"] = "down" if fold_of(plate, name).direction == "up" else "up"
        edit = plate_edit(plate.name, lambda p: change_fold(p, name, direction=way))
        self._view.attempt(f"fold {name} {way}", edit)

    def _open_one(self, selected: Selected, name: str, typed: str = "") -> bool:
        plate = self._plate()
        found = () if plate is None else dimensions_of(plate, selected)
        dimension = next((d for d in found if d.name == name), None)
        if dimension is None:
            return False
        self._open = Number(selected, dimension)
        bare = "in" if self._view.is_inch and dimension.unit == "mm" else dimension.unit
        text = typed or shown(dimension.value_mm, dimension.unit, self._view.is_inch).removesuffix(" mm")
        self._entry.ask(
            self._place(selected, dimension),
            _label(dimension),
            text,
            self._take(selected, dimension),
            unit=dimension.unit,
            bare=bare,
            selected=not typed,
        )
        return True

    def _take(self, selected: Selected, dimension: Dimension) -> Callable[[float], str]:
        what = words_of(_pick_of(selected))

        def take(value: float) -> str:
            words = f"{dimension.name} of {what}"
            done = self._view.attempt(
                words, lambda b: set_dimension(b, selected.plate, selected, dimension.name, value)
            )
            return "" if done else self._view.refused or "it was refused"

        return take

    def _go_on(self, forward: bool) -> None:
        plate, number = self._plate(), self._open
        if plate is None or number is None:
            return
        names = [d.name for d in dimensions_of(plate, number.selected)]
        if number.dimension.name in names:
            place = names.index(number.dimension.name) + (1 if forward else -1)
            self._open_one(number.selected, names[place % len(names)])

    def _place(self, selected: Selected, dimension: Dimension) -> QPointF:
        """Return where the number is written, or else the middle of what it measures."""
        marks, name = self._view.marks(), dimension.name
        if selected.kind == "plate":
            wanted = {"width": "plate width", "height": "plate height"}.get(name, name)
        elif selected.kind == "fold" and not name.startswith("edge"):
            wanted = f"fold {'angle' if name == 'angle' else 'radius'} {selected.name}"
        else:
            wanted = name
        for mark in marks.dimensions:
            if mark.name == wanted:
                return mark.words.box.center()
        for words in marks.words:
            if words.name == wanted:
                return words.box.center()
        (ax, ay), (bx, by) = dimension.from_mm, dimension.to_mm
        return self._view.to_px(((ax + bx) / 2.0, (ay + by) / 2.0))

    def _plate(self) -> Plate | None:
        door = self._view.door
        return next((p for p in door.bracket.plates if p.name == door.shown_plate), None)


def _label(dimension: Dimension) -> str:
    words = {"x": "x from centre", "y": "y from centre", "before": "edge before", "after": "edge after"}
    name = words.get(dimension.name, dimension.name)
    return f"to {name}" if name.startswith("edge ") and dimension.name.startswith("edge") else name


def _pick_of(selected: Selected) -> Pick:
    index = -1 if selected.index is None else selected.index
    name = selected.plate if selected.kind == "plate" else selected.name or ""
    return Pick(selected.kind, name, selected.plate, index, selected.loop)
