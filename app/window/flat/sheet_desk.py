"""The sheet as the tools see it: catching, saying, trying edits, asking for numbers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.door import Door, Edit
from app.window.flat.catching import BARE_SHEET, Catching
from app.window.flat.drawn_sheet import DrawnSheet
from app.window.flat.entry_box import NumberEntry
from app.window.flat.shown_dimensions import figure
from app.window.selection import Pick
from geometry.flat_segments import Flat

CATCH_PX: Final = 7.0
_GRID_PX: Final = 2.0
"""The grid is the finest round step that is at least this many pixels."""
_GRIDS_MM: Final = (0.1, 0.5, 1.0, 5.0, 10.0, 50.0)
_GRIDS_INCH: Final = (1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1.0, 2.0)
_MM_PER_INCH: Final = 25.4


class SheetDesk(DrawnSheet):
    """Gives tools what they ask for."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(door, theme, parent)
        self.memory: dict[str, float] = {}
        self._catching = Catching()
        self._caught_words = ""
        self._asking = False
        self.entry = NumberEntry(self.viewport())
        self.entry.set_theme(theme)
        door.told.connect(self._told)

    @property
    def grid_mm(self) -> float:
        """Return the round step that lengths are dragged in at the present scale."""
        steps = tuple(step * _MM_PER_INCH for step in _GRIDS_INCH) if self.is_inch else _GRIDS_MM
        return next((step for step in steps if step * self.px_per_mm >= _GRID_PX), steps[-1])

    @property
    def caught_words(self) -> str:
        """Return why the last place was caught."""
        return self._caught_words

    @property
    def refused(self) -> str:
        """Return why the last edit was refused, empty if it was not."""
        return self._refused

    @property
    def said(self) -> str:
        """Return what is said at the pointer."""
        return self._said

    def catch(
        self, at: Flat, *, from_mm: Flat | None = None, leaving: Pick | None = None, free: bool = False
    ) -> Flat:
        """Return the place the pointer is caught at and say why at the pointer."""
        bracket = self._bare or self.door.bracket
        name = BARE_SHEET if self.is_bare else self.door.shown_plate
        if free or self.on_sheet is None:
            self._caught_words = ""
        else:
            caught = self._catching.catch(
                bracket,
                name,
                at,
                CATCH_PX / self.px_per_mm,
                grid_mm=self.grid_mm,
                from_mm=from_mm,
                leaving=leaving,
                inch=self.is_inch,
            )
            at, self._caught_words = caught.at_mm, caught.words
        self.say(self._caught_words)
        return at

    def say(self, *parts: str) -> None:
        """Say a sentence at the pointer, made of the parts that are not empty."""
        self._said = "; ".join(part for part in parts if part)
        self.redraw()

    def words_of(self, value_mm: float) -> str:
        """Return a length as it is said."""
        return figure(value_mm, inch=self.is_inch) + (" in" if self.is_inch else "")

    def attempt(self, words: str, edit: Edit) -> bool:
        """Make an edit as one step; if it is refused, say why at the pointer."""
        return self._with_answer(lambda: self.door.attempt(words, edit))

    def preview(self, edit: Edit) -> bool:
        """Show what an edit would give; if it is refused, say why at the pointer."""
        return self._with_answer(lambda: self.door.preview(edit))

    def keep_preview(self, words: str) -> None:
        """Make the gesture in progress a step."""
        self._said = self._refused = ""
        self.door.keep_preview(words)
        self.redraw()

    def drop_preview(self) -> None:
        """Take back the gesture in progress."""
        self._said = self._refused = ""
        self.door.drop_preview()
        self.redraw()

    def ask_number(self, typed: str, label: str, done: Callable[[float], bool]) -> None:
        """Open an entry at the pointer; `done` gets the mm and returns whether they can be."""
        bare = "in" if self.is_inch else "mm"
        self.entry.ask(
            self._pointer,
            label,
            typed,
            lambda value: "" if done(value) else f"{label} cannot be that; give more than 0",
            bare=bare,
            selected=False,
        )

    def ask_count(self, label: str, done: Callable[[int], bool], typed: str = "") -> None:
        """Open an entry for a number of pieces."""
        self.entry.ask(
            self._pointer,
            label,
            typed or "2",
            lambda value: "" if done(int(value)) else self._refused or "give 2 or more",
            unit="",
            selected=not typed,
        )

    def _with_answer(self, ask: Callable[[], bool]) -> bool:
        """Take what the door tells meanwhile as the answer, to be said at the pointer."""
        self._asking, self._refused = True, ""
        try:
            return ask()
        finally:
            self._asking = False
            self.redraw()

    def _told(self, sentence: str) -> None:
        if self._asking:
            self._refused = sentence
