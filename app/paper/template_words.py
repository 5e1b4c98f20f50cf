"""What is written on a template's plate: sizes beside holes, what to do at folds. No Qt."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from app.cutting.cut_lines import CutLines, fold_words
from app.paper.flat_marks import FlatMarks
from app.paper.page import SMALL_MM, Mark, Measure, Stroke, Words, moved, readable_deg
from app.paper.tiles import Tile, shown
from app.wording.figures import Units, drawn_length, plain, sentence_in_units
from geometry.plate import CutOut, FoldLine, Hole, Plate, Slot

ROUND_MM: Final = 3.0
"""Room about the plate, for crosses and words."""
_BOTH: Final[tuple[Units, Units]] = ("mm", "inch")


def words_on_tile(
    plate: Plate, lines: CutLines, drawn: FlatMarks, tile: Tile, measure: Measure, units: Units
) -> tuple[Mark, ...]:
    """Return the words on one tile, each wholly within it: sizes beside holes, what to do at folds."""
    marks: list[Mark] = []
    openings = [o for o in plate.openings if not isinstance(o, CutOut)]
    rims = [_rim_box(opening, lines, tile) for opening in openings]
    taken: list[_Box] = []
    for number, opening in enumerate(openings):
        others = (*rims[:number], *rims[number + 1 :], *taken)
        told = _hole_words(opening, lines, tile, measure, units, others)
        marks += [words for words, _ in told]
        taken += [room for _, room in told]
    ways = {fold.name: _fold_ways(fold, units) for fold in plate.folds}
    for name, stroke in drawn.folds:
        for piece in shown(moved([stroke], (ROUND_MM, ROUND_MM)), tile):
            if isinstance(piece, Stroke):
                marks += _fold_words(ways[name], piece, tile, measure)
    return tuple(marks)


_Box = tuple[float, float, float, float]
"""Left, top, right and bottom on a tile."""


def _rim_box(opening: Hole | Slot, lines: CutLines, tile: Tile) -> _Box:
    """Return the square round a hole, or round the middle of a slot."""
    x, y = _on_tile(opening, lines, tile)
    half = _half(opening)
    return (x - half, y - half, x + half, y + half)


def _on_tile(opening: Hole | Slot, lines: CutLines, tile: Tile) -> tuple[float, float]:
    return (
        opening.centre_mm[0] - lines.box_mm[0] + ROUND_MM - tile.x_mm,
        lines.box_mm[3] - opening.centre_mm[1] + ROUND_MM - tile.y_mm,
    )


def _half(opening: Hole | Slot) -> float:
    return (opening.diameter_mm if opening.kind == "hole" else opening.width_mm) / 2.0


def _hole_words(
    opening: Hole | Slot,
    lines: CutLines,
    tile: Tile,
    measure: Measure,
    units: Units,
    taken: Sequence[_Box],
) -> list[tuple[Words, _Box]]:
    """Return what stands beside a hole with the room it takes: where it is clear of what stands there.

    Its name is left out where there is room for its size alone.
    """
    x, y = _on_tile(opening, lines, tile)
    if not (0.0 < x < tile.width_mm and SMALL_MM < y < tile.height_mm):
        return []
    if opening.kind == "hole":
        size = f"\u2300{_both(units, opening.diameter_mm)}"
    else:
        size = _both(units, opening.length_mm, opening.width_mm)
    aside = _half(opening) * math.sqrt(0.5) + 0.8
    found: list[tuple[Words, _Box]] = []
    for words in (plain(f"{size} {opening.name}"), size):
        long = measure(words, SMALL_MM, False)
        for base in (max(y - aside, SMALL_MM + 1.0), y + aside + 0.75 * SMALL_MM):
            for right in (True, False):
                left = x + aside if right else x - aside - long
                room = (left, base - SMALL_MM, left + long, base)
                if left > 1.0 and left + long < tile.width_mm - 1.0 and base < tile.height_mm - 1.0:
                    at = (left if right else left + long, base)
                    found.append((Words(words, at, SMALL_MM, "left" if right else "right"), room))
    clear = [one for one in found if not any(_meet(one[1], box) for box in taken)]
    return (clear or found[::-1])[:1]


def _meet(one: _Box, other: _Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _both(units: Units, *lengths_mm: float) -> str:
    """Return one length or two in mm, for an inch reader with inches after them."""
    metric, inches = (" x ".join(drawn_length(mm, told) for mm in lengths_mm) for told in _BOTH)
    return metric if units == "mm" else f"{metric} ({inches} in)"


def _fold_ways(fold: FoldLine, units: Units) -> tuple[str, ...]:
    """Return what to do at a fold in ever fewer words; how far and which way it is turned is in all."""
    turned = f"{fold.angle_deg:g} deg {fold.direction}"
    radius = _both(units, fold.inside_radius_mm)
    told = sentence_in_units(f"{turned}, inside radius {fold.inside_radius_mm:g} mm", units)
    return (sentence_in_units(fold_words(fold), units), told, f"{turned}, R{radius}", turned)


def _fold_words(ways: tuple[str, ...], piece: Stroke, tile: Tile, measure: Measure) -> list[Mark]:
    """Return a fold's words above the middle of a piece of its line: as many as have room along it.

    Which way it is turned is written even where the piece is shorter than that: past the plate's edge, and
    left out only where that would leave the tile.
    """
    (x0, y0), (x1, y1) = piece.places[0], piece.places[-1]
    angle = readable_deg(math.degrees(math.atan2(-(y1 - y0), x1 - x0)))
    room = math.dist((x0, y0), (x1, y1)) - 2.0
    words = next((w for w in ways if measure(w, SMALL_MM, False) < room), ways[-1])
    turn = math.radians(angle)
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    at = (middle[0] - 1.2 * math.sin(turn), middle[1] - 1.2 * math.cos(turn))
    half = 0.5 * measure(words, SMALL_MM, False)
    ends = [(at[0] + way * half * math.cos(turn), at[1] - way * half * math.sin(turn)) for way in (-1.0, 1.0)]
    if not all(0.0 < x < tile.width_mm and 0.0 < y < tile.height_mm for x, y in ends):
        return []
    return [Words(words, at, SMALL_MM, "middle", angle_deg=angle)]
