"""A drawing too large for one paper, cut into tiles that overlap. No Qt.

Glossary
--------
tile     what one page shows; named by its row's letter, from the top, and its column's number
overlap  the strip that two neighbours both show, so that one is laid on the other
"""

from __future__ import annotations

import math
import string
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

import shapely

from app.paper.page import Mark, Stroke

OVERLAP_MM: Final = 12.0


@dataclass(frozen=True)
class Tile:
    """One tile: its box in the drawing."""

    name: str
    row: int
    column: int
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


def tiles_of(
    width_mm: float, height_mm: float, tile_width_mm: float, tile_height_mm: float
) -> tuple[Tile, ...]:
    """Return the tiles that cover a drawing, row by row, the drawing in their middle."""
    columns = _count(width_mm, tile_width_mm)
    rows = _count(height_mm, tile_height_mm)
    step_x, step_y = tile_width_mm - OVERLAP_MM, tile_height_mm - OVERLAP_MM
    left = -(columns * step_x + OVERLAP_MM - width_mm) / 2.0
    top = -(rows * step_y + OVERLAP_MM - height_mm) / 2.0
    return tuple(
        Tile(
            f"{_letters(row)}{column + 1}",
            row,
            column,
            left + column * step_x,
            top + row * step_y,
            tile_width_mm,
            tile_height_mm,
        )
        for row in range(rows)
        for column in range(columns)
    )


def shown(marks: Iterable[Mark], tile: Tile) -> tuple[Mark, ...]:
    """Return what a tile shows of a drawing, in the tile's own place: lines cut at its border."""
    window = shapely.box(tile.x_mm, tile.y_mm, tile.x_mm + tile.width_mm, tile.y_mm + tile.height_mm)
    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            found += _cut(mark, window, tile)
    return tuple(found)


def _cut(stroke: Stroke, window: shapely.Polygon, tile: Tile) -> list[Stroke]:
    places = (*stroke.places, stroke.places[0]) if stroke.closed else stroke.places
    path = shapely.LineString(places)
    by = (tile.x_mm, tile.y_mm)
    if window.contains(path):
        return [replace(stroke, places=tuple((x - by[0], y - by[1]) for x, y in stroke.places))]
    cut = shapely.line_merge(path.intersection(window))
    return [
        replace(stroke, places=tuple((x - by[0], y - by[1]) for x, y in piece.coords), closed=False)
        for piece in getattr(cut, "geoms", [cut])
        if piece.geom_type == "LineString" and piece.length > 1e-6
    ]


def _count(size_mm: float, tile_mm: float) -> int:
    return max(1, math.ceil((size_mm - OVERLAP_MM) / (tile_mm - OVERLAP_MM) - 1e-9))


def _letters(row: int) -> str:
    letters = string.ascii_uppercase
    return (
        letters[row]
        if row < len(letters)
        else _letters(row // len(letters) - 1) + letters[row % len(letters)]
    )
