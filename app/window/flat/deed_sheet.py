"""What can be done with what is selected on the sheet, by menu or by key."""

from __future__ import annotations

from functools import partial
from typing import Final

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QMenu

from app.editing.joined_plates import joined
from app.editing.openings import remove_plate
from app.editing.outline import round_inside_corners, sharp_inside_corners
from app.editing.repeats import mirror_opening, mirror_plate, repeat_round
from app.editing.sheet_places import casing_centre
from app.editing.welding import weld_edge
from app.window.door import Edit
from app.window.flat.drags import words_of
from app.window.flat.tool_sheet import ToolSheet
from app.window.flat.tools.corner_tools import plate_edit
from app.window.selection import Pick
from app.window.worded import worded
from geometry.finding_words import named_once
from geometry.plate import Plate


class DeedSheet(ToolSheet):
    """Does it as one step each, or says what must be selected first."""

    def weld_selected(self) -> None:
        """Weld the selected edge to what it stands on."""
        plate, pick = self._selected()
        if plate is None or pick is None or pick.kind != "edge" or pick.loop is not None:
            self._ask_for("weld", "an edge of the outline")
            return
        name, index = plate.name, pick.index
        self.attempt(f"weld {words_of(pick)}", lambda b: weld_edge(b, name, index))

    def copy_selected(self) -> None:
        """Copy the opening, fold or plate that is selected."""
        if not self.copy():
            self._ask_for("copy", "an opening, a fold or a plate")

    def paste_copied(self) -> None:
        """Paste what was copied, at the pointer or where it was copied from."""
        if self.has_clip:
            self.paste()
        else:
            self.door.refuse(
                worded("there is nothing to paste: select an opening or a plate and copy it first")
            )

    def remove(self) -> bool:
        """Take away what is selected, a plate too; return whether it was done."""
        pick = self.door.pick
        if pick is None or pick.kind != "plate":
            return super().remove()
        done = self.attempt(named_once(f"remove plate {pick.name}"), lambda b: remove_plate(b, pick.name))
        if done:
            self.door.select(None)
        return done

    def remove_selected(self) -> None:
        """Take away what is selected."""
        if not self.remove() and not self.refused:
            self._ask_for("remove", "a corner, an opening, a fold, a bolt, a weld or a plate")

    def mirror_across(self) -> None:
        """Mirror what is selected from left to right: a plate itself, an opening as one more."""
        self._mirror(upward=False)

    def mirror_upward(self) -> None:
        """Mirror what is selected from below to above: a plate itself, an opening as one more."""
        self._mirror(upward=True)

    def repeat_round_centre(self) -> None:
        """Ask how many, and repeat the selected opening evenly round the casing's centre."""
        plate, pick = self._selected()
        if plate is None or pick is None or pick.kind != "opening":
            self._ask_for("repeat", "an opening")
            return
        centre = casing_centre(plate)
        words = f"repeat {words_of(pick)}"
        self.ask_count(
            self.tr("how many, with this one"),
            lambda n: self.attempt(words, lambda b: repeat_round(b, plate.name, pick.name, centre, n)),
        )

    def join(self) -> None:
        """Join the shown plate with the other one; of several, ask which."""
        name = self.door.shown_plate
        others = [plate.name for plate in self.door.bracket.plates if plate.name != name]
        if not others:
            self.door.refuse(worded("there is no other plate to join with: draw one, or saw this one"))
        elif len(others) == 1:
            self._join(others[0])
        else:
            menu = self.join_menu(others)
            menu.popup(self.viewport().mapToGlobal(QPoint(20, 20)))
            menu.setActiveAction(menu.actions()[0])

    def join_menu(self, others: list[str]) -> QMenu:
        """Return the plates to choose from."""
        menu = QMenu(self)
        for other in others:
            menu.addAction(other.replace("&", "&&"), partial(self._join, other))
        return menu

    def turn_selected_fold_over(self) -> None:
        """Let the selected fold go the other way."""
        pick = self.door.pick
        if pick is None or pick.kind != "fold":
            self._ask_for("turn over", "a fold")
        else:
            self.turn_fold_over(pick.name)

    def round_all_inside(self) -> None:
        """Give every sharp inside corner of the shown plate its radius."""
        plate, _ = self._selected()
        if plate is None or not sharp_inside_corners(plate):
            self.door.refuse(worded("no inside corner of this plate's outline is sharp"))
            return
        self.attempt("round inside corners", plate_edit(plate.name, lambda p: round_inside_corners(p)))

    def type_measures(self) -> None:
        """Begin to type the first measure of what is selected; bolt a boss that is."""
        if not (self.open_first_number() or self.bolt_picked_boss()):
            self._ask_for("measure", "a corner, an edge, an opening, a fold or a plate")

    def do_by_key(self, letter: str) -> bool:
        """Do what a letter stands for; return whether it stands for anything."""
        deed = _BY_KEY.get(letter)
        if deed is not None:
            getattr(self, deed)()
        return deed is not None

    def _mirror(self, *, upward: bool) -> None:
        plate, pick = self._selected()
        if plate is None or (pick is not None and pick.kind not in ("opening", "plate")):
            self._ask_for("mirror", "an opening or a plate")
            return
        x, y = casing_centre(plate)
        axis = ((x, y), (x + 1.0, y)) if upward else ((x, y), (x, y + 1.0))
        edit: Edit
        if pick is not None and pick.kind == "opening":
            words, edit = words_of(pick), lambda b: mirror_opening(b, plate.name, pick.name, axis)
        else:
            words, edit = f"plate {plate.name}", lambda b: mirror_plate(b, plate.name, axis)
        self.attempt(named_once(f"mirror {words}"), edit)

    def _join(self, other: str) -> None:
        name = self.door.shown_plate
        self.attempt(f"join {name} and {other}", lambda b: joined(b, name, other))

    def _selected(self) -> tuple[Plate | None, Pick | None]:
        sheet = self.on_sheet
        return (None if sheet is None else sheet.plate), self.door.pick

    def _ask_for(self, what: str, wanted: str) -> None:
        self.door.refuse(
            worded("to {what}, select {wanted} first, with Tab or the pointer", what=what, wanted=wanted)
        )


_BY_KEY: Final = {
    "D": "mirror_across",
    "V": "mirror_upward",
    "O": "repeat_round_centre",
    "J": "join",
    "Y": "turn_selected_fold_over",
    "I": "round_all_inside",
}
"""Letters and the methods they stand for."""
