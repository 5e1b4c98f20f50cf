"""The inspected bracket, read only: the flat pattern of each plate, and beside it the bracket as mounted."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.flat.view import FlatView
from app.window.inspection.desk import InspectionDesk
from app.window.lists.caption import Link
from app.window.mounted_painting import Painting
from app.window.mounted_view import MountedView
from geometry.fixing import Bolt

READ_ONLY: Final = (
    "This bracket is only inspected: nothing of it is changed here. Open it on the sheet to draw."
)
_MOST_PLATES: Final = 12


class BracketLeaf(QWidget):
    """Stands behind a door that refuses every edit; a bolt that is picked is told as it is listed."""

    def __init__(
        self,
        desk: InspectionDesk,
        theme: Theme,
        painting: Painting | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk, self._theme = desk, theme
        self.door = Door(desk.bracket, self)
        self.door.set_read_only(READ_ONLY)
        self.door.told.connect(desk.told)
        self.view = FlatView(self.door, theme)
        self.mounted = MountedView(self, painting)
        self.mounted.picked.connect(self._tell)
        self._plates = QHBoxLayout()
        self._links: list[Link] = []
        both = QHBoxLayout()
        both.addWidget(self.view, 3)
        both.addWidget(self.mounted, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._plates)
        column.addLayout(both, 1)
        desk.opened.connect(self._show)
        desk.changed.connect(self._show_results)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.view.set_theme(theme)
        self.mounted.set_theme(theme)
        for link in self._links:
            link.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Show inch figures."""
        self.view.set_inch(inch)
        self.mounted.set_inch(inch)

    def point_at_bolt(self, name: str) -> None:
        """Draw a bolt as selected where it is mounted."""
        self.mounted.set_selected("bolt", name)
        self._tell("bolt", name)

    def _show(self) -> None:
        self.door.open(self._desk.bracket)
        self.mounted.set_bracket(self._desk.bracket)
        self.mounted.set_selected(None)
        self._show_results()
        while (item := self._plates.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()  # it is drawn until it is deleted
                widget.deleteLater()
        self._links = []
        for plate in self._desk.bracket.plates[:_MOST_PLATES]:
            link = Link(plate.name, self._theme)
            link.clicked.connect(lambda _=False, name=plate.name: self.door.show_plate(name))
            self._links.append(link)
            self._plates.addWidget(link)
        self._plates.addStretch(1)
        self.view.fit()

    def _show_results(self) -> None:
        """Show stress and movement of the bracket as it is in the file, once that is computed."""
        found, inputs = self._desk.judgements, self._desk.bracket.input_hash()
        own = next(
            (r for r in (found.under_profile, found.under_file) if r is not None and r.hash == inputs), None
        )
        if own is not self.mounted.scene.results:
            self.mounted.set_results(own, pencil=False)

    def _tell(self, kind: str, name: str) -> None:
        bolt = next((b for b in self._desk.bracket.bolts if b.name == name), None)
        if kind == "bolt" and bolt is not None:
            self.mounted.set_selected("bolt", name)
            self._desk.told.emit(_listed(bolt))


def _listed(bolt: Bolt) -> str:
    torque = "torque blank" if bolt.tightening_nm is None else f"{bolt.tightening_nm:g} N.m"
    locking = (bolt.locking or "").strip() or "no locking said"
    return f"Bolt {bolt.name} as listed: {bolt.size} {bolt.grade or 'grade blank'}, {torque}, {locking}."
