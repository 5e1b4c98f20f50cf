"""One page of the record on paper: the letter of open items, and the sheet to fill by hand at the car.

It is always one page: letters grow smaller until all fits, and what still does not is counted at the end.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QFont,
    QFontMetricsF,
    QGuiApplication,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPen,
)

from app.record.letter import PaperLine, PaperSection, PaperSheet
from geometry.bracket_file import replace_file
from solver.version import VERSION

_DPI: Final = 300
_MARGIN_MM: Final = 16.0
_SIZES_PT: Final = (10.0, 9.5, 9.0, 8.5, 8.0, 7.5, 7.0, 6.5, 6.0)
_FAMILIES: Final = ("DejaVu Sans", "Noto Sans", "Segoe UI", "Helvetica Neue", "Arial")
_BOX_ROOM: Final = 0.22
"""Of a line's width, for its boxes."""
_BLANK_ROOM: Final = 0.24
_SHORT_ROWS: Final = 2
"""Lines with nothing but a blank stand in this many columns."""


_KEPT: Final[list[QGuiApplication]] = []
"""Else Python would end it."""


class PaperNotWritten(OSError):  # noqa: N818 - a refusal with its reason
    """A page that cannot be written; the message says where and what to do."""


def write_page(sheet: PaperSheet, path: Path) -> None:
    """Write one page as a PDF in one step; PaperNotWritten if it cannot be.

    No display is needed: without any program of Qt's running one is begun that shows nothing.
    """
    if QGuiApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _KEPT.append(QGuiApplication(["holdsquare"]))
    try:
        replace_file(path.resolve(), page_bytes(sheet), keep_previous=False)
    except (OSError, ValueError, RuntimeError) as error:
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        raise PaperNotWritten(
            f"{path} cannot be written ({reason}): name a PDF in a folder you may write to"
        ) from error


def page_bytes(sheet: PaperSheet) -> bytes:
    """Return one page of A4 as the bytes of a PDF."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    writer.setPageMargins(
        QMarginsF(_MARGIN_MM, _MARGIN_MM, _MARGIN_MM, _MARGIN_MM), QPageLayout.Unit.Millimeter
    )
    writer.setResolution(_DPI)
    writer.setTitle(sheet.title)
    writer.setCreator(f"holdsquare {VERSION}")
    painter = QPainter(writer)
    room = QRectF(0.0, 0.0, float(writer.width()), float(writer.height()))
    for size in _SIZES_PT:
        page = _Page(painter, room, size)
        if page.height_of(sheet) <= room.height():
            break
    _Page(painter, room, size).draw(sheet)
    painter.end()
    return bytes(buffer.data().data())


@dataclass
class _Page:
    """Lays one sheet out in letters of one size; measuring and drawing are the same walk."""

    painter: QPainter
    room: QRectF
    size_pt: float

    def __post_init__(self) -> None:
        self.y = 0.0
        self.drawing = False

    def height_of(self, sheet: PaperSheet) -> float:
        """Return how high the sheet would be."""
        self.y, self.drawing = 0.0, False
        self._head(sheet)
        for section in sheet.sections:
            self._section(section)
        return self.y + self._foot_height(sheet)

    def draw(self, sheet: PaperSheet) -> None:
        """Draw the sheet; of sections that do not fit it says how many lines there are more."""
        self.y, self.drawing = 0.0, True
        self._head(sheet)
        bottom = self.room.height() - self._foot_height(sheet)
        left_out = 0
        for section in sheet.sections:
            if left_out or not self._fits(section, bottom - 2 * self._metrics().lineSpacing()):
                left_out += len(section.lines)
            else:
                self._section(section)
        if left_out:
            self._words(f"{left_out} lines more do not fit on this page: read them in the record.", bold=True)
        self._foot(sheet)

    def _fits(self, section: PaperSection, bottom: float) -> bool:
        before = self.y
        self.drawing = False
        self._section(section)
        fits = self.y <= bottom
        self.y, self.drawing = before, True
        return fits

    def _head(self, sheet: PaperSheet) -> None:
        self._words(sheet.title, bold=True, size=1.7)
        for line in sheet.under_title:
            self._words(line)
        self._rule(1.4)

    def _section(self, section: PaperSection) -> None:
        if not section.lines:
            return
        self.y += self._metrics().lineSpacing() * 0.45
        self._words(section.heading, bold=True)
        short = [line for line in section.lines if line.blank.strip() and not line.boxes]
        if len(short) == len(section.lines):
            self._short_lines(section.lines)
            return
        for line in section.lines:
            self._line(line)

    def _line(self, line: PaperLine) -> None:
        indent = self._metrics().horizontalAdvance("00  ")
        wide = self.room.width() - indent
        after = (_BOX_ROOM if line.boxes else 0.0) + (_BLANK_ROOM if line.blank else 0.0)
        top = self.y
        words = QRectF(indent, top, wide * (1.0 - after), 1e6)
        high = self._put(line.words, words)
        if line.mark:
            self._put(line.mark, QRectF(0.0, top, indent, 1e6))
        if line.boxes:
            self._boxes(line.boxes, QRectF(indent + wide * (1.0 - after), top, wide * _BOX_ROOM, high))
        if line.blank:
            self._blank(
                line.blank, QRectF(indent + wide * (1.0 - _BLANK_ROOM), top, wide * _BLANK_ROOM, high)
            )
        self.y = top + high + self._metrics().lineSpacing() * 0.14

    def _short_lines(self, lines: tuple[PaperLine, ...]) -> None:
        """Draw lines that are only words and a blank side by side."""
        gap = self._metrics().horizontalAdvance("000")
        column = (self.room.width() - gap * (_SHORT_ROWS - 1)) / _SHORT_ROWS
        for first in range(0, len(lines), _SHORT_ROWS):
            top, high = self.y, 0.0
            for place, line in enumerate(lines[first : first + _SHORT_ROWS]):
                left = place * (column + gap)
                words = QRectF(left, top, column * 0.68, 1e6)
                here = self._put(line.words, words)
                self._blank(line.blank, QRectF(left + column * 0.7, top, column * 0.3, here))
                high = max(high, here)
            self.y = top + high + self._metrics().lineSpacing() * 0.3

    def _boxes(self, words: tuple[str, ...], room: QRectF) -> None:
        if not self.drawing:
            return
        metrics = self._metrics()
        side = metrics.ascent() * 0.8
        x = room.left()
        for word in words:
            base = room.top() + metrics.ascent()
            self.painter.setPen(QPen(Qt.GlobalColor.black, 0.7 * _DPI / 72.0))
            self.painter.drawRect(QRectF(x, base - side, side, side))
            self._put(word, QRectF(x + side * 1.35, room.top(), room.width(), 1e6))
            x += side * 1.35 + metrics.horizontalAdvance(word) + side * 0.8

    def _blank(self, unit: str, room: QRectF) -> None:
        if not self.drawing:
            return
        metrics = self._metrics()
        base = room.top() + metrics.ascent() + metrics.descent() * 0.5
        after = metrics.horizontalAdvance(f" {unit}") if unit.strip() else 0.0
        self._stroke(room.left(), base, room.right() - after)
        if unit.strip():
            self._put(unit, QRectF(room.right() - after * 0.9, room.top(), after * 2, 1e6))

    def _foot_height(self, sheet: PaperSheet) -> float:
        metrics = self._metrics()
        small = self._metrics(size=0.82)
        text = small.boundingRect(
            QRectF(0, 0, self.room.width(), 1e6), int(Qt.TextFlag.TextWordWrap), " ".join(sheet.foot)
        )
        return text.height() + metrics.lineSpacing() * 4.6

    def _foot(self, sheet: PaperSheet) -> None:
        metrics = self._metrics()
        self.y = self.room.height() - self._foot_height(sheet) + metrics.lineSpacing() * 2.4
        wide = self.room.width() / len(sheet.signed)
        for place, words in enumerate(sheet.signed):
            left = place * wide
            self._stroke(left, self.y, left + wide * 0.88)
            self._put(words, QRectF(left, self.y, wide * 0.9, 1e6))
        self.y += metrics.lineSpacing() * 1.5
        self._words(" ".join(sheet.foot), size=0.82)

    def _rule(self, width: float) -> None:
        self.y += self._metrics().lineSpacing() * 0.25
        if self.drawing:
            self._stroke(0.0, self.y, self.room.width(), width)
        self.y += self._metrics().lineSpacing() * 0.1

    def _stroke(self, left: float, y: float, right: float, width: float = 0.7) -> None:
        """Draw a level line; its width in points."""
        self.painter.setPen(QPen(Qt.GlobalColor.black, width * _DPI / 72.0))
        self.painter.drawLine(QPointF(left, y), QPointF(right, y))

    def _words(self, text: str, *, bold: bool = False, size: float = 1.0) -> None:
        self.y += self._put(text, QRectF(0.0, self.y, self.room.width(), 1e6), bold=bold, size=size)

    def _put(self, text: str, room: QRectF, *, bold: bool = False, size: float = 1.0) -> float:
        """Draw words in a room, or only measure them; return how high they are."""
        flags = int(Qt.TextFlag.TextWordWrap)
        high = self._metrics(bold=bold, size=size).boundingRect(room, flags, text).height()
        if self.drawing:
            self.painter.setFont(self._font(bold=bold, size=size))
            self.painter.drawText(QRectF(room.left(), room.top(), room.width(), high + 4.0), flags, text)
        return high

    def _font(self, *, bold: bool = False, size: float = 1.0) -> QFont:
        font = QFont()
        font.setFamilies(list(_FAMILIES))
        font.setPointSizeF(self.size_pt * size)
        font.setBold(bold)
        return font

    def _metrics(self, *, bold: bool = False, size: float = 1.0) -> QFontMetricsF:
        return QFontMetricsF(self._font(bold=bold, size=size), self.painter.device())
