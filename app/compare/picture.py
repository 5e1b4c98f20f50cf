"""Layouts as mounted, side by side in one picture: one stress scale, one exaggeration, one camera."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np

from app.compare.comparison import Comparison
from app.compare.judged import Judged
from app.compare.shared_view import highest_stress_mpa, look_alike
from app.compare.stamp_items import STAMP_PX, stamp_items
from app.files.named_file import write_named
from app.mounted.drawing import overlaid, png_bytes
from app.mounted.frame import Image, Painter
from app.mounted.look import rgb
from app.mounted.overlay import Item, Words
from app.mounted.overlay import Path as LinePath
from app.mounted.picture import painter, scene_image
from app.mounted.scene import Scene
from app.theme import Theme
from app.wording.figures import Units, figure, in_units, plain, sentence_in_units
from app.wording.verdict_words import verdict_words

SIZE_PX: Final = (1280, 720)
_SENTENCE_PX: Final = 14.0
_NAME_PX: Final = 14.0
_SMALL_PX: Final = 11.5
_LINE_SHARE: Final = 1.45
_LETTER_SHARE: Final = 0.56
"""Width of a letter as a share of its size, about."""
_EDGE_PX: Final = 14.0
_HEAD_PX: Final = 84.0
"""Height of what stands over each picture: name, stamp, and what it holds to."""
_FOOT_PX: Final = 26.0


def comparison_image(
    comparison: Comparison,
    theme: Theme,
    size: tuple[int, int] = SIZE_PX,
    *,
    by: Painter | None = None,
    units: Units = "mm",
) -> Image:
    """Return the picture, (height, width, 3), `size` being width and height."""
    width, height = size
    lines = _wrapped(sentence_in_units(comparison.sentence, units), width - 2 * _EDGE_PX, _SENTENCE_PX)
    top = 10.0 + len(lines) * _SENTENCE_PX * _LINE_SHARE
    cells = _cells(len(comparison.judged), (0.0, top, float(width), height - _FOOT_PX))
    scenes = []
    for one, (left, upper, right, lower) in zip(comparison.judged, cells, strict=True):
        scene = Scene(theme, (int(right - left), int(lower - upper - _HEAD_PX)))
        scene.set_units(units)
        scene.show(one.layout.bracket, one.results, pencil=one.pencil)
        scenes.append(scene)
    factor = look_alike(scenes, top_px=32.0)
    image = np.empty((height, width, 3), dtype=np.uint8)
    image[:] = rgb(theme.ground)
    paints = painter() if by is None else by
    items: list[Item] = _text(lines, _EDGE_PX, 10.0, _SENTENCE_PX, theme.ink)
    for number, (scene, cell) in enumerate(zip(scenes, cells, strict=True)):
        left, upper = int(cell[0]), int(cell[1] + _HEAD_PX)
        painted = scene_image(scene, paints)
        image[upper : upper + painted.shape[0], left : left + painted.shape[1]] = painted
        items += _head(comparison.judged[number], cell, theme, units)
    items += _rules(cells, theme)
    items.append(
        Words(
            _scale_words(comparison, factor, units),
            _EDGE_PX,
            height - _FOOT_PX / 2.0,
            _SMALL_PX,
            theme.pencil,
            "left",
        )
    )
    return overlaid(image, items, 1.0)


def write_picture(
    comparison: Comparison,
    path: Path,
    theme: Theme,
    size: tuple[int, int] = SIZE_PX,
    *,
    by: Painter | None = None,
    units: Units = "mm",
) -> None:
    """Write the picture as a PNG; FilesError if the file cannot be written."""
    image = comparison_image(comparison, theme, size, by=by, units=units)
    write_named(path, png_bytes(image))


def _cells(count: int, box: tuple[float, float, float, float]) -> list[tuple[float, float, float, float]]:
    """Return a cell for each layout: in one row, or four in two rows."""
    left, top, right, bottom = box
    columns = 2 if count == 4 else count
    rows = count // columns
    wide, high = (right - left) / columns, (bottom - top) / rows
    return [
        (left + c * wide, top + r * high, left + (c + 1) * wide, top + (r + 1) * high)
        for r in range(rows)
        for c in range(columns)
    ]


def _head(judged: Judged, cell: tuple[float, float, float, float], theme: Theme, units: Units) -> list[Item]:
    """Return the name, the stamp and the verdict's words over one picture."""
    left, top = cell[0] + _EDGE_PX, cell[1] + 8.0
    beside = left + STAMP_PX[0] + 18.0
    room = cell[2] - beside - _EDGE_PX
    items = stamp_items(judged.verdict, left, top + 6.0, theme)
    name = _wrapped(judged.name, room, _NAME_PX)[0]
    items.append(Words(name, beside, top + 8.0, _NAME_PX, theme.ink, "left"))
    if judged.results is not None and judged.verdict != "no verdict":
        words = verdict_words(judged.results, units)
    else:
        words = f"no verdict: {judged.why_no_verdict}"
    lines = _wrapped(words, room, _SMALL_PX)[:4]
    colour = theme.pencil if judged.pencil else theme.ink
    return items + _text(lines, beside, top + 18.0, _SMALL_PX, colour)


def _rules(cells: Sequence[tuple[float, float, float, float]], theme: Theme) -> list[Item]:
    found: list[Item] = []
    for left, top, right, _ in cells:
        found.append(LinePath(np.array([[left, top], [right, top]]), 1.0, theme.faint))
    for left, top, _, bottom in cells:
        if left > 0.0:
            found.append(LinePath(np.array([[left, top + 6.0], [left, bottom - 6.0]]), 1.0, theme.faint))
    return found


def _scale_words(comparison: Comparison, factor: float, units: Units) -> str:
    words = ["one camera"]
    if factor > 0.0:
        words.append(f"movement \u00d7{factor:g} in all")
    if highest_stress_mpa([one.results for one in comparison.judged]) is not None:
        unit = in_units(1.0, "MPa", units)[1]
        words.append(
            f"contour lines at the same {unit} in all; amber from 80 % of the plate's allowable,"
            " hatched above it"
        )
    if not comparison.same_ground:
        words.append("NOT the same loads and limits")
    couples = {one.layout.bracket.loads.couple.value_nm for one in comparison.judged}
    if len(couples) == 1 and (couple := couples.pop()) is not None:
        words.append(sentence_in_units(f"couple {figure(couple)} N.m", units))
    return "; ".join(words)


def _wrapped(words: str, room_px: float, size_px: float) -> list[str]:
    letters = max(12, int(room_px / (_LETTER_SHARE * size_px)))
    return textwrap.wrap(plain(words), letters, break_on_hyphens=False) or [""]


def _text(lines: Sequence[str], left_px: float, top_px: float, size_px: float, colour: str) -> list[Item]:
    step = size_px * _LINE_SHARE
    return [
        Words(line, left_px, top_px + (number + 0.5) * step, size_px, colour, "left")
        for number, line in enumerate(lines)
    ]
