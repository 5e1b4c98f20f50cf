"""Words wrapped and tables laid out, given how wide words are. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.paper.page import LEADING, SMALL_MM, Mark, Measure, Words, line
from app.wording.figures import plain

_PAD_MM = 1.2


@dataclass(frozen=True)
class Column:
    """One column: its heading and its share of the table's width."""

    title: str
    share: float
    right: bool = False


@dataclass(frozen=True)
class Table:
    """Rows of cells under headings; an empty cell is a place to write in."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    size_mm: float = SMALL_MM
    least_row_mm: float = 0.0
    """Room for a pencil."""


@dataclass(frozen=True)
class LaidRow:
    """One row, its upper edge at nought."""

    height_mm: float
    marks: tuple[Mark, ...]


def wrapped(
    words: str, width_mm: float, size_mm: float, measure: Measure, *, bold: bool = False
) -> list[str]:
    """Return words as lines no wider than that; a single word too wide is parted anywhere."""
    lines: list[str] = []
    for part in plain(words).split("\n"):
        held = ""
        for word in part.split(" "):
            tried = f"{held} {word}" if held else word
            if measure(tried, size_mm, bold) <= width_mm:
                held = tried
                continue
            if held:
                lines.append(held)
            held = word
            while measure(held, size_mm, bold) > width_mm and len(held) > 1:
                fits = _fitting(held, width_mm, size_mm, measure, bold=bold)
                lines.append(held[:fits])
                held = held[fits:]
        lines.append(held)
    return lines


def laid_rows(table: Table, width_mm: float, measure: Measure) -> tuple[LaidRow, ...]:
    """Return the heading's row, then the others."""
    total = sum(c.share for c in table.columns)
    widths = [width_mm * c.share / total for c in table.columns]
    titles = tuple(c.title for c in table.columns)
    head = _row(titles, table, widths, measure, bold=True)
    return (head, *(_row(cells, table, widths, measure, bold=False) for cells in table.rows))


def _row(
    cells: Sequence[str], table: Table, widths: Sequence[float], measure: Measure, *, bold: bool
) -> LaidRow:
    size = table.size_mm
    step = size * LEADING
    columns = [
        wrapped(cell, width - 2.0 * _PAD_MM, size, measure, bold=bold)
        for cell, width in zip(cells, widths, strict=True)
    ]
    height = max(len(lines) for lines in columns) * step + 1.6
    if not bold:
        height = max(height, table.least_row_mm)
    marks: list[Mark] = []
    x = 0.0
    for lines, width, column in zip(columns, widths, table.columns, strict=True):
        for number, words in enumerate(lines):
            y = 0.8 + number * step + size
            if column.right:
                marks.append(Words(words, (x + width - _PAD_MM, y), size, "right", bold))
            else:
                marks.append(Words(words, (x + _PAD_MM, y), size, bold=bold))
        marks.append(line((x, 0.0), (x, height), kind="hair"))
        x += width
    marks.append(line((x, 0.0), (x, height), kind="hair"))
    edges = [
        line((0.0, y), (x, y), kind="medium" if bold else "hair")
        for y in ((0.0, height) if bold else (height,))
    ]
    return LaidRow(height, (*marks, *edges))


def _fitting(word: str, width_mm: float, size_mm: float, measure: Measure, *, bold: bool) -> int:
    count = 1
    while count < len(word) and measure(word[: count + 1], size_mm, bold) <= width_mm:
        count += 1
    return count
