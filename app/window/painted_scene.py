"""A plain widget that has a scene painted, on demand, and shows the image with words over it."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QImage,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QWidget

from app.mounted.camera import Camera
from app.mounted.frame import Image
from app.mounted.overlay import Item
from app.mounted.probe import SENTENCE
from app.mounted.scene import Scene
from app.theme import PAPER
from app.window.mounted_painting import Painting
from app.window.overlay_painter import paint_items

SLOW_FRAME_S: Final = 0.060
"""Past this a moving picture is painted coarser until it rests."""
COARSE: Final = 0.5
REST_MS: Final = 160
BREATH_MS: Final = 120


class PaintedScene(QWidget):
    """Shows its scene; painted between events, never while Qt paints."""

    painted = Signal()
    """A finished picture, not a draft, is on the screen."""

    def __init__(self, parent: QWidget | None, painting: Painting | None) -> None:
        """Make an empty view; views that share a `painting` share its painter."""
        super().__init__(parent)
        self.scene = Scene(PAPER)
        self.painting = Painting(self) if painting is None else painting
        self.painting.ready.connect(self.ask)
        self.words_scale = 1.0
        self._image: QImage | None = None
        self._items: list[Item] = []
        self._laid: QPixmap | None = None
        self._seconds = 0.0  # of the last draft
        self._took = 0.0  # the last picture, draft or not
        self._by_hand = False
        self._soon = self.timer(0, self._paint)
        self._rest = self.timer(REST_MS, self.ask)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(160, 120)

    def ask(self) -> None:
        """Have the picture painted once control is back in the event loop."""
        self._soon.start()

    def moving(self) -> None:
        """Have a draft painted now and the finished picture when nothing has moved for a while."""
        self._rest.start()
        self.ask()

    def is_moving(self) -> bool:
        """Return whether a draft will do."""
        return self._rest.isActive()

    @property
    def picture_ms(self) -> int:
        """Return how long the last picture took to paint."""
        return round(1000.0 * self._took)

    def set_scale(self, share: float) -> None:
        """Draw words and lines this many times as large: 1 to 2."""
        self.words_scale = share
        self.take_size()

    def take_size(self) -> None:
        """Make the scene's picture as large as the widget."""
        size = (max(1, round(side / self.words_scale)) for side in (self.width(), self.height()))
        self.scene.camera = self.scene.camera.sized(*size)
        if not self._by_hand:
            self.scene.fit()
        self.ask()

    def look(self, camera: Camera) -> None:
        """Look through a camera set by hand; a change of the widget's size then keeps what is looked at."""
        self._by_hand = True
        self.scene.camera = camera
        self.moving()

    def look_at_all(self) -> None:
        """Bring the whole bracket into the picture, and keep it there when the size changes."""
        self._by_hand = False
        self.scene.fit()
        self.ask()

    def timer(self, milliseconds: int, then: Callable[[], None]) -> QTimer:
        """Return a timer that strikes once."""
        timer = QTimer(self)
        timer.setSingleShot(True)
        timer.setInterval(milliseconds)
        timer.timeout.connect(then)
        return timer

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the size of the view beside a flat pattern."""
        return QSize(480, 340)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Put the last picture on the screen: what lies over it is painted far more often than it changes."""
        if self._laid is None or self._laid.size() != self.size() * self.devicePixelRatioF():
            self._laid = self._laid_out()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._laid)
        if self.hasFocus():
            painter.setPen(QPen(QColor(self.scene.theme.accent), 2.0, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(2.0, 2.0, -2.0, -2.0))
        painter.end()

    def _laid_out(self) -> QPixmap:
        """Return the image with the words over it."""
        laid = QPixmap(self.size() * self.devicePixelRatioF())
        laid.setDevicePixelRatio(self.devicePixelRatioF())
        laid.fill(QColor(self.scene.theme.ground))
        painter = QPainter(laid)
        painter.setFont(self.font())
        if self._image is not None:
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(QRectF(self.rect()), self._image)
        painter.save()
        painter.scale(self.words_scale, self.words_scale)
        if self._image is None:
            self._sketch(painter)
        paint_items(painter, self._items, self.font())
        painter.restore()
        if self._is_still():
            self._note(painter, self.tr(SENTENCE))
        painter.end()
        return laid

    def _paint(self) -> None:
        """Have the scene painted, coarser while it moves if a frame takes long."""
        if not self.isVisible():
            return
        draft = self.is_moving()
        painter = self.painting.painter
        if painter is None or (draft and not self.painting.fast):
            self._image = None
        else:
            share = COARSE if draft and self._seconds > SLOW_FRAME_S else 1.0
            begun = time.perf_counter()
            scale = self.devicePixelRatioF() * self.words_scale * share
            self._image = _qimage(painter.paint(self.scene.frame(), scale, draft=draft))
            self._took = time.perf_counter() - begun
            if draft:
                # What a whole one would have taken: when there is time again, it is whole again.
                self._seconds = self._took / share
        self._items, self._laid = self.scene.items(draft=draft), None
        self.update()
        if painter is not None and not draft:
            self.painted.emit()

    def _sketch(self, painter: QPainter) -> None:
        """Draw all lines without hiding any: what there is until an image is ready."""
        frame = self.scene.frame()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for drawn in frame.lines.values():
            if len(drawn.ends) == 0:
                continue
            painter.setPen(QPen(QColor(self.scene.theme.pencil), 0.8))
            seen = frame.camera.project(drawn.ends.reshape(-1, 3)).reshape(-1, 2, 3)
            for (x0, y0, _), (x1, y1, _) in seen.tolist():
                painter.drawLine(QPointF(x0, y0), QPointF(x1, y1))

    def _note(self, painter: QPainter, words: str) -> None:
        box = QRectF(self.rect()).adjusted(12.0, self.height() - 52.0, -90.0, -8.0)
        painter.setPen(QColor(self.scene.theme.remark))
        flags = int(Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft) | int(Qt.TextFlag.TextWordWrap)
        painter.drawText(box, flags, words)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Find a painter the first time, and paint."""
        # after the window's first drawing, which it would hold up
        QTimer.singleShot(BREATH_MS, self.painting.start)
        self.take_size()
        super().showEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Paint at the new size."""
        self.take_size()
        super().resizeEvent(event)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Paint again for a screen with other pixels, or in other letters."""
        self._laid = None
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self.ask()
        super().changeEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Show the focus."""
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Take the focus off."""
        self.update()
        super().focusOutEvent(event)

    def _is_still(self) -> bool:
        return self.painting.painter is not None and not self.painting.fast


def _qimage(image: Image) -> QImage:
    height, width = image.shape[:2]
    return QImage(image.data, width, height, 3 * width, QImage.Format.Format_RGB888).copy()
