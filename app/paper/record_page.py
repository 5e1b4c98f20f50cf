"""One page of the record on paper: the letter of open items, and the sheet to fill by hand at the car.

It is always one page: letters grow smaller until all fits, and what still does not is counted at the end.
"""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from app.paper.page import LineKind, Mark, Measure, Page, Words, box, line, moved, paper_mm
from app.paper.pdf import PaperError, pdf_bytes, ready, width_mm
from app.paper.tables import wrapped
from app.record.letter import PaperLine, PaperSection, PaperSheet
from geometry.file_replacing import replace_file

_MARGIN_MM: Final = 16.0
_SIZES_MM: Final = tuple(pt * 25.4 / 72.0 for pt in (10.0, 9.5, 9.0, 8.5, 8.0, 7.5, 7.0, 6.5, 6.0))
_LEADING: Final = 1.17
"""From line to line, and what a line stands above it, as shares of the size of letters."""
_ASCENT: Final = 0.93
_DESCENT: Final = 0.24
_FOOT_SIZE: Final = 0.82
"""Of the letters at the foot, as a share of the others."""
_BOX_ROOM: Final = 0.22
"""Of a line's width, for its boxes."""
_BLANK_ROOM: Final = 0.24
_SIGNED_ROOM: Final = 0.9
"""Of a line to sign on, for the words under it."""
_ROUNDING_MM: Final = 1e-6
_SHORT_ROWS: Final = 2
"""Lines with nothing but a blank stand in this many columns."""


class PaperNotWritten(OSError):  # noqa: N818 - a refusal with its reason
    """A page that cannot be written; the message says where and what to do."""


def write_page(sheet: PaperSheet, path: Path) -> None:
    """Write one page as a PDF in one step; PaperNotWritten if it cannot be. No display is needed."""
    try:
        replace_file(path.resolve(), page_bytes(sheet), keep_previous=False)
    except (OSError, ValueError, RuntimeError, PaperError) as error:
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        raise PaperNotWritten(
            f"{path} cannot be written ({reason}): name a PDF in a folder you may write to"
        ) from error


def page_bytes(sheet: PaperSheet) -> bytes:
    """Return one page of A4 as the bytes of a PDF."""
    ready()
    return pdf_bytes((laid_page(sheet, width_mm),), sheet.title)


def laid_page(sheet: PaperSheet, measure: Measure) -> Page:
    """Return one page of A4."""
    wide, high = paper_mm("A4")
    room = _Room(0.0, 0.0, wide - 2.0 * _MARGIN_MM, high - 2.0 * _MARGIN_MM)
    for size in _SIZES_MM:
        page = _Page(room, size, measure)
        if page.height_of(sheet) <= room.height:
            break
    return Page(wide, high, moved(page.drawn(sheet), (_MARGIN_MM, _MARGIN_MM)))


@dataclass(frozen=True)
class _Room:
    left: float
    top: float
    width: float
    height: float = 0.0

    @property
    def right(self) -> float:
        return self.left + self.width


@dataclass
class _Page:
    """Lays one sheet out in letters of one size; measuring and drawing are the same walk."""

    room: _Room
    size_mm: float
    measure: Measure
    y: float = 0.0
    drawing: bool = False
    marks: list[Mark] = field(default_factory=list)

    def height_of(self, sheet: PaperSheet) -> float:
        """Return how high the sheet would be."""
        self.y, self.drawing = 0.0, False
        self._head(sheet)
        for section in sheet.sections:
            self._section(section)
        return self.y + self._foot_height(sheet)

    def drawn(self, sheet: PaperSheet) -> tuple[Mark, ...]:
        """Return the marks; of sections that do not fit it says how many lines there are more."""
        # room for the sentence about what is left out is kept only where something is
        spare = 0.0 if self.height_of(sheet) <= self.room.height else 2 * self._leading
        self.y, self.drawing = 0.0, True
        self._head(sheet)
        bottom = self.room.height - self._foot_height(sheet) - spare + _ROUNDING_MM
        left_out = 0
        for section in sheet.sections:
            if left_out or not self._fits(section, bottom):
                left_out += len(section.lines)
            else:
                self._section(section)
        if left_out:
            self._words(f"{left_out} lines more do not fit on this page: read them in the record.", bold=True)
        self._foot(sheet)
        return tuple(self.marks)

    @property
    def _leading(self) -> float:
        return self.size_mm * _LEADING

    def _long(self, words: str) -> float:
        return self.measure(words, self.size_mm, False)

    def _fits(self, section: PaperSection, bottom: float) -> bool:
        before = self.y
        self.drawing = False
        self._section(section)
        fits = self.y <= bottom
        self.y, self.drawing = before, True
        return fits

    def _head(self, sheet: PaperSheet) -> None:
        self._words(sheet.title, bold=True, size=1.7)
        for words in sheet.under_title:
            self._words(words)
        self._rule()

    def _section(self, section: PaperSection) -> None:
        if not section.lines:
            return
        self.y += self._leading * 0.45
        self._words(section.heading, bold=True)
        short = [one for one in section.lines if one.blank.strip() and not one.boxes]
        if len(short) == len(section.lines):
            self._short_lines(section.lines)
            return
        for one in section.lines:
            self._line(one)

    def _line(self, one: PaperLine) -> None:
        indent = self._long("00  ")
        wide = self.room.width - indent
        after = (_BOX_ROOM if one.boxes else 0.0) + (_BLANK_ROOM if one.blank else 0.0)
        top = self.y
        gap = self.size_mm if after else 0.0
        words = _Room(indent, top, wide * (1.0 - after) - gap)
        high = self._put(one.words, words)
        if one.mark:
            self._put(one.mark, _Room(0.0, top, indent))
        if one.boxes:
            self._boxes(one.boxes, _Room(indent + wide * (1.0 - after), top, wide * _BOX_ROOM))
        if one.blank:
            self._blank(one.blank, _Room(indent + wide * (1.0 - _BLANK_ROOM), top, wide * _BLANK_ROOM))
        self.y = top + high + self._leading * 0.14

    def _short_lines(self, lines: tuple[PaperLine, ...]) -> None:
        """Draw lines that are only words and a blank side by side."""
        gap = self._long("000")
        column = (self.room.width - gap * (_SHORT_ROWS - 1)) / _SHORT_ROWS
        for first in range(0, len(lines), _SHORT_ROWS):
            top, high = self.y, 0.0
            for place, one in enumerate(lines[first : first + _SHORT_ROWS]):
                left = place * (column + gap)
                words = _Room(left, top, column * 0.68)
                here = self._put(one.words, words)
                self._blank(one.blank, _Room(left + column * 0.7, top, column * 0.3))
                high = max(high, here)
            self.y = top + high + self._leading * 0.3

    def _boxes(self, words: tuple[str, ...], room: _Room) -> None:
        if not self.drawing:
            return
        side = _ASCENT * self.size_mm * 0.8
        x = room.left
        for word in words:
            base = room.top + _ASCENT * self.size_mm
            self.marks.append(box(x, base - side, side, side))
            self._put(word, _Room(x + side * 1.35, room.top, room.width))
            x += side * 1.35 + self._long(word) + side * 0.8

    def _blank(self, unit: str, room: _Room) -> None:
        if not self.drawing:
            return
        base = room.top + _ASCENT * self.size_mm + _DESCENT * self.size_mm * 0.5
        after = self._long(f" {unit}") if unit.strip() else 0.0
        self._stroke(room.left, base, room.right - after)
        if unit.strip():
            self._put(unit, _Room(room.right - after * 0.9, room.top, after * 2))

    def _foot_height(self, sheet: PaperSheet) -> float:
        drawing, self.drawing = self.drawing, False
        high = self._put(" ".join(sheet.foot), self.room, size=_FOOT_SIZE)
        self.drawing = drawing
        return high + self._leading * 3.1 + self._signed_height(sheet)

    def _signed_height(self, sheet: PaperSheet) -> float:
        """Return how high the words under the lines to sign on stand, with the gap below: a name may wrap."""
        drawing, self.drawing = self.drawing, False
        room = _Room(0.0, 0.0, self.room.width / len(sheet.signed) * _SIGNED_ROOM)
        high = max(self._put(words, room) for words in sheet.signed)
        self.drawing = drawing
        return high + self._leading * 0.5

    def _foot(self, sheet: PaperSheet) -> None:
        self.y = self.room.height - self._foot_height(sheet) + self._leading * 2.4
        wide = self.room.width / len(sheet.signed)
        for place, words in enumerate(sheet.signed):
            left = place * wide
            self._stroke(left, self.y, left + wide * 0.88)
            self._put(words, _Room(left, self.y, wide * _SIGNED_ROOM))
        self.y += self._signed_height(sheet)
        self._words(" ".join(sheet.foot), size=_FOOT_SIZE)

    def _rule(self) -> None:
        self.y += self._leading * 0.25
        if self.drawing:
            self._stroke(0.0, self.y, self.room.width, "medium")
        self.y += self._leading * 0.1

    def _stroke(self, left: float, y: float, right: float, kind: LineKind = "thin") -> None:
        self.marks.append(line((left, y), (right, y), kind=kind))

    def _words(self, text: str, *, bold: bool = False, size: float = 1.0) -> None:
        self.y += self._put(text, _Room(0.0, self.y, self.room.width), bold=bold, size=size)

    def _put(self, text: str, room: _Room, *, bold: bool = False, size: float = 1.0) -> float:
        """Draw words in a room, or only measure them; return how high they are."""
        em = self.size_mm * size
        lines = wrapped(text, room.width, em, self.measure, bold=bold)
        if self.drawing:
            first = room.top + _ASCENT * em
            self.marks += [
                Words(words, (room.left, first + n * _LEADING * em), em, bold=bold)
                for n, words in enumerate(lines)
            ]
        return len(lines) * _LEADING * em
