"""The cutting template: every plate 1:1, tiled where it is larger than the paper. No Qt."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.cutting.cut_lines import CutLines, cut_lines, fold_words
from app.paper.flat_marks import FlatMarks, flat_marks
from app.paper.job import PaperJob, computed_words
from app.paper.page import SMALL_MM, Mark, Measure, Page, Stroke, Words, box, line, moved, paper_mm
from app.paper.tables import wrapped
from app.paper.tiles import OVERLAP_MM, Tile, shown, tiles_of
from app.wording.figures import Units, drawn_length, plain, sentence_in_units
from app.wording.plate_name import plate_called
from geometry.plate import CutOut, FoldLine, Hole, Plate, Slot

CHECK_MM: Final = 100.0
"""Length of the check bars."""
MARGIN_MM: Final = 9.0
_FOOT_MM: Final = 38.0
_BAR_MM: Final = 9.0
"""Strip at the right edge for the upright check bar."""
_ROUND_MM: Final = 3.0
"""Room about the plate, for crosses and words."""
_MOST_TILES: Final = 64
_BOTH: Final[tuple[Units, Units]] = ("mm", "inch")


class TemplateError(ValueError):
    """A plate too large for a template on that paper, in a sentence."""


@dataclass(frozen=True)
class _Sheet:
    width_mm: float
    height_mm: float

    @property
    def across_mm(self) -> float:
        return self.width_mm - 2.0 * MARGIN_MM - _BAR_MM

    @property
    def up_mm(self) -> float:
        return self.height_mm - 2.0 * MARGIN_MM - _FOOT_MM


def template_pages(job: PaperJob, measure: Measure) -> tuple[Page, ...]:
    """Return the template of every plate; ShapeError for an impossible one, TemplateError for a huge one."""
    pages: list[Page] = []
    for plate in job.bracket.plates:
        pages += _plate_pages(job, plate, measure)
    return tuple(pages)


def _plate_pages(job: PaperJob, plate: Plate, measure: Measure) -> list[Page]:
    lines = cut_lines(plate)
    drawn = flat_marks(plate, lines)
    marks = _drawing(drawn)
    size = (drawn.width_mm + 2.0 * _ROUND_MM, drawn.height_mm + 2.0 * _ROUND_MM)
    sheet, tiles = min(
        (
            (sheet, tiles_of(*size, sheet.across_mm, sheet.up_mm))
            for sheet in (_Sheet(*paper_mm(job.paper, landscape=turned)) for turned in (False, True))
        ),
        key=lambda pair: len(pair[1]),
    )
    if len(tiles) > _MOST_TILES:
        raise TemplateError(
            f"Plate {plate.name} would take {len(tiles)} pages of {job.paper}: take a larger paper, or a"
            " cutter's file."
        )
    return [
        Page(
            sheet.width_mm,
            sheet.height_mm,
            (
                *moved(shown(marks, tile), (MARGIN_MM, MARGIN_MM)),
                *moved(_written(plate, lines, drawn, tile, measure, job.units), (MARGIN_MM, MARGIN_MM)),
                *_overlaps(sheet, tile, tiles),
                *_check_bars(sheet, job.units),
                *_foot(job, plate, sheet, tile, tiles, size, measure),
            ),
        )
        for tile in tiles
    ]


def _drawing(drawn: FlatMarks) -> tuple[Mark, ...]:
    """Return the plate's lines, the upper left of its room at nought."""
    thin = [Stroke(s.places, "thin", closed=True) for s in (drawn.outline, *drawn.openings)]
    crosses = [Stroke(s.places, "hair") for s in drawn.crosses]
    folds = [Stroke(s.places, "chain") for _, s in drawn.folds]
    return moved([*thin, *crosses, *folds], (_ROUND_MM, _ROUND_MM))


def _written(
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
        for piece in shown(moved([stroke], (_ROUND_MM, _ROUND_MM)), tile):
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
        opening.centre_mm[0] - lines.box_mm[0] + _ROUND_MM - tile.x_mm,
        lines.box_mm[3] - opening.centre_mm[1] + _ROUND_MM - tile.y_mm,
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
    """Return what stands beside a hole with the room it takes: where it is clear of what stands there."""
    x, y = _on_tile(opening, lines, tile)
    if not (0.0 < x < tile.width_mm and SMALL_MM < y < tile.height_mm):
        return []
    if opening.kind == "hole":
        size = f"\u2300{_both(units, opening.diameter_mm)}"
    else:
        size = _both(units, opening.length_mm, opening.width_mm)
    words = plain(f"{size} {opening.name}")
    long = measure(words, SMALL_MM, False)
    aside = _half(opening) * math.sqrt(0.5) + 0.8
    found: list[tuple[Words, _Box]] = []
    for base in (max(y - aside, SMALL_MM + 1.0), y + aside + 0.75 * SMALL_MM):
        for right in (True, False):
            left = x + aside if right else x - aside - long
            room = (left, base - SMALL_MM, left + long, base)
            if left > 1.0 and left + long < tile.width_mm - 1.0 and base < tile.height_mm - 1.0:
                at = (left if right else left + long, base)
                found.append((Words(words, at, SMALL_MM, "left" if right else "right"), room))
    clear = [one for one in found if not any(_meet(one[1], box) for box in taken)]
    return (clear or found)[:1]


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
    angle = math.degrees(math.atan2(-(y1 - y0), x1 - x0))
    angle = angle - 180.0 if angle > 90.0 + 1e-6 else angle + 180.0 if angle <= -90.0 + 1e-6 else angle
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


def _overlaps(sheet: _Sheet, tile: Tile, tiles: tuple[Tile, ...]) -> list[Mark]:
    """Return the border of the tile, and at each neighbour the line where that one begins, with marks."""
    left, top = MARGIN_MM, MARGIN_MM
    right, bottom = left + sheet.across_mm, top + sheet.up_mm
    marks: list[Mark] = [box(left, top, sheet.across_mm, sheet.up_mm, "hair")]
    by_place = {(t.row, t.column): t.name for t in tiles}
    overlap = OVERLAP_MM
    for step, x in ((-1, left + overlap), (1, right - overlap)):
        if name := by_place.get((tile.row, tile.column + step)):
            marks.append(line((x, top), (x, bottom), kind="dashed"))
            edge = "ends" if step < 0 else "begins"
            marks.append(Words(f"sheet {name} {edge} here", (x, top - 0.9), SMALL_MM, "middle"))
            middle = x + step * overlap / 2.0
            marks += [m for y in (top + 6.0, bottom - 6.0) for m in _cross(middle, y)]
    for step, y in ((-1, top + overlap), (1, bottom - overlap)):
        if name := by_place.get((tile.row + step, tile.column)):
            marks.append(line((left, y), (right, y), kind="dashed"))
            edge = "ends" if step < 0 else "begins"
            at = (left - 0.9, y)
            marks.append(Words(f"sheet {name} {edge} here", at, SMALL_MM, "middle", angle_deg=90.0))
            middle = y + step * overlap / 2.0
            marks += [m for x in (left + 6.0, right - 6.0) for m in _cross(x, middle)]
    return marks


def _cross(x: float, y: float) -> list[Mark]:
    """Return a mark that must fall on its twin of the neighbouring sheet."""
    diamond = Stroke(((x - 2.0, y), (x, y - 2.0), (x + 2.0, y), (x, y + 2.0)), "thin", closed=True)
    return [
        diamond,
        line((x - 3.5, y), (x + 3.5, y), kind="hair"),
        line((x, y - 3.5), (x, y + 3.5), kind="hair"),
    ]


def _check_bars(sheet: _Sheet, units: Units) -> list[Mark]:
    """Return a bar of exactly 100 mm along each axis."""
    y = sheet.height_mm - MARGIN_MM - _FOOT_MM + 8.0
    x = MARGIN_MM
    upright = MARGIN_MM + sheet.across_mm + 5.0
    bottom = MARGIN_MM + sheet.up_mm
    long = sentence_in_units(f"{CHECK_MM:g} mm", units)
    return [
        *_bar((x, y), (x + CHECK_MM, y)),
        Words(long, (x + CHECK_MM / 2.0, y - 1.0), SMALL_MM, "middle"),
        *_bar((upright, bottom), (upright, bottom - CHECK_MM)),
        Words(long, (upright - 1.0, bottom - CHECK_MM / 2.0), SMALL_MM, "middle", angle_deg=90.0),
    ]


def _bar(a: tuple[float, float], b: tuple[float, float]) -> list[Mark]:
    ux, uy = (b[0] - a[0]) / CHECK_MM, (b[1] - a[1]) / CHECK_MM
    marks: list[Mark] = [line(a, b, kind="thin")]
    for mm in range(0, int(CHECK_MM) + 1, 10):
        half = 2.5 if mm in (0, int(CHECK_MM)) else 1.0
        x, y = a[0] + mm * ux, a[1] + mm * uy
        marks.append(line((x - half * uy, y - half * ux), (x + half * uy, y + half * ux), kind="thin"))
    return marks


def _foot(
    job: PaperJob,
    plate: Plate,
    sheet: _Sheet,
    tile: Tile,
    tiles: tuple[Tile, ...],
    size: tuple[float, float],
    measure: Measure,
) -> list[Mark]:
    left = MARGIN_MM
    top = sheet.height_mm - MARGIN_MM - _FOOT_MM + 15.0
    map_marks, map_width = _tile_map(tile, tiles, size, sheet)
    width = sheet.width_mm - 2.0 * MARGIN_MM - map_width - 6.0
    sheet_words = f"{plate.thickness_mm:g} mm {plate.material or 'material not stated'}"
    head = f"Template 1:1, {plain(plate_called(plate.name))}, {plain(sheet_words)}"
    trim = " Trim one sheet at its border and lay it on the dashed line of the next: the diamonds must meet."
    rows = [
        f"Sheet {tile.name}, of {len(tiles)}. Seen from the front. Print at 100 % (actual size) and measure"
        " both bars: if either is not 100 mm, do not cut.",
        "Crosses: centre-punch. Chain line: fold, up is toward you." + (trim if len(tiles) > 1 else ""),
        f"{job.title}. {computed_words(job)}",
    ]
    marks: list[Mark] = []
    y = top
    head, *rows = (sentence_in_units(words, job.units) for words in (head, *rows))
    for words in wrapped(head, width, 3.2, measure, bold=True)[:2]:
        marks.append(Words(words, (left, y), 3.2, bold=True))
        y += 4.2
    for row in rows:
        verdict = row is rows[-1]
        for words in wrapped(row, width, 2.3, measure, bold=verdict):
            marks.append(Words(words, (left, y), 2.3, bold=verdict))
            y += 3.1
    return [*marks, *map_marks]


def _tile_map(
    tile: Tile, tiles: tuple[Tile, ...], size: tuple[float, float], sheet: _Sheet
) -> tuple[tuple[Mark, ...], float]:
    """Return the map of the tiles, this one grey, over the plate's block, and how wide it is."""
    low_x, low_y = min(t.x_mm for t in tiles), min(t.y_mm for t in tiles)
    high_x = max(t.x_mm + t.width_mm for t in tiles)
    high_y = max(t.y_mm + t.height_mm for t in tiles)
    scale = min(44.0 / (high_x - low_x), (_FOOT_MM - 4.0) / (high_y - low_y))
    width, height = (high_x - low_x) * scale, (high_y - low_y) * scale
    marks: list[Mark] = []
    for one in sorted(tiles, key=lambda t: t is not tile):
        at = ((one.x_mm - low_x) * scale, (one.y_mm - low_y) * scale)
        fill = {"grey": 0.8} if one is tile else {}
        marks.append(box(*at, one.width_mm * scale, one.height_mm * scale, "thin", **fill))
        middle = (at[0] + one.width_mm * scale / 2.0, at[1] + one.height_mm * scale / 2.0 + 1.0)
        marks.append(
            Words(one.name, middle, min(2.8, 0.5 * one.height_mm * scale), "middle", bold=one is tile)
        )
    marks.append(box(-low_x * scale, -low_y * scale, size[0] * scale, size[1] * scale, "medium"))
    by = (sheet.width_mm - MARGIN_MM - width, sheet.height_mm - MARGIN_MM - height)
    return moved(marks, by), width
