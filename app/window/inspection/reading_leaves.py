"""Leaves that are only read: the comparison of claim and computation, and the bracket itself."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QHBoxLayout, QTextBrowser, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.flat.view import FlatView
from app.window.inspection.desk import InspectionDesk
from app.window.lists.caption import Link, thin_bar
from app.window.lists.reading_panel import sections

READ_ONLY = "This bracket is only inspected: nothing of it is changed here. Open it on the sheet to draw."


class ComparisonLeaf(QTextBrowser):
    """The claim, the verdict now, what is looser and what has to be looked at."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._theme, self._written = desk, theme, ""
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setAccessibleName(self.tr("Claim and what is computed now"))
        desk.changed.connect(self._write)
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme, self._written = theme, ""
        self.verticalScrollBar().setStyleSheet(thin_bar(theme))
        self._write()

    def _write(self) -> None:
        compared, desk = self._desk.comparison, self._desk
        claimed = (*compared.claim_lines, compared.verdict_line)
        more = tuple(line for line in (compared.under_builder, compared.built_line) if line)
        fasteners = (*(f"boss {n} is not used" for n in compared.unused_bosses), *compared.fasteners)
        body = sections(
            [
                (self.tr("Claim, and what is computed now"), (*claimed, *more)),
                (self.tr("Why"), compared.reasons),
                (self.tr("As built"), (*compared.as_built.differences, *compared.as_built.misfits)),
                (
                    self.tr("Looser than usual, or on somebody's word; heaviest first"),
                    [w.words for w in compared.loosenings],
                ),
                (self.tr("Bosses and bolts"), fasteners),
                (self.tr("Cannot be computed: look at"), compared.to_look_at),
                (self.tr("Cautions of the profile"), desk.profile.cautions),
            ]
        )
        if body != self._written:
            place = self.verticalScrollBar().value()
            self._written = body
            self.setHtml(f"<body style='color:{self._theme.ink}'>{body}</body>")
            self.verticalScrollBar().setValue(place)


class BracketLeaf(QWidget):
    """The flat pattern of each plate, behind a door that refuses every edit."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._theme = desk, theme
        self.door = Door(desk.bracket, self)
        self.door.set_read_only(READ_ONLY)
        self.door.told.connect(desk.told)
        self.view = FlatView(self.door, theme)
        self._plates = QHBoxLayout()
        self._links: list[Link] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._plates)
        column.addWidget(self.view, 1)
        desk.opened.connect(self._show)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.view.set_theme(theme)
        for link in self._links:
            link.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Show inch figures."""
        self.view.set_inch(inch)

    def _show(self) -> None:
        self.door.open(self._desk.bracket)
        while (item := self._plates.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        self._links = []
        for plate in self._desk.bracket.plates[:12]:
            link = Link(plate.name, self._theme)
            link.clicked.connect(lambda _=False, name=plate.name: self.door.show_plate(name))
            self._links.append(link)
            self._plates.addWidget(link)
        self._plates.addStretch(1)
        self.view.fit()
