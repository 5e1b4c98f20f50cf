"""Welds on a drawn flat pattern: ticks across the edge or over the face, size and name beside them. No Qt."""

from __future__ import annotations

import math
from typing import Final

from app.cutting.cut_lines import CutLines
from app.paper.page import Mark, Stroke, Words
from app.wording.figures import Units, plain
from app.wording.weld_words import sides_words, size_words, welds_on
from geometry.bracket import Bracket
from geometry.plate import Plate

_APART_MM: Final = 2.0
_TICK_MM: Final = 2.4
_WORDS_MM: Final = 2.5
_OFF_MM: Final = 4.6
_OFF_OUTSIDE_MM: Final = 3.2
_LETTER_MM: Final = 0.55 * _WORDS_MM


def weld_figure(
    bracket: Bracket, plate: Plate, lines: CutLines, scale: float, units: Units = "mm"
) -> list[Mark]:
    """Return the marks of a plate's welds, at a scale, the upper left of its outline at nought."""
    low_x, low_y, high_x, high_y = lines.box_mm
    marks: list[Mark] = []
    for weld, ends in welds_on(bracket, plate.name):
        (x0, y0), (x1, y1) = (((x - low_x) * scale, (high_y - y) * scale) for x, y in ends)
        length = math.hypot(x1 - x0, y1 - y0)
        if length <= 0.0:
            continue
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        count = max(2, round(length / _APART_MM))
        for k in range(count + 1):
            x, y = x0 + (x1 - x0) * k / count, y0 + (y1 - y0) * k / count
            off_x, off_y = -uy * _TICK_MM / 2.0, ux * _TICK_MM / 2.0
            marks.append(Stroke(((x - off_x, y - off_y), (x + off_x, y + off_y))))
        # Toward the middle of the plate, where nothing is dimensioned.
        middle = (0.5 * (x0 + x1), 0.5 * (y0 + y1))
        toward = (0.5 * (high_x - low_x) * scale - middle[0], 0.5 * (high_y - low_y) * scale - middle[1])
        side = 1.0 if -uy * toward[0] + ux * toward[1] >= 0.0 else -1.0
        words = plain(f"weld {weld.name}: {size_words(weld, units)} {sides_words(weld)}")
        off = _OFF_MM
        if weld.plate == plate.name and _LETTER_MM * len(words) > length:
            # no room between the edges beside it: outside, short of the running dimensions
            side, off = -side, _OFF_OUTSIDE_MM
        at = (middle[0] - side * uy * off, middle[1] + side * ux * off + _WORDS_MM / 3.0)
        marks.append(Words(words, at, _WORDS_MM, "middle"))
    return marks
