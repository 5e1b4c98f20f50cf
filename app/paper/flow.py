"""Headings, paragraphs, tables and figures one under the other, over as many pages as they need. No Qt."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from app.paper.page import BODY_MM, LEADING, SMALL_MM, Figure, Mark, Measure, Page, Words, line, moved
from app.paper.tables import Table, laid_rows, wrapped
from app.wording.figures import Units, sentence_in_units

Dressed = Callable[[int, int], tuple[Mark, ...]]
"""(page, of so many) to what stands on every page: title and foot."""


@dataclass(frozen=True)
class Room:
    """A page and the box on it that the flow fills."""

    width_mm: float
    height_mm: float
    left_mm: float
    top_mm: float
    right_mm: float
    bottom_mm: float

    @property
    def across_mm(self) -> float:
        """Return the width of the box."""
        return self.right_mm - self.left_mm


class Flow:
    """Fills pages from the top; `pages` is what came of it."""

    def __init__(self, room: Room, measure: Measure, units: Units = "mm") -> None:
        """Begin on an empty page; with inches every quantity in words has its inch figure after it."""
        self.room, self.measure, self.units = room, measure, units
        self._pages: list[list[Mark]] = [[]]
        self._y = room.top_mm

    @property
    def left_over_mm(self) -> float:
        """Return how much of the page is still free."""
        return self.room.bottom_mm - self._y

    @property
    def used_share(self) -> float:
        """Return how much of the page is filled, 0 to 1."""
        return (self._y - self.room.top_mm) / (self.room.bottom_mm - self.room.top_mm)

    def gap(self, mm: float) -> None:
        """Leave some room."""
        self._y += mm

    def turn(self) -> None:
        """Begin another page, unless this one is empty."""
        if self._pages[-1]:
            self._pages.append([])
        self._y = self.room.top_mm

    def heading(self, words: str, keep_mm: float = 14.0, size_mm: float = BODY_MM * 1.2) -> None:
        """Write a heading that is never left alone at the foot of a page."""
        self._need(size_mm * 1.1 + 3.0 + keep_mm)
        if self._pages[-1]:
            self.gap(2.2)
        self.paragraph(words, size_mm=size_mm, bold=True)
        self.gap(0.6)

    def paragraph(
        self,
        words: str,
        *,
        size_mm: float = BODY_MM,
        bold: bool = False,
        italic: bool = False,
        lead: str = "",
        indent_mm: float = 0.0,
    ) -> None:
        """Write a paragraph, after a lead such as a number that stands out to its left."""
        words = sentence_in_units(words, self.units)
        step = size_mm * LEADING
        x = self.room.left_mm + indent_mm
        lines = wrapped(words, self.room.right_mm - x, size_mm, self.measure, bold=bold)
        for number, text in enumerate(lines):
            self._need(step)
            base = self._y + size_mm
            if lead and number == 0:
                self._put([Words(lead, (self.room.left_mm, base), size_mm, bold=True)])
            self._put([Words(text, (x, base), size_mm, bold=bold, italic=italic)])
            self._y += step
        self.gap(0.35 * step)

    def steps(self, texts: Iterable[str], *, first: int = 1, size_mm: float = BODY_MM) -> None:
        """Write numbered steps."""
        for number, text in enumerate(texts, start=first):
            self.paragraph(text, lead=f"{number}", indent_mm=7.0, size_mm=size_mm)

    def bullets(self, texts: Iterable[str], *, size_mm: float = SMALL_MM, mark: str = "\u2013") -> None:
        """Write each text after a mark."""
        for text in texts:
            self.paragraph(text, lead=mark, indent_mm=4.0, size_mm=size_mm)

    def table(self, table: Table) -> None:
        """Write a table; its heading is written again on every page it runs on to."""
        told = tuple(tuple(sentence_in_units(cell, self.units) for cell in row) for row in table.rows)
        head, *rows = laid_rows(replace(table, rows=told), self.room.across_mm, self.measure)
        self._need(head.height_mm + (rows[0].height_mm if rows else 0.0))
        self._lay(head.marks, head.height_mm)
        for row in rows:
            if row.height_mm > self.left_over_mm:
                self.turn()
                self._lay(head.marks, head.height_mm)
            self._lay(row.marks, row.height_mm)
        self.gap(2.0)

    def figure(self, figure: Figure) -> None:
        """Put a figure in the middle."""
        self._need(figure.height_mm)
        x = self.room.left_mm + max(0.0, (self.room.across_mm - figure.width_mm) / 2.0)
        self._put(moved(figure.marks, (x, self._y)))
        self._y += figure.height_mm + 2.0

    def rule(self) -> None:
        """Draw a line across."""
        self._put([line((self.room.left_mm, self._y), (self.room.right_mm, self._y), kind="hair")])
        self.gap(1.5)

    def pages(self, dressed: Dressed) -> tuple[Page, ...]:
        """Return the pages with what stands on every one; an empty last one is left out."""
        filled = [marks for marks in self._pages if marks]
        return tuple(
            Page(self.room.width_mm, self.room.height_mm, (*dressed(number, len(filled)), *marks))
            for number, marks in enumerate(filled, start=1)
        )

    def _lay(self, marks: Iterable[Mark], height: float) -> None:
        self._put(moved(marks, (self.room.left_mm, self._y)))
        self._y += height

    def _put(self, marks: Iterable[Mark]) -> None:
        self._pages[-1].extend(marks)

    def _need(self, mm: float) -> None:
        if mm > self.left_over_mm + 1e-6:
            self.turn()
