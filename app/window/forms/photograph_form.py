"""A photograph or scan laid under the sheet: the four corners of a sheet of paper in it are clicked."""

from __future__ import annotations

from typing import Final, get_args

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from app.editing.photo_image import Picture, warped
from app.editing.photo_square import KnownDistance, Sheet, Squaring, squared
from app.editing.refused import EditRefused
from app.theme import Theme
from app.window.forms.form import Form
from app.window.worded import worded
from geometry.units import UnitError, parse

_FINEST_MM: Final = 0.25
"""Pixels of the picture laid flat are no smaller: it is looked at, not measured."""
_NEAR_PX: Final = 10.0
_MOST_PLACES: Final = 6
"""Four corners, and the two ends of a distance that is known."""


class PhotographForm(Form):
    """Shows the photograph, takes the corners, tells what does not fit, and lays it flat."""

    laid = Signal(object, float, object)
    """A QImage, mm of a pixel, and where its lower left corner lies."""

    def __init__(self, name: str, picture: Picture, theme: Theme) -> None:
        super().__init__(
            f"Photograph {name}",
            "Click the four corners of the sheet of paper lying in it, in any order; drag one to better it. "
            "Two more places with a distance between them that you measured check the fit.",
            "Lay it under the sheet",
            theme,
        )
        self._picture = picture
        self._corners = _Corners(_qimage(picture), theme)
        self._corners.changed.connect(self._judge)
        self._paper = QComboBox()
        self._paper.addItems(list(get_args(Sheet)))
        self._paper.currentTextChanged.connect(self._judge)
        self._known = QLineEdit()
        self._known.setPlaceholderText(worded("such as 120 mm; may be left blank"))
        self._known.textChanged.connect(self._judge)
        self.rows.addWidget(self._corners)
        self.labelled(worded("the paper in it is"), self._paper)
        self.labelled(worded("measured from 5 to 6"), self._known)
        self._judge()

    @property
    def corners(self) -> _Corners:
        """Return the picture on which the corners are clicked."""
        return self._corners

    def is_done(self) -> bool:
        """Lay the picture flat under the sheet; say why if it cannot be."""
        try:
            squaring = self._squaring()
            flat = warped(self._picture, squaring, max(squaring.mm_per_px, _FINEST_MM))
        except (EditRefused, UnitError) as refused:
            self.say(str(refused), bad=True)
            return False
        self.laid.emit(_qimage(flat.rgb), flat.mm_per_px, (flat.left_mm, flat.bottom_mm))
        return True

    def _squaring(self) -> Squaring:
        height, width = self._picture.shape[:2]
        paper: Sheet = "A4" if self._paper.currentText() == "A4" else "Letter"
        places = self._corners.places
        known: list[KnownDistance] = []
        if len(places) == _MOST_PLACES and self._known.text().strip():
            known = [(places[4], places[5], parse(self._known.text(), "mm"))]
        return squared(places[:4], paper, (width, height), known)

    def _judge(self) -> None:
        left = 4 - len(self._corners.places)
        if left > 0:
            self.say(worded("{left} corner{s} to go.", left=left, s="s" if left > 1 else ""))
            return
        try:
            squaring = self._squaring()
        except (EditRefused, UnitError) as refused:
            self.say(str(refused), bad=True)
            return
        off = squaring.residual_mm
        fits = "Nothing in it checks the fit." if off is None else f"What does not fit: {off:.1f} mm."
        self.say(" ".join([fits, *squaring.words]))


class _Corners(QWidget):
    """The photograph, with the corners clicked so far."""

    changed = Signal()

    def __init__(self, image: QImage, theme: Theme) -> None:
        super().__init__()
        self._image, self._theme = image, theme
        self._held: int | None = None
        self.places: list[tuple[float, float]] = []
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setMinimumSize(360, 200)
        self.setAccessibleName(worded("The photograph; click the corners of the sheet of paper in it"))

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return a size at which corners can be clicked well."""
        return self._image.size().scaled(QSize(560, 330), Qt.AspectRatioMode.KeepAspectRatio)

    def to_widget(self, place: tuple[float, float]) -> QPointF:
        """Return where a pixel of the photograph is drawn."""
        room = self._room()
        scale = room.width() / self._image.width()
        return QPointF(room.left() + place[0] * scale, room.top() + place[1] * scale)

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take hold of a corner, or put a new one."""
        at = event.position()
        for number, place in enumerate(self.places):
            off = self.to_widget(place) - at
            if abs(off.x()) + abs(off.y()) <= _NEAR_PX:
                self._held = number
                return
        if len(self.places) < _MOST_PLACES:
            self.places.append(self._to_pixel(at))
            self._held = len(self.places) - 1
            self._tell()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Move the corner that is held."""
        if self._held is not None:
            self.places[self._held] = self._to_pixel(event.position())
            self._tell()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let the corner go."""
        self._held = None

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the photograph, a ring on each corner, and lines between them."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(self._room(), self._image)
        for number, place in enumerate(self.places):
            at = self.to_widget(place)
            painter.setPen(QPen(QColor(self._theme.ground), 4.0))
            painter.drawEllipse(at, 6, 6)
            painter.setPen(QPen(QColor(self._theme.accent), 2.0))
            painter.drawEllipse(at, 6, 6)
            self._number(painter, at + QPointF(9, -7), str(number + 1))

    def _number(self, painter: QPainter, at: QPointF, words: str) -> None:
        """Write a number that can be read on any photograph."""
        for by in (QPointF(-1, 0), QPointF(1, 0), QPointF(0, -1), QPointF(0, 1)):
            painter.setPen(QColor(self._theme.ground))
            painter.drawText(at + by, words)
        painter.setPen(QColor(self._theme.accent))
        painter.drawText(at, words)

    def _room(self) -> QRectF:
        size = self._image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        left, top = (self.width() - size.width()) / 2, (self.height() - size.height()) / 2
        return QRectF(left, top, size.width(), size.height())

    def _to_pixel(self, at: QPointF) -> tuple[float, float]:
        room = self._room()
        scale = self._image.width() / room.width()
        x, y = (at.x() - room.left()) * scale, (at.y() - room.top()) * scale
        return (min(max(x, 0.0), self._image.width()), min(max(y, 0.0), self._image.height()))

    def _tell(self) -> None:
        self.update()
        self.changed.emit()


def _qimage(picture: Picture) -> QImage:
    rows = np.ascontiguousarray(picture[:, :, :3])
    height, width = rows.shape[:2]
    return QImage(rows.data, width, height, 3 * width, QImage.Format.Format_RGB888).copy()
