"""What a drawing tool is, and what it may ask of the view it works in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal, Protocol

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainterPath

from app.window.door import Door, Edit
from app.window.flat.on_sheet import OnSheet
from app.window.selection import Pick
from geometry.flat_segments import Flat
from geometry.plate import Plate

GuideKind = Literal["guide", "drawn", "handle"]


@dataclass(frozen=True)
class Guide:
    """A line of a gesture in progress; handles are small rings at the places given."""

    kind: GuideKind
    path: QPainterPath = field(default_factory=QPainterPath)
    places: tuple[Flat, ...] = ()


class Desk(Protocol):
    """The view, as a tool sees it."""

    @property
    def door(self) -> Door:
        """Return the one door for edits."""

    @property
    def on_sheet(self) -> OnSheet | None:
        """Return what lies on the sheet, with the gesture in progress."""

    @property
    def px_per_mm(self) -> float:
        """Return the scale."""

    @property
    def is_inch(self) -> bool:
        """Return whether lengths are read in inches."""

    @property
    def grid_mm(self) -> float:
        """Return the round step that lengths are dragged in at the present scale."""

    @property
    def memory(self) -> dict[str, float]:
        """Return the measures last used, by what they are of."""

    def catch(
        self,
        at: Flat,
        *,
        from_mm: Flat | None = None,
        leaving: Pick | None = None,
        free: bool = False,
    ) -> Flat:
        """Return the place the pointer is caught at and say why at the pointer.

        `leaving` is what moves along and so catches nothing; `free` catches nothing at all.
        """

    def say(self, *parts: str) -> None:
        """Say a sentence at the pointer, made of the parts that are not empty."""

    @property
    def caught_words(self) -> str:
        """Return why the last place was caught."""

    def words_of(self, value_mm: float) -> str:
        """Return a length as it is shown."""

    def attempt(self, words: str, edit: Edit) -> bool:
        """Make an edit as one step; if it is refused, say why at the pointer."""

    def preview(self, edit: Edit) -> bool:
        """Show what an edit would give; if it is refused, say why at the pointer."""

    def keep_preview(self, words: str) -> None:
        """Make the gesture in progress a step."""

    def drop_preview(self) -> None:
        """Take back the gesture in progress."""

    def ask_number(self, typed: str, label: str, done: Callable[[float], bool]) -> None:
        """Open an entry at the pointer; `done` gets the mm and returns whether they can be."""

    def ask_count(self, label: str, done: Callable[[int], bool], typed: str = "") -> None:
        """Open an entry for a number of pieces."""

    def to_px(self, at: Flat) -> QPointF:
        """Return where a flat place is in the viewport."""

    def redraw(self) -> None:
        """Draw the gesture anew."""

    def put_down(self) -> None:
        """Go back to selecting."""


class ToolInHand:
    """A tool while it is used. Places are mm of the flat pattern."""

    bare_sheet = False
    """Whether it works on a sheet without the shown plate."""
    cursor = Qt.CursorShape.CrossCursor

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    @property
    def plate(self) -> Plate | None:
        """Return the shown plate as it stands, without the gesture in progress."""
        door = self.desk.door
        return next((p for p in door.bracket.plates if p.name == door.shown_plate), None)

    def press(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Take the pointer's button going down."""

    def move(self, at: Flat, keys: Qt.KeyboardModifier, *, pressed: bool) -> None:
        """Take a move of the pointer."""

    def release(self, at: Flat, keys: Qt.KeyboardModifier) -> None:
        """Take the pointer's button going up."""

    def double(self, at: Flat) -> None:
        """Take a double click; the press before it was taken already."""

    def key(self, key: int, keys: Qt.KeyboardModifier, text: str) -> bool:
        """Take a key; return whether it was of use."""
        return False

    def drop(self) -> bool:
        """Drop the gesture in progress; return whether there was one."""
        return False

    def guides(self) -> Sequence[Guide]:
        """Return the lines of the gesture in progress."""
        return ()
