"""The cutting template: every plate 1:1, tiled where it is larger than the paper. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from app.cutting.cut_lines import cut_lines
from app.paper.flat_marks import FlatMarks, flat_marks
from app.paper.job import PaperJob, computed_words
from app.paper.page import SMALL_MM, Mark, Measure, Page, Stroke, Words, box, line, moved, paper_mm
from app.paper.tables import wrapped
from app.paper.template_words import ROUND_MM, words_on_tile
from app.paper.tiles import OVERLAP_MM, Tile, shown, tiles_of
from app.wording.figures import Units, plain, sentence_in_units
from app.wording.plate_name import plate_called
from geometry.plate import Plate

CHECK_MM: Final = 100.0
"""Length of the check bars."""
MARGIN_MM: Final = 9.0
_FOOT_MM: Final = 38.0
_BAR_MM: Final = 9.0
"""Strip at the right edge for the upright check bar."""
_MOST_TILES: Final = 64


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
    size = (drawn.width_mm + 2.0 * ROUND_MM, drawn.height_mm + 2.0 * ROUND_MM)
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
                *moved(words_on_tile(plate, lines, drawn, tile, measure, job.units), (MARGIN_MM, MARGIN_MM)),
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
    return moved([*thin, *crosses, *folds], (ROUND_MM, ROUND_MM))


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
