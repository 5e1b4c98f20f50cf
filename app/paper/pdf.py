"""Pages painted as PDF; the one file of paper that knows Qt. No display is needed.

Text stays text with its fonts embedded, lines stay lines, and 1 mm is 1 mm.
"""

from __future__ import annotations

import importlib.util
import os
from collections.abc import Sequence
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Final

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QPointF, QRectF, QSizeF, Qt, QUuid
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QFontMetricsF,
    QGuiApplication,
    QImage,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPen,
    QPolygonF,
)

from app.paper.page import LineKind, Mark, Page, Picture, Stroke, Words
from app.paper.pdf_dates import fixed_moment, with_moment

DPI: Final = 1200
_NAMESPACE: Final = "{0b1f6c1e-5a6e-5d0c-9f0a-6a1d3e2c7b4d}"
PER_MM: Final = DPI / 25.4
WIDTHS_MM: Final[dict[LineKind, float]] = {
    "thick": 0.5,
    "medium": 0.35,
    "thin": 0.18,
    "hair": 0.1,
    "dashed": 0.18,
    "chain": 0.18,
    "double chain": 0.18,
}
_DASHES_MM: Final[dict[LineKind, tuple[float, ...]]] = {
    "dashed": (2.4, 1.0),
    "chain": (7.0, 1.0, 0.4, 1.0),
    "double chain": (7.0, 1.0, 0.4, 1.0, 0.4, 1.0),
}
_FAMILIES: Final = ["DejaVu Sans", "Noto Sans", "Segoe UI", "Helvetica Neue", "Arial"]
_FACES: Final = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSans-Oblique.ttf")


class PaperError(OSError):
    """Paper that cannot be made, in one sentence."""


def ready() -> None:
    """Make what painting needs: a program, without any display if there is none yet, and a font."""
    if QGuiApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        # fonts are then embedded in the same order each time
        os.environ.setdefault("QT_HASH_SEED", "0")
        _kept.append(QGuiApplication(["holdsquare"]))
    _take_fonts()


def width_mm(words: str, size_mm: float, bold: bool) -> float:
    """Return how wide words are: the measure that layouts are given. `ready` goes before."""
    return _metrics(round(size_mm * 100), bold).horizontalAdvance(words) / PER_MM


def pdf_bytes(pages: Sequence[Page], title: str, attached: Sequence[tuple[str, bytes]] = ()) -> bytes:
    """Return a PDF of the pages, with files (name, content) attached; PaperError if it cannot be painted.

    `ready` goes before.
    """
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DPI)
    writer.setTitle(title)
    writer.setCreator("Holdsquare")
    # said by what it is of, not drawn at random: the same report is the same file
    said = sha256(repr((title, tuple(pages), tuple(attached))).encode("utf-8", "replace")).digest()
    writer.setDocumentId(QUuid.createUuidV5(QUuid(_NAMESPACE), said))
    for name, content in attached:
        writer.addFileAttachment(name, QByteArray(content), "application/json")
    painter = QPainter()
    for number, page in enumerate(pages):
        _set_page(writer, page)
        if number == 0:
            if not painter.begin(writer):
                raise PaperError("The pages cannot be painted: there may be no memory left. Try again.")
        else:
            writer.newPage()
        for mark in page.marks:
            _paint(painter, mark)
    painter.end()
    buffer.close()
    made = bytes(held.data())
    moment = fixed_moment()
    return made if moment is None else with_moment(made, moment)


_kept: list[QGuiApplication] = []
"""The program made here, which must live as long as Python does."""


@lru_cache(maxsize=1)
def _take_fonts() -> None:
    """Take the upright face that comes with a library of ours, so that paper looks alike on every machine."""
    spec = importlib.util.find_spec("matplotlib")
    for folder in [] if spec is None else list(spec.submodule_search_locations or []):
        for face in _FACES:
            path = Path(folder) / "mpl-data" / "fonts" / "ttf" / face
            if path.is_file():
                QFontDatabase.addApplicationFont(str(path))
    if not QFontDatabase.families():
        raise PaperError(
            "No font is installed, so no paper can be written: install one, such as DejaVu Sans."
        )


@lru_cache(maxsize=64)
def _metrics(size_hundredths: int, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(_font(size_hundredths / 100.0, bold=bold, italic=False))


def _font(size_mm: float, *, bold: bool, italic: bool) -> QFont:
    font = QFont()
    font.setFamilies(_FAMILIES)
    font.setPixelSize(max(1, round(size_mm * PER_MM)))
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    # joined letters come out of the file as letters nobody types
    font.setFeature(QFont.Tag("liga"), 0)
    font.setBold(bold)
    font.setItalic(italic)
    return font


def _set_page(writer: QPdfWriter, page: Page) -> None:
    size = QPageSize(
        QSizeF(page.width_mm, page.height_mm),
        QPageSize.Unit.Millimeter,
        "",
        QPageSize.SizeMatchPolicy.ExactMatch,
    )
    layout = QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0.0, 0.0, 0.0, 0.0))
    layout.setMode(QPageLayout.Mode.FullPageMode)
    writer.setPageLayout(layout)


def _paint(painter: QPainter, mark: Mark) -> None:
    if isinstance(mark, Stroke):
        _stroke(painter, mark)
    elif isinstance(mark, Words):
        _words(painter, mark)
    else:
        _picture(painter, mark)


def _stroke(painter: QPainter, stroke: Stroke) -> None:
    polygon = QPolygonF([QPointF(x * PER_MM, y * PER_MM) for x, y in stroke.places])
    painter.setPen(Qt.PenStyle.NoPen if stroke.bare else _pen(stroke.line, stroke.pen))
    if stroke.fill:
        painter.setBrush(QColor(stroke.fill))
    elif stroke.grey is not None:
        painter.setBrush(QColor.fromRgbF(stroke.grey, stroke.grey, stroke.grey))
    else:
        painter.setBrush(Qt.BrushStyle.NoBrush)
    if stroke.closed:
        painter.drawPolygon(polygon)
    else:
        painter.drawPolyline(polygon)


def _pen(kind: LineKind, colour: str) -> QPen:
    width = WIDTHS_MM[kind] * PER_MM
    pen = QPen(QColor(colour or "#000000"), width)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if kind in _DASHES_MM:
        pen.setDashPattern([dash * PER_MM / width for dash in _DASHES_MM[kind]])
    return pen


def _words(painter: QPainter, words: Words) -> None:
    if not words.words:
        return
    font = _font(words.size_mm, bold=words.bold, italic=words.italic)
    painter.setFont(font)
    painter.setPen(QColor(0, 0, 0))
    long = QFontMetricsF(font).horizontalAdvance(words.words)
    back = {"left": 0.0, "middle": long / 2.0, "right": long}[words.across]
    painter.save()
    painter.translate(words.at[0] * PER_MM, words.at[1] * PER_MM)
    painter.rotate(-words.angle_deg)
    painter.drawText(QPointF(-back, 0.0), words.words)
    painter.restore()


def _picture(painter: QPainter, picture: Picture) -> None:
    image = QImage.fromData(picture.png)
    x, y, width, height = (value * PER_MM for value in picture.box)
    painter.drawImage(QRectF(x, y, width, height), image)
