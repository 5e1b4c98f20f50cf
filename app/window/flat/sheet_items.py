"""The plate and what lies round it as items of a scene, in mm."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QImage, QPainterPath, QPen, QPixmap, QTransform
from PySide6.QtWidgets import QGraphicsPathItem, QGraphicsPixmapItem, QGraphicsScene

from app.editing.loops import edge_of
from app.theme import Theme
from app.window.flat import line_kinds
from app.window.flat.on_sheet import OnSheet, fold_line
from app.window.flat.paths import edge_path, loop_path, plate_path, point, polyline
from app.window.flat.under import loops_of
from app.window.selection import Pick
from geometry.flat_segments import Flat

UNDERLAY_SHARE: Final = 0.5
"""How strongly what lies under the sheet shows through."""


class SheetItems:
    """Keeps one item a layer; a change only gives the layers new paths."""

    def __init__(self, scene: QGraphicsScene, theme: Theme) -> None:
        self._scene = scene
        self._underlay: QGraphicsPixmapItem | None = None
        self._device_px = 1.0
        names = (
            "metal",
            "bends",
            "adjacent",
            "rings",
            "centres",
            "folds",
            "edges",
            "welds",
            "pointed",
            "selected",
        )
        self._layers: dict[str, QGraphicsPathItem] = {}
        for height, name in enumerate(names, 1):
            item = scene.addPath(QPainterPath(), QPen(Qt.PenStyle.NoPen))
            item.setZValue(height)
            self._layers[name] = item
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Take the colours of a theme."""
        self._theme = theme
        metal = QColor(theme.plate)
        metal.setAlpha(255 if self._underlay is None else 110)
        self._layers["metal"].setBrush(metal)
        bend = QColor(theme.faint)
        bend.setAlpha(130)
        self._layers["bends"].setBrush(bend)
        for name, pen in (
            ("adjacent", line_kinds.adjacent_part(theme)),
            ("rings", line_kinds.ring(theme)),
            ("centres", line_kinds.centre_line(theme)),
            ("folds", line_kinds.thin(theme)),
            ("edges", line_kinds.visible_edge(theme)),
            ("welds", line_kinds.weld(theme)),
            ("pointed", line_kinds.pointed_edge(theme)),
            ("selected", line_kinds.selected_edge(theme)),
        ):
            self._layers[name].setPen(line_kinds.on_the_sheet(pen, self._device_px))
            self._layers[name].setBrush(QBrush(Qt.BrushStyle.NoBrush))

    def set_device_px(self, dots: float) -> None:
        """Draw lines for a screen with so many dots to a pixel."""
        if dots != self._device_px:
            self._device_px = dots
            self.set_theme(self._theme)

    def show(self, sheet: OnSheet | None, *, with_plate: bool = True) -> None:
        """Draw a sheet; without its plate only what lies round it."""
        for item in self._layers.values():
            item.setPath(QPainterPath())
        if sheet is None:
            return
        self._layers["adjacent"].setPath(_adjacent(sheet))
        if not with_plate:
            return
        if sheet.pattern is None:
            self._layers["edges"].setPath(_corners_only(sheet))
            return
        whole = plate_path(sheet.pattern.outline, sheet.pattern.openings.values())
        self._layers["metal"].setPath(whole)
        self._layers["edges"].setPath(whole)
        self._layers["bends"].setPath(_bends(sheet))
        self._layers["rings"].setPath(_rings(sheet))
        folds = QPainterPath()
        for fold in sheet.plate.folds:
            folds.addPath(polyline(fold_line(sheet, fold)))
        self._layers["folds"].setPath(folds)
        welds = QPainterPath()
        for run in sheet.welds:
            welds.addPath(polyline(run.ends))
        self._layers["welds"].setPath(welds)

    def point_at(self, sheet: OnSheet | None, pick: Pick | None) -> None:
        """Draw what the pointer is on with a heavier line."""
        self._layers["pointed"].setPath(_path_of(sheet, pick))

    def select(self, sheet: OnSheet | None, pick: Pick | None) -> None:
        """Draw what is selected with the heaviest line."""
        self._layers["selected"].setPath(_path_of(sheet, pick))

    @property
    def underlay_box(self) -> QRectF:
        """Return where the image under the sheet lies, in mm; null if there is none."""
        return QRectF() if self._underlay is None else self._underlay.sceneBoundingRect()

    def set_underlay(self, image: QImage | None, mm_per_px: float, origin_mm: Flat) -> None:
        """Lay an image under the sheet, its lower left corner at a flat place; None takes it away."""
        if self._underlay is not None:
            self._scene.removeItem(self._underlay)
            self._underlay = None
        if image is None or image.isNull():
            self.set_theme(self._theme)
            return
        item = QGraphicsPixmapItem(QPixmap.fromImage(image))
        item.setTransformationMode(Qt.TransformationMode.SmoothTransformation)
        item.setOpacity(UNDERLAY_SHARE)
        item.setZValue(-1.0)
        # The image's rows run down and the sheet's y runs up.
        item.setTransform(QTransform.fromScale(mm_per_px, -mm_per_px))
        item.setPos(QPointF(origin_mm[0], origin_mm[1] + image.height() * mm_per_px))
        self._scene.addItem(item)
        self._underlay = item
        self.set_theme(self._theme)


def _path_of(sheet: OnSheet | None, pick: Pick | None) -> QPainterPath:
    empty = QPainterPath()
    if sheet is None or pick is None or sheet.pattern is None:
        return empty
    plate = sheet.plate
    match pick.kind:
        case "plate" if pick.name == plate.name:
            return loop_path(sheet.pattern.outline)
        case "opening" if pick.plate == plate.name and pick.name in sheet.pattern.openings:
            return loop_path(sheet.pattern.openings[pick.name])
        case "fold" if pick.plate == plate.name:
            return next((polyline(fold_line(sheet, f)) for f in plate.folds if f.name == pick.name), empty)
        case "edge" if pick.plate == plate.name:
            corners = dict(loops_of(plate)).get(pick.loop, ())
            return edge_path(edge_of(corners, pick.index)) if 0 <= pick.index < len(corners) else empty
        case "bolt":
            return _circles((r.at_mm, r.outer_mm) for r in sheet.rings if r.bolt == pick.name)
        case "boss":
            return _circles((b.at_mm, b.face_diameter_mm / 2.0) for b in sheet.bosses if b.name == pick.name)
        case "dash bar" if sheet.bar is not None:
            return _bar(sheet)
        case "casing" if sheet.casing:
            return polyline(sheet.casing, closed=True)
        case _:
            runs = (polyline(run.ends) for run in sheet.welds if (pick.kind, pick.name) == ("weld", run.weld))
            return next(runs, empty)


def _circles(circles: Iterable[tuple[Flat, float]]) -> QPainterPath:
    path = QPainterPath()
    for at, radius in circles:
        path.addEllipse(point(at), radius, radius)
    return path


def _adjacent(sheet: OnSheet) -> QPainterPath:
    path = polyline(sheet.casing, closed=True) if sheet.casing else QPainterPath()
    path.addPath(_circles((b.at_mm, b.face_diameter_mm / 2.0) for b in sheet.bosses))
    path.addPath(_bar(sheet))
    return path


def _bar(sheet: OnSheet) -> QPainterPath:
    path = QPainterPath()
    if sheet.bar is not None:
        for line in sheet.bar.lines:
            path.addPath(polyline(line))
    return path


def _bends(sheet: OnSheet) -> QPainterPath:
    path = QPainterPath()
    for strip in sheet.strips:
        for piece in strip.pieces:
            path.addPath(polyline(piece, closed=True))
    return path


def _rings(sheet: OnSheet) -> QPainterPath:
    return _circles((ring.at_mm, ring.outer_mm) for ring in sheet.rings)


def _corners_only(sheet: OnSheet) -> QPainterPath:
    path = polyline((corner.at_mm for corner in sheet.plate.outline), closed=True)
    for opening in sheet.plate.openings:
        if opening.kind == "cut-out":
            path.addPath(polyline((corner.at_mm for corner in opening.corners), closed=True))
        elif opening.kind == "hole":
            half = opening.diameter_mm / 2.0
            x, y = opening.centre_mm
            path.addEllipse(QRectF(x - half, y - half, 2.0 * half, 2.0 * half))
    return path
