"""Places for balloons: near their hole, clear of each other and of everything that is written."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFont, QPainterPath

from app.window.flat.marks import BALLOON_PX, Balloon, text_size

_USUAL_DEG: Final = 48.0
"""Where a balloon stands from its hole if nothing is in the way."""
_REACHES_PX: Final = (15.0, 24.0, 36.0)
_MARGIN_PX: Final = 3.0
_ON_WORDS, _ON_RIM, _ACROSS_EDGE, _OFF_SHEET = 30.0, 5.0, 6.0, 50.0
"""What is held against a place."""


def _places() -> tuple[tuple[float, float, float], ...]:
    found = []
    for step in range(24):
        turn = step * 15.0
        for reach in _REACHES_PX:
            found.append((min(turn, 360.0 - turn) / 60.0 + reach / 30.0, turn, reach))
    return tuple(sorted(found))


_PLACES: Final = _places()
"""(cost, turn from the usual direction in degrees, reach in pixels), cheapest first."""


@dataclass(frozen=True)
class Clear:
    """What balloons keep clear of."""

    written: tuple[QRectF, ...]
    """Boxes of words, which a balloon must not touch."""
    rims: tuple[QRectF, ...]
    """Of holes and dimension lines, which it should not."""
    edges: QPainterPath
    """The plate's, which it should not lie across."""
    sheet: QRectF


def place_balloons(
    holes: Iterable[tuple[str, QPointF, float]],
    clear: Clear,
    font: QFont,
    kept: Mapping[str, QPointF],
) -> tuple[Balloon, ...]:
    """Return the balloons of (bolt, place, outer radius) in pixels.

    `kept` says how far off their holes balloons stood before: while something is dragged they do not jump.
    """
    placed: list[Balloon] = []
    for bolt, at, radius in holes:
        if not clear.sheet.adjusted(-40.0, -40.0, 40.0, 40.0).contains(at):
            continue
        width = max(2.0 * BALLOON_PX, text_size(bolt, font).width() + 6.0)
        if bolt in kept:
            placed.append(_balloon(bolt, at, radius, kept[bolt], width))
        else:
            taken = (*clear.written, *(balloon.box for balloon in placed))
            placed.append(_best(bolt, at, radius, width, taken, clear))
    return tuple(placed)


def _best(
    bolt: str, at: QPointF, radius: float, width: float, taken: tuple[QRectF, ...], clear: Clear
) -> Balloon:
    best, least = None, math.inf
    for cost, turn, reach in _PLACES:
        if cost >= least:
            break
        angle = math.radians(_USUAL_DEG + turn)
        off = QPointF(math.cos(angle), -math.sin(angle)) * (radius + reach)
        balloon = _balloon(bolt, at, radius, off, width)
        whole = cost + _held_against(balloon.box, taken, clear)
        if whole < least:
            best, least = balloon, whole
    assert best is not None
    return best


def _held_against(box: QRectF, taken: tuple[QRectF, ...], clear: Clear) -> float:
    roomy = box.adjusted(-_MARGIN_PX, -_MARGIN_PX, _MARGIN_PX, _MARGIN_PX)
    held = 0.0 if clear.sheet.contains(box) else _OFF_SHEET
    held += _ON_WORDS * sum(map(roomy.intersects, taken)) + _ON_RIM * sum(map(roomy.intersects, clear.rims))
    if clear.edges.intersects(box) and not clear.edges.contains(box):
        held += _ACROSS_EDGE
    return held


def _balloon(bolt: str, at: QPointF, radius: float, off: QPointF, width: float) -> Balloon:
    middle = at + off
    box = QRectF(middle.x() - width / 2.0, middle.y() - BALLOON_PX, width, 2.0 * BALLOON_PX)
    length = math.hypot(off.x(), off.y())
    return Balloon(bolt, box, at + off * (radius / length if length > 0.0 else 0.0), off)
