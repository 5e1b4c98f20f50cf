"""The comparison of claim and computation, which is only read."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QTextBrowser, QWidget

from app.theme import Theme
from app.window.inspection.desk import InspectionDesk
from app.window.lists.caption import thin_bar
from app.window.lists.reading_panel import sections
from app.wording.figures import Units, sentence_in_units


class ComparisonLeaf(QTextBrowser):
    """The claim, the verdict now, what is looser and what has to be looked at."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._theme, self._written = desk, theme, ""
        self._units: Units = "mm"
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

    def set_inch(self, inch: bool) -> None:
        """Tell figures in inches and pounds too."""
        self._units = "inch" if inch else "mm"
        self._write()

    def _write(self) -> None:
        compared, desk = self._desk.comparison, self._desk
        claimed = (*compared.claim_lines, compared.verdict_line)
        more = tuple(line for line in (compared.under_builder, compared.built_line) if line)
        fasteners = (*(f"boss {n} is not used" for n in compared.unused_bosses), *compared.fasteners)
        told = [
            (heading, [sentence_in_units(line, self._units) for line in lines])
            for heading, lines in (
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
            )
        ]
        body = sections(told)
        if body != self._written:
            place = self.verticalScrollBar().value()
            self._written = body
            self.setHtml(f"<body style='color:{self._theme.ink}'>{body}</body>")
            self.verticalScrollBar().setValue(place)
