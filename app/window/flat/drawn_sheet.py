"""The sheet as it is drawn: the shown plate, what lies round it, and everything that is written."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.door import Door
from app.window.flat import foreground
from app.window.flat.catching import BARE_SHEET, on_bare_sheet
from app.window.flat.handles import handles_of
from app.window.flat.look import Look
from app.window.flat.looking import LookedAtSheet, Margins
from app.window.flat.mark_layout import Marks, marks_of
from app.window.flat.marks import Balloon, text_size
from app.window.flat.on_sheet import OnSheet, fold_words, on_sheet
from app.window.flat.paths import bounds_of
from app.window.flat.sheet_items import SheetItems
from app.window.flat.shown_dimensions import dimensions_of, measures_of, selected_of
from app.window.flat.tool_in_hand import ToolInHand
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.finding import Finding

_MOST_CASING: Final = 2.0
"""The casing is fitted too as long as it is no more than this larger than the plate."""
_BARE_HALF_MM: Final = 110.0
_MM_PER_INCH: Final = 25.4


class DrawnSheet(LookedAtSheet):
    """Draws the door's shown plate, with the gesture in progress."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        self._door, self._theme = door, theme
        self._sheet_now: OnSheet | None = None
        self._before: OnSheet | None = None
        self._balloons_before: tuple[Balloon, ...] = ()
        self._bare: Bracket | None = None
        self._marks: Marks | None = None
        self._findings: tuple[Finding, ...] = ()
        self._inch = False
        self._pointed: Pick | None = None
        self._lit = ""
        self._said = self._refused = ""
        self._pointer = QPointF(-100.0, -100.0)
        self._tool: ToolInHand | None = None
        self._how = ""
        super().__init__(parent)
        self._items = SheetItems(self.sheet, theme)
        self.setBackgroundBrush(QColor(theme.ground))
        door.changed.connect(self._changed)
        door.previewed.connect(self._previewed)
        door.picked.connect(self._picked)
        door.plate_shown.connect(self._shown)

    @property
    def door(self) -> Door:
        """Return the one door for edits."""
        return self._door

    @property
    def on_sheet(self) -> OnSheet | None:
        """Return what lies on the sheet, with the gesture in progress."""
        return self._sheet_now

    @property
    def is_inch(self) -> bool:
        """Return whether lengths are read in inches."""
        return self._inch

    @property
    def is_bare(self) -> bool:
        """Return whether the sheet is shown without a plate, for one to be drawn."""
        return self._bare is not None

    def marks(self) -> Marks:
        """Return what is written on the sheet as it is looked at now."""
        if self._marks is None:
            self._marks = self._laid_out()
        return self._marks

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self._items.set_theme(theme)
        self.setBackgroundBrush(QColor(theme.ground))
        self.redraw()

    def set_inch(self, inch: bool) -> None:
        """Write and read lengths in inches, or in mm."""
        self._inch = inch
        self.marks_changed()

    def set_findings(self, findings: Sequence[Finding]) -> None:
        """Show findings as flag notes; the number of each is its place in the list, from 1."""
        self._findings = tuple(findings)
        self.marks_changed()

    def set_underlay(
        self, image: QImage | None, mm_per_px: float = 1.0, origin_mm: tuple[float, float] = (0.0, 0.0)
    ) -> None:
        """Lay an image under the sheet, its lower left corner at a flat place; None takes it away."""
        self._items.set_underlay(image, mm_per_px, origin_mm)
        if self._sheet_now is None or self.is_bare:
            self.fit()
        self.redraw()

    def set_bare(self, *, bare: bool) -> None:
        """Show the sheet without a plate, with bosses and bar where a new plate will find them."""
        if bare == self.is_bare:
            return
        try:
            self._bare = on_bare_sheet(self._door.bracket) if bare else None
        except (EditRefused, ValueError):
            self._bare = None
        self.refresh()
        if not self._door.bracket.plates or not bare:
            self.fit()

    def refresh(self, *, in_gesture: bool = False) -> None:
        """Work out anew what lies on the sheet."""
        if self._bare is not None:
            self._sheet_now = on_sheet(self._bare, BARE_SHEET)
        elif in_gesture:
            if self._before is None:
                self._before, self._balloons_before = self._sheet_now, self.marks().balloons
            self._sheet_now = on_sheet(self._door.drawn, self._door.shown_plate, self._before)
        else:
            self._before, self._balloons_before = None, ()
            self._sheet_now = on_sheet(self._door.drawn, self._door.shown_plate)
        self._items.show(self._sheet_now, with_plate=not self.is_bare)
        self._items.select(self._sheet_now, self._door.pick)
        self._items.point_at(self._sheet_now, None)
        self.marks_changed()

    def marks_changed(self) -> None:
        """Lay out anew what is written, when it is next painted."""
        self._marks = None
        self.redraw()

    def redraw(self) -> None:
        """Paint anew."""
        self.viewport().update()

    def look_changed(self) -> None:
        """Lay out anew what is written: it is in pixels."""
        self._marks = None

    def what_to_fit(self) -> QRectF:
        """Return the box of the plate, with its bosses and with the casing unless that is huge."""
        sheet = self._sheet_now
        half = _BARE_HALF_MM
        if sheet is None or self.is_bare:
            box = QRectF(-half, -half, 2.0 * half, 2.0 * half)
            if not self._items.underlay_box.isNull():
                box = self._items.underlay_box
            return box if sheet is None else _with_places(box, sheet, sheet.casing)
        if sheet.pattern is None:
            return _with_places(QRectF(), sheet, [corner.at_mm for corner in sheet.plate.outline])
        box = bounds_of(sheet.pattern.outline)
        casing = _with_places(box, sheet, sheet.casing)
        small = casing.width() < _MOST_CASING * box.width() and casing.height() < _MOST_CASING * box.height()
        return casing if small else _with_places(box, sheet, ())

    def margins(self) -> Margins:
        """Return room for the caption, the overall dimensions and the words of folds."""
        right = 34.0
        sheet = self._sheet_now
        for fold in sheet.plate.folds if sheet is not None and not self.is_bare else ():
            if abs(fold.to_mm[0] - fold.from_mm[0]) > 0.5 * abs(fold.to_mm[1] - fold.from_mm[1]):
                right = max(right, text_size(fold_words(fold), self.font()).width() + 44.0)
        return Margins(66.0, 72.0, right, 78.0)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - the library's name
        """Paint, for the screen the window is on now."""
        self._items.set_device_px(self.devicePixelRatioF())
        super().paintEvent(event)

    def drawForeground(self, painter: QPainter, rect: QRectF | object) -> None:  # noqa: N802 - the library's name
        """Draw what is in pixels over the plate."""
        painter.save()
        painter.resetTransform()
        pens = foreground.Pens(
            painter, self._theme, self.font(), self.to_px, self.px_per_mm, QRectF(self.viewport().rect())
        )
        sheet = self._sheet_now
        if sheet is not None:
            foreground.paint_centres(pens, sheet, with_plate=not self.is_bare)
            if not self.is_bare:
                foreground.paint_fold_ends(pens, sheet)
            pick = self._door.pick
            bolt = pick.name if pick is not None and pick.kind == "bolt" else ""
            foreground.paint_marks(pens, self.marks(), self._lit, bolt)
            if not self.is_bare:
                foreground.paint_handles(pens, handles_of(sheet.plate, pick, self.px_per_mm))
        if self._tool is not None:
            foreground.paint_guides(pens, self._tool.guides(), self.viewportTransform())
        if self._how:
            foreground.paint_how(pens, self._how)
        foreground.paint_said(pens, self._pointer, self._said, self._refused)
        if self.hasFocus():
            foreground.paint_focus(pens)
        painter.restore()

    def _laid_out(self) -> Marks:
        sheet = self._sheet_now
        if sheet is None:
            return Marks()
        dots = self.viewport().physicalDpiX()
        look = Look(
            self.to_px,
            self.viewportTransform(),
            self.px_per_mm,
            QRectF(self.viewport().rect()),
            self.font(),
            self._inch,
            _MM_PER_INCH / dots if dots > 0 else 0.0,
        )
        if self.is_bare:
            return marks_of(sheet, (), (), look, with_plate=False)
        selected = selected_of(self._door.pick, sheet.plate)
        found = dimensions_of(sheet.plate, selected)
        measures = measures_of(sheet.plate, selected, found, inch=self._inch)
        return marks_of(sheet, measures, self._findings, look, balloons_before=self._balloons_before)

    def _changed(self, bracket: Bracket) -> None:
        if self.is_bare:
            self._bare = on_bare_sheet(bracket)
        had = self._sheet_now is not None
        self.refresh()
        if self.is_fitted and (not had or not self._is_all_seen()):
            self.fit()

    def _is_all_seen(self) -> bool:
        box = self.what_to_fit()
        seen = QRectF(self.viewport().rect()).adjusted(40.0, 40.0, -20.0, -40.0)
        return seen.contains(self.to_px((box.left(), box.top()))) and seen.contains(
            self.to_px((box.right(), box.bottom()))
        )

    def _previewed(self, bracket: Bracket) -> None:
        self.refresh(in_gesture=bracket is not self._door.bracket)

    def _picked(self, pick: Pick | None) -> None:
        self._items.select(self._sheet_now, pick)
        self.marks_changed()

    def _shown(self, name: str) -> None:
        self.refresh()
        self.fit()


def _with_places(box: QRectF, sheet: OnSheet, places: Sequence[tuple[float, float]]) -> QRectF:
    xs, ys = [x for x, _ in places], [y for _, y in places]
    for boss in sheet.bosses:
        reach = boss.face_diameter_mm / 2.0
        xs += [boss.at_mm[0] - reach, boss.at_mm[0] + reach]
        ys += [boss.at_mm[1] - reach, boss.at_mm[1] + reach]
    if not box.isNull():
        xs += [box.left(), box.right()]
        ys += [box.top(), box.bottom()]
    if not xs:
        return box
    return QRectF(QPointF(min(xs), min(ys)), QPointF(max(xs), max(ys)))
