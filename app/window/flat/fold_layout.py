"""Angle, direction and radius written at fold lines: beyond an end, or else beside the line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from PySide6.QtCore import QPointF, QRectF

from app.window.flat.look import Look
from app.window.flat.marks import Words, box_on_screen, text_size, words_at
from app.window.flat.on_sheet import OnSheet, fold_line
from app.window.flat.shown_dimensions import figure
from geometry.flat_segments import Flat
from geometry.plate import FoldLine

FOLD_BEYOND_PX: Final = 14.0
"""How far a fold line is drawn beyond the plate."""
_CLOSER_PX: Final = 2.0
"""What the three pieces of words are set closer by."""


def fold_words_of(sheet: OnSheet, look: Look, written: Sequence[QRectF]) -> list[Words]:
    """Return the words of all folds; each of the three pieces of a fold's can be clicked by itself."""
    found: list[Words] = []
    for fold in sheet.plate.folds:
        taken = [*written, *(box_on_screen(words) for words in found)]
        tried = list(_tried(fold, fold_line(sheet, fold), look))
        free = [words for words in tried if _is_free(words, taken, look)]
        found += (free or tried or [[]])[0]
    return found


def _is_free(words: Sequence[Words], taken: Sequence[QRectF], look: Look) -> bool:
    boxes = [box_on_screen(piece) for piece in words]
    return all(look.size.contains(box) and not any(box.intersects(other) for other in taken) for box in boxes)


def _tried(fold: FoldLine, ends: tuple[Flat, Flat], look: Look) -> Iterator[list[Words]]:
    """Yield the words at the right or upper end, at the other end, and beside the line."""
    a, b = look.to_px(ends[0]), look.to_px(ends[1])
    level = abs(b.x() - a.x()) > abs(b.y() - a.y()) * 0.5
    if (a.x() > b.x()) if level else (a.y() < b.y()):
        a, b = b, a
    length = math.hypot(b.x() - a.x(), b.y() - a.y())
    if length < 1e-6:
        return
    way = (b - a) / length
    texts = _texts(fold, look)
    width = sum(text_size(text, look.font).width() - _CLOSER_PX for text, _ in texts)
    for end, out in ((b, way), (a, -way)):
        if level:
            at = end + out * (FOLD_BEYOND_PX + 4.0)
            yield _run(texts, at if out.x() > 0.0 else QPointF(at.x() - width, at.y()), 0.0, look)
        else:
            at = end + out * (FOLD_BEYOND_PX + 12.0)
            yield _run(texts, QPointF(at.x() - width / 2.0, at.y()), 0.0, look)
    angle = math.degrees(math.atan2(-way.y(), way.x()))
    up = QPointF(way.y(), -way.x()) * 10.0
    for share in (0.8, 0.25):
        yield _run(texts, a + (b - a) * share - way * (width / 2.0) + up, angle, look)


def _texts(fold: FoldLine, look: Look) -> tuple[tuple[str, str], ...]:
    return (
        (f"{fold.angle_deg:.4g}°", f"fold angle {fold.name}"),
        (fold.direction, f"fold direction {fold.name}"),
        (f"r {figure(fold.inside_radius_mm, inch=look.inch)}", f"fold radius {fold.name}"),
    )


def _run(texts: Iterable[tuple[str, str]], start: QPointF, angle_deg: float, look: Look) -> list[Words]:
    """Return words one after the other from a place on, in a direction."""
    way = QPointF(math.cos(math.radians(angle_deg)), -math.sin(math.radians(angle_deg)))
    words, at = [], start
    for text, name in texts:
        width = text_size(text, look.font).width()
        middle = at + way * (width / 2.0)
        words.append(
            words_at(text, middle, look.font, anchor=(0.5, 0.5), ink="ink", name=name, angle_deg=angle_deg)
        )
        at = at + way * (width - _CLOSER_PX)
    return words
