"""Edits of the whole bracket that menus offer: the other hand of drive, variants."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from app.editing.other_hand import for_other_hand
from app.editing.renames import with_own_material
from app.editing.variants import as_variant, variants_of, with_variant, without_variant
from app.window.action import Choice
from app.window.asks import Asks
from app.window.door import Door
from app.window.selection import Pick
from app.window.worded import worded


class BracketEdits(QObject):
    """Each is one step through the door."""

    told = Signal(str)

    def __init__(self, door: Door, asks: Asks, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._door, self._asks = door, asks

    def other_hand(self) -> None:
        """Mirror the whole bracket for the other hand of drive."""
        self._door.attempt("other hand of drive", for_other_hand)

    def own_material(self) -> None:
        """Give the shown plate a material of the file's own, whose figures are then changed."""
        name = self._door.shown_plate
        if not name:
            self._door.refuse(worded("there is no plate to give a material of its own: draw one first"))
        elif self._door.attempt(f"own material for {name}", lambda b: with_own_material(b, name)):
            self._door.select(Pick("material", self._door.bracket.materials[-1].name))
            self._door.tell(
                worded("Its figures are the table's: put in those of the certificate in the parts list.")
            )

    def keep_variant(self) -> None:
        """Keep the layout as it now stands under a name, and go on with a copy of it."""
        bracket = self._door.bracket
        name = self._asks.name("Keep this layout under the name:", _free_name(variants_of(bracket)))
        if name and self._door.attempt(f"keep {name}", lambda now: with_variant(now, name, now)):
            self._door.tell(
                worded("{name} is kept in this file: Saw, Show a variant brings it back.", name=name)
            )

    def variant_choices(self) -> list[Choice]:
        """Return the layouts kept beside the drawn one."""
        return [Choice(name, name) for name in variants_of(self._door.bracket)]

    def show_variant(self, name: str) -> None:
        """Draw a kept layout and keep the drawn one in its place."""
        self._door.attempt(f"show {name}", lambda bracket: as_variant(bracket, name))

    def drop_variant(self, name: str) -> None:
        """Drop a kept layout."""
        self._door.attempt(f"drop {name}", lambda bracket: without_variant(bracket, name))


def _free_name(taken: tuple[str, ...]) -> str:
    return next(name for k in range(1, len(taken) + 2) if (name := f"layout {k}") not in taken)
