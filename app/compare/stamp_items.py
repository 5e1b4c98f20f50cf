"""The verdict's stamp as lines and words of a picture: word and shape say it, never colour alone.

pass            double frame
marginal        a frame, and a dashed one inside it
fail            a frame struck through, beside its word
no verdict      an empty frame
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np

from app.mounted.overlay import Item, Path, Words
from app.theme import Theme
from solver.results import Verdict

STAMP_PX: Final = (118.0, 30.0)
"""Width and height."""
_WORD_PX: Final = 15.0
_DASH_PX: Final = 6.0
_GAP_PX: Final = 4.0
_HALF_LETTER_PX: Final = 5.6
_INSET_PX: Final = 4.0

Box = tuple[float, float, float, float]
"""Left, top, right, bottom, in pixels."""


def stamp_items(verdict: Verdict, left_px: float, top_px: float, theme: Theme) -> list[Item]:
    """Return the stamp with its upper left corner at a place."""
    box = (left_px, top_px, left_px + STAMP_PX[0], top_px + STAMP_PX[1])
    middle = ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
    if verdict == "no verdict":
        return [_frame(box, 1.4, theme.pencil)]
    items: list[Item] = [_frame(box, 2.2, theme.ink)]
    if verdict == "pass":
        items.append(_frame(_inside(box), 1.0, theme.ink))
    elif verdict == "marginal":
        items += _dashed(_inside(box), 1.3, theme.ink)
    else:
        items += _struck(box, middle, len(verdict), theme)
    return [*items, Words(verdict.upper(), middle[0], middle[1], _WORD_PX, theme.ink)]


def _inside(box: Box) -> Box:
    return box[0] + _INSET_PX, box[1] + _INSET_PX, box[2] - _INSET_PX, box[3] - _INSET_PX


def _corners(box: Box) -> list[tuple[float, float]]:
    left, top, right, bottom = box
    return [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]


def _frame(box: Box, width_px: float, colour: str) -> Path:
    # its first side twice: an open line whose ends meet would be drawn without its last side
    corners = _corners(box)
    return Path(np.array([*corners, corners[1]]), width_px, colour)


def _dashed(box: Box, width_px: float, colour: str) -> list[Item]:
    items: list[Item] = []
    corners = np.array(_corners(box))
    for start, end in pairwise(corners):
        length = float(np.hypot(*(end - start)))
        way = (end - start) / length
        for at in np.arange(0.0, length, _DASH_PX + _GAP_PX):
            piece = np.array([start + at * way, start + min(at + _DASH_PX, length) * way])
            items.append(Path(piece, width_px, colour))
    return items


def _struck(box: Box, middle: tuple[float, float], letters: int, theme: Theme) -> list[Item]:
    """Return strokes through the frame, which spare the word."""
    half = letters * _HALF_LETTER_PX + 6.0
    items: list[Item] = []
    for y in (middle[1] - 3.0, middle[1] + 3.0):
        for x0, x1 in ((box[0] - 5.0, middle[0] - half), (middle[0] + half, box[2] + 5.0)):
            items.append(Path(np.array([[x0, y], [x1, y]]), 1.6, theme.ink))
    return items
