"""Places for balloons: near their hole, clear of each other and of everything that is written."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFont

from app.window.flat.marks import BALLOON_PX, Balloon, text_size

_USUAL_DEG: Final = 48.0
"""Where a balloon stands from its hole if nothing is in the way."""
_STEPS_DEG: Final = tuple(sorted((step * 15.0 for step in range(24)), key=lambda s: min(s, 360.0 - s)))
_REACHES_PX: Final = (15.0, 24.0, 36.0)
_MARGIN_PX: Final = 3.0


def place_balloons(
    holes: Iterable[tuple[str, QPointF, float]],
    written: Sequence[QRectF],
    rims: Sequence[QRectF],
    sheet: QRectF,
    font: QFont,
) -> tuple[Balloon, ...]:
    """Return the balloons of (bolt, place, outer radius) in pixels.

    `written` are boxes of words, which a balloon must not touch; `rims` those of holes, which it should not.
    """
    placed: list[Balloon] = []
    for bolt, at, radius in holes:
        if sheet.adjusted(-40.0, -40.0, 40.0, 40.0).contains(at):
            taken = [*written, *(balloon.box for balloon in placed)]
            placed.append(_best(bolt, at, radius, taken, rims, sheet, font))
    return tuple(placed)


def _best(
    bolt: str,
    at: QPointF,
    radius: float,
    taken: Sequence[QRectF],
    rims: Sequence[QRectF],
    sheet: QRectF,
    font: QFont,
) -> Balloon:
    width = max(2.0 * BALLOON_PX, text_size(bolt, font).width() + 6.0)
    best, least = None, math.inf
    for turn in _STEPS_DEG:
        angle = math.radians(_USUAL_DEG + turn)
        way = QPointF(math.cos(angle), -math.sin(angle))
        for reach in _REACHES_PX:
            middle = at + way * (radius + reach)
            box = QRectF(middle.x() - width / 2.0, middle.y() - BALLOON_PX, width, 2.0 * BALLOON_PX)
            cost = min(turn, 360.0 - turn) / 60.0 + reach / 30.0
            cost += 30.0 * _overlaps(box, taken) + 5.0 * _overlaps(box, rims)
            cost += 0.0 if sheet.contains(box) else 50.0
            if cost < least:
                best, least = Balloon(bolt, box, at + way * radius), cost
        if least < 1.0:
            break
    assert best is not None
    return best


def _overlaps(box: QRectF, others: Iterable[QRectF]) -> int:
    roomy = box.adjusted(-_MARGIN_PX, -_MARGIN_PX, _MARGIN_PX, _MARGIN_PX)
    return sum(1 for other in others if roomy.intersects(other))
