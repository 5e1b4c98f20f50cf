"""The frame of a drawing and its title block after ISO 7200 and ISO 5457. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from app.paper.job import HASH_SHOWN, PaperJob, computed_words
from app.paper.page import Mark, Measure, Words, box, line, moved, paper_mm
from app.paper.tables import wrapped
from app.wording.figures import plain, sentence_in_units
from solver.version import VERSION

BINDING_MM: Final = 20.0
BORDER_MM: Final = 10.0
BLOCK_WIDTH_MM: Final = 180.0
BLOCK_HEIGHT_MM: Final = 27.0
_ROW_MM: Final = 9.0
_NOTE_MM: Final = 2.2


@dataclass(frozen=True)
class Sheet:
    """What one sheet of the drawing says of itself."""

    kind: str
    """ISO 7200's document type."""
    part: str
    scale: str
    number: int
    of: int


@dataclass(frozen=True)
class Space:
    """The room above the title block."""

    left_mm: float
    top_mm: float
    right_mm: float
    bottom_mm: float


def space(job: PaperJob) -> Space:
    """Return the room that is left for drawing and tables."""
    width, height = paper_mm(job.paper, landscape=True)
    return Space(BINDING_MM, BORDER_MM, width - BORDER_MM, height - BORDER_MM - BLOCK_HEIGHT_MM)


def framed(job: PaperJob, sheet: Sheet, measure: Measure) -> tuple[Mark, ...]:
    """Return border, title block, and beside it what was computed."""
    width, height = paper_mm(job.paper, landscape=True)
    border = box(BINDING_MM, BORDER_MM, width - BINDING_MM - BORDER_MM, height - 2.0 * BORDER_MM, "medium")
    x, y = width - BORDER_MM - BLOCK_WIDTH_MM, height - BORDER_MM - BLOCK_HEIGHT_MM
    beside = x - BINDING_MM
    notes: list[Mark] = [line((BINDING_MM, y), (x, y), kind="medium")]
    notes += _fitted(
        sentence_in_units(computed_words(job), job.units), beside - 3.0, (BINDING_MM + 1.5, y + 1.0), measure
    )
    return (border, *notes, *moved(_block(job, sheet, measure), (x, y)))


def _fitted(words: str, width: float, at: tuple[float, float], measure: Measure) -> list[Mark]:
    """Return words in lines above each other, as large as the room beside the block lets them be."""
    for size in (_NOTE_MM, 2.0, 1.8, 1.6, 1.4):
        lines = wrapped(words, width, size, measure)
        if len(lines) * size * 1.25 < BLOCK_HEIGHT_MM - 1.5:
            break
    most = int((BLOCK_HEIGHT_MM - 1.5) / (size * 1.25))
    if len(lines) > most:
        lines = [*lines[: most - 1], lines[most - 1][:-1] + "\u2026"]
    return [Words(text, (at[0], at[1] + size + n * size * 1.25), size) for n, text in enumerate(lines)]


def _block(job: PaperJob, sheet: Sheet, measure: Measure) -> tuple[Mark, ...]:
    rows: tuple[tuple[tuple[float, str, str], ...], ...] = (
        (
            (46, "legal owner", ""),
            (46, "created by", ""),
            (46, "approved by", ""),
            (42, "document type", sheet.kind),
        ),
        (
            (92, "title", plain(job.title)),
            (46, "part", plain(sheet.part)),
            (42, "document number: input hash", job.input_hash[:HASH_SHOWN]),
        ),
        (
            (52, "file", job.file),
            (40, "made with", f"Holdsquare {VERSION}"),
            (24, "revision", ""),
            (22, "scale", sheet.scale),
            (22, "date of issue", job.date),
            (20, "sheet", f"{sheet.number} of {sheet.of}"),
        ),
    )
    marks: list[Mark] = [box(0.0, 0.0, BLOCK_WIDTH_MM, BLOCK_HEIGHT_MM, "medium")]
    for number, row in enumerate(rows):
        y, x = number * _ROW_MM, 0.0
        if number:
            marks.append(line((0.0, y), (BLOCK_WIDTH_MM, y), kind="thin"))
        for width, caption, words in row:
            if x:
                marks.append(line((x, y), (x, y + _ROW_MM), kind="thin"))
            marks.append(Words(caption, (x + 1.0, y + 2.6), 1.8))
            lines, size = _in_cell(words, width - 2.0, measure)
            lowest = y + (7.2 if len(lines) == 1 else 8.0)
            for above, text in enumerate(reversed(lines)):
                marks.append(Words(text, (x + 1.0, lowest - above * size * 1.2), size))
            x += width
    return tuple(marks)


def _in_cell(words: str, width: float, measure: Measure) -> tuple[list[str], float]:
    """Return words in one line or two, and their size; dots tell what has no room at the smallest."""
    for size in (3.0, 2.8, 2.6, 2.4, 2.2, 2.0):
        if measure(words, size, False) <= width:
            return [words], size
    for size in (2.0, 1.8, 1.6, 1.4):
        lines = wrapped(words, width, size, measure)
        if len(lines) <= 2:
            return lines, size
    return [lines[0], f"{lines[1][:-1]}\u2026"], size
