"""A page of text for the terminal or a pipe: headings, paragraphs, tables, in the width there is.

Piped text is 80 columns wide; a terminal's own width is used otherwise. Colour only ever repeats what words
and shapes say already, and NO_COLOR switches it off.
"""

from __future__ import annotations

import io
import os
import re
import sys
import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final, Literal

from app.wording.figures import Units, plain, sentence_in_units

if TYPE_CHECKING:
    from rich.text import Text

PIPED_WIDTH: Final = 80
_NARROWEST: Final = 40
_NARROWEST_WORDS: Final = 8
"""Columns a column of words keeps beside figures that do not wrap."""
_BEFORE_UNIT: Final = re.compile(r"(?<=\d) (?=(?:%|mm|N|N\.m|kN|MPa|deg|kg|in|lbf|lbf\.ft|ksi)(?![\w/]))")


class Page:
    """Collects text; `text` is what to write."""

    def __init__(self, *, width: int, terminal: bool, ascii_only: bool, units: Units = "mm") -> None:
        """Start an empty page of that width in columns, with styles only for a terminal.

        For an inch reader paragraphs get the inch figure after each metric quantity.
        """
        from rich.console import Console

        self.width = max(width, _NARROWEST)
        self.ascii_only = ascii_only
        self._units = units
        self._file = io.StringIO()
        self._console = Console(
            file=self._file,
            width=self.width,
            force_terminal=terminal,
            markup=False,
            emoji=False,
            highlight=False,
            soft_wrap=False,
        )

    @property
    def text(self) -> str:
        """Return everything on the page, without the spaces that fill up table rows."""
        return "\n".join(line.rstrip() for line in self._file.getvalue().split("\n"))

    def blank(self) -> None:
        """Leave a line free."""
        self._file.write("\n")

    def line(self, text: str, style: str = "", indent: int = 0) -> None:
        """Write one paragraph, wrapped, all its lines indented alike."""
        self.hanging("", text, style=style, indent=indent)

    def hanging(self, lead: str, text: str, *, style: str = "", indent: int = 0) -> None:
        """Write a paragraph after a lead such as a bullet; further lines stand under the first's text."""
        margin = " " * indent + plain(lead)
        room = max(self.width - len(margin), 20)
        told = sentence_in_units(plain(text), self._units)
        lines = [w for part in told.split("\n") for w in _wrapped(part, room)]
        for i, piece in enumerate(lines):
            self.styled((margin if i == 0 else " " * len(margin), ""), (piece, style))

    def rule(self) -> None:
        """Draw a line across the page, with free lines about it."""
        self._file.write("\n" + ("-" if self.ascii_only else "\u2500") * self.width + "\n\n")

    def heading(self, text: str) -> None:
        """Write a heading, with a free line above it."""
        self.blank()
        self.line(text, style="bold")

    def bullets(self, texts: Iterable[str], mark: str = "-") -> None:
        """Write each text as a bulleted paragraph."""
        for text in texts:
            self.hanging(f"  {mark} ", text)

    def styled(self, *pieces: tuple[str, str]) -> None:
        """Write one line of (text, style) pieces as it stands; it has to fit already."""
        self._print(*pieces)

    def table(self, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """Write a table; a column whose name starts with `>` stands to the right.

        Long words are wrapped inside their column, never cut off.
        """
        from rich.table import Table

        rows = [tuple(row) for row in rows]
        whole = self._whole_figures_fit(columns, rows)
        table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False, header_style="underline")
        for name in columns:
            right = name.startswith(">")
            justify: Literal["left", "right"] = "right" if right else "left"
            table.add_column(
                name.removeprefix(">"), justify=justify, overflow="fold", no_wrap=right and whole
            )
        for row in rows:
            table.add_row(*(_cell(value) for value in row))
        self._indented(table)

    def _whole_figures_fit(self, columns: Sequence[str], rows: Sequence[Sequence[str]]) -> bool:
        """Return whether columns to the right fit unwrapped: where not, what is not wrapped would be cut."""
        wide = 2
        for place, name in enumerate(columns):
            longest = max(map(len, (name.removeprefix(">"), *(row[place] for row in rows))))
            wide += 2 + (longest if name.startswith(">") else min(longest, _NARROWEST_WORDS))
        return wide <= self.width

    def _indented(self, table: object) -> None:
        from rich.padding import Padding

        self._console.print(Padding(table, (0, 0, 0, 2)))  # type: ignore[arg-type]

    def _print(self, *pieces: tuple[str, str]) -> None:
        from rich.text import Text

        text = Text(no_wrap=True, overflow="ignore")
        for piece, style in pieces:
            text.append(plain(piece), style=style or None)
        text.rstrip()
        self._console.print(text, no_wrap=True, overflow="ignore", crop=False)


def page_for_stdout(units: Units = "mm") -> Page:
    """Return an empty page that suits where standard output goes, its paragraphs told in those units."""
    terminal = sys.stdout.isatty()
    width = os.get_terminal_size(sys.stdout.fileno()).columns if terminal else PIPED_WIDTH
    boxes = _draws_boxes(sys.stdout.encoding)
    return Page(width=width or PIPED_WIDTH, terminal=terminal, ascii_only=not boxes, units=units)


def say(text: str) -> None:
    """Write to standard output; a reader that has gone away, as `head` does, is no error."""
    try:
        sys.stdout.write(text if text.endswith("\n") else text + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        _let_go(sys.stdout.fileno())


def complain(text: str) -> None:
    """Write one sentence or more to standard error, wrapped for reading."""
    width = PIPED_WIDTH
    if sys.stderr.isatty():
        width = os.get_terminal_size(sys.stderr.fileno()).columns or PIPED_WIDTH
    lines = [
        w
        for part in plain(text).split("\n")
        for w in textwrap.wrap(part, width, break_long_words=False, break_on_hyphens=False) or [""]
    ]
    try:
        sys.stderr.write("\n".join(lines) + "\n")
        sys.stderr.flush()
    except BrokenPipeError:
        _let_go(sys.stderr.fileno())


def _wrapped(text: str, room: int) -> list[str]:
    """Return the lines of a paragraph, no number parted from its unit."""
    joined = _BEFORE_UNIT.sub("\u00a0", text)
    return [
        line.replace("\u00a0", " ") for line in textwrap.wrap(joined, room, break_on_hyphens=False) or [""]
    ]


def _cell(value: str) -> Text:
    from rich.text import Text

    return Text(plain(value))


def _draws_boxes(encoding: str | None) -> bool:
    try:
        "\u2554\u2550\u254c".encode(encoding or "ascii")
    except (LookupError, UnicodeEncodeError):
        return False
    return True


def _let_go(descriptor: int) -> None:
    # the interpreter flushes once more at its end: let that go nowhere instead of raising again
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, descriptor)
    os.close(nowhere)
