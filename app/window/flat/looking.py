"""A sheet that is looked at: zoom at the pointer, pan, fit; places in mm, y up, and back to pixels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsScene, QGraphicsView, QWidget

from geometry.flat_segments import Flat

_LEAST_PX_PER_MM: Final = 0.1
_MOST_PX_PER_MM: Final = 60.0
_ZOOM_STEP: Final = 1.2
"""For one notch of the wheel."""
_HALF_SHEET_MM: Final = 20000.0


@dataclass(frozen=True)
class Margins:
    """Pixels kept free round what is fitted, for dimensions and words."""

    left: float
    top: float
    right: float
    bottom: float


class LookedAtSheet(QGraphicsView):
    """A graphics view without scroll bars that keeps to the place and scale it was given."""

    def __init__(self, parent: QWidget | None = None) -> None:
        # The view does not keep its scene alive: hold it here.
        self.sheet = QGraphicsScene()
        super().__init__(self.sheet, parent)
        self.sheet.setSceneRect(-_HALF_SHEET_MM, -_HALF_SHEET_MM, 2 * _HALF_SHEET_MM, 2 * _HALF_SHEET_MM)
        self.sheet.setItemIndexMethod(QGraphicsScene.ItemIndexMethod.NoIndex)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._px_per_mm = 1.0
        self._centre: Flat = (0.0, 0.0)
        self._fitted = True
        self._pan_from: QPointF | None = None
        self._look()

    @property
    def px_per_mm(self) -> float:
        """Return the scale, in pixels of the screen to a mm of the sheet."""
        return self._px_per_mm

    @property
    def is_fitted(self) -> bool:
        """Return whether the whole is shown, and goes on being shown when the window changes."""
        return self._fitted

    def to_px(self, at: Flat) -> QPointF:
        """Return where a flat place is in the viewport, to a fraction of a pixel."""
        return self.viewportTransform().map(QPointF(at[0], at[1]))

    def to_flat(self, px: QPointF) -> Flat:
        """Return the flat place under a place of the viewport."""
        back, _ = self.viewportTransform().inverted()
        at = back.map(px)
        return (at.x(), at.y())

    def zoom(self, factor: float, at_px: QPointF | None = None) -> None:
        """Enlarge by a factor; what is under the pointer stays there."""
        px = QPointF(self.viewport().rect().center()) if at_px is None else at_px
        fixed = self.to_flat(px)
        scale = min(max(self._px_per_mm * factor, _LEAST_PX_PER_MM), _MOST_PX_PER_MM)
        middle = QPointF(self.viewport().width() / 2.0, self.viewport().height() / 2.0)
        off = px - middle
        self._px_per_mm = scale
        self._centre = (fixed[0] - off.x() / scale, fixed[1] + off.y() / scale)
        self._fitted = False
        self._look()

    def pan(self, by_px: QPointF) -> None:
        """Move the sheet by pixels of the screen."""
        self._centre = (
            self._centre[0] - by_px.x() / self._px_per_mm,
            self._centre[1] + by_px.y() / self._px_per_mm,
        )
        self._fitted = False
        self._look()

    def fit(self) -> None:
        """Show the whole, and go on doing so when the window changes size."""
        box, margins = self.what_to_fit(), self.margins()
        width = max(self.viewport().width() - margins.left - margins.right, 40.0)
        height = max(self.viewport().height() - margins.top - margins.bottom, 40.0)
        scale = min(width / max(box.width(), 1.0), height / max(box.height(), 1.0))
        self._px_per_mm = min(max(scale, _LEAST_PX_PER_MM), _MOST_PX_PER_MM)
        self._centre = (
            box.center().x() + (margins.right - margins.left) / 2.0 / self._px_per_mm,
            box.center().y() + (margins.top - margins.bottom) / 2.0 / self._px_per_mm,
        )
        self._fitted = True
        self._look()

    def what_to_fit(self) -> QRectF:
        """Return the box, in mm, that is to be seen when all is shown."""
        return QRectF(-100.0, -100.0, 200.0, 200.0)

    def margins(self) -> Margins:
        """Return the pixels to keep free round it."""
        return Margins(40.0, 40.0, 40.0, 40.0)

    def look_changed(self) -> None:
        """Do what has to be done when scale or place of the sheet changed."""

    def sizeHint(self) -> QSize:  # noqa: N802 - the library's name
        """Return a size that shows a bracket well."""
        return QSize(760, 540)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - the library's name
        """Return the least size that is of use."""
        return QSize(240, 180)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - the library's name
        """Keep the whole in sight, or the place that was in the middle."""
        super().resizeEvent(event)
        if self._fitted:
            self.fit()
        else:
            self._look()

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - the library's name
        """Zoom at the pointer."""
        notches = event.angleDelta().y() / 120.0
        if notches:
            self.zoom(_ZOOM_STEP**notches, event.position())
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:  # noqa: N802 - the library's name
        """Take a pinch on a touchpad as zoom."""
        if isinstance(event, QNativeGestureEvent):
            if event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
                self.zoom(1.0 + event.value(), event.position())
            return True
        return super().viewportEvent(event)

    def begin_pan(self, event: QMouseEvent) -> None:
        """Begin to drag the sheet along with the pointer."""
        self._pan_from = event.position()
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)

    def pan_along(self, event: QMouseEvent) -> bool:
        """Drag the sheet; return whether it is being dragged."""
        if self._pan_from is None:
            return False
        self.pan(event.position() - self._pan_from)
        self._pan_from = event.position()
        return True

    def end_pan(self) -> bool:
        """Let the sheet go; return whether it was being dragged."""
        was = self._pan_from is not None
        self._pan_from = None
        self.viewport().unsetCursor()
        return was

    def scrollContentsBy(self, dx: int, dy: int) -> None:  # noqa: N802 - the library's name
        """Draw the whole anew: marks beside the plate are in pixels."""
        super().scrollContentsBy(dx, dy)
        self.viewport().update()

    def _look(self) -> None:
        self.setTransform(QTransform.fromScale(self._px_per_mm, -self._px_per_mm))
        self.centerOn(QPointF(*self._centre))
        self.look_changed()
        self.viewport().update()
