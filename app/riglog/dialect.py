"""How a log is written: what parts its cells, its decimal sign, where its columns are named.

Glossary
--------
cell        what stands between two separators
preamble    lines above the columns' names, such as a date or the rig's own number
unit row    a line between names and numbers that gives each column's unit
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.riglog.log_error import LogError
from geometry.one_line import on_one_line

MOST_COLUMNS: Final = 200
SPACES: Final = r"\s+"
GAP_WORDS: Final = frozenset({"", "na", "n/a", "nan", "null", "none", "-nan", "<na>", "#n/a"})
"""Cells in small letters that stand for a missing reading."""
_SAMPLE_LINES: Final = 200
_LONGEST_LINE: Final = 20_000
_WAYS: Final = (
    (";", ","),
    (";", "."),
    ("\t", ","),
    ("\t", "."),
    (",", "."),
    ("|", "."),
    ("|", ","),
    (SPACES, "."),
    (SPACES, ","),
)
"""Separator and decimal sign, in the order that wins a tie."""
_NUMBER: Final = {
    # Digits are taken in one way only: thousands of them before a letter would be tried split in every place.
    ".": re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?"),
    ",": re.compile(r"[+-]?(\d+(,\d*)?|,\d+)([eE][+-]?\d+)?"),
}


@dataclass(frozen=True)
class Dialect:
    """How one log is written."""

    separator: str
    decimal: str
    names: tuple[str, ...]
    """Of the columns, each once; `column 1` and so on where the log names none."""
    units: tuple[str, ...]
    """What the log itself gives as each column's unit; empty where it gives none."""
    first_line: int
    """Line the numbers begin on, counted from 0."""


def dialect_of(text: str, *, whole: bool = True) -> Dialect:
    """Return how a log is written that begins with this text; LogError if it is no table of numbers.

    `whole` tells that the text ends where the log ends, so its last line is complete.
    """
    lines = text.replace("\r\n", "\n").split("\n")
    if not whole or not lines[-1].strip():
        lines = lines[:-1]
    lines = lines[:_SAMPLE_LINES]
    if not any(line.strip() for line in lines):
        raise LogError("The log is empty: give one with a line of names and a line for each reading.")
    if any(len(line) > _LONGEST_LINE for line in lines):
        raise LogError(
            f"A line of the log is longer than {_LONGEST_LINE} letters: it is no table of readings."
        )
    found = [(_score(lines, *way), -order, way) for order, way in enumerate(_WAYS)]
    score, _, (separator, decimal) = max(found)
    if score[0] == 0:
        raise LogError(
            "There are no rows of numbers in the log: give a CSV file with a line for each reading."
        )
    return _described(lines, separator, decimal)


def split_line(line: str, separator: str) -> list[str]:
    """Return the cells of one line, without spaces about them and without quotes.

    LogError if a cell is longer than any reading.
    """
    if separator == SPACES:
        return line.split()
    try:
        return [cell.strip() for cell in next(csv.reader([line], delimiter=separator), [])]
    except csv.Error as error:
        raise LogError(f"A line of the log is no table row ({error}): mend it or take it out.") from error


def is_number(cell: str, decimal: str) -> bool:
    """Return whether a cell is a number, or stands for one that is missing."""
    return cell.casefold() in GAP_WORDS or _NUMBER[decimal].fullmatch(cell) is not None


def _score(lines: Sequence[str], separator: str, decimal: str) -> tuple[int, int, int]:
    """Return how well the way fits: rows all of numbers and of one width, names that fit it, width."""
    split = [split_line(line, separator) for line in lines if line.strip()]
    sound = [cells for cells in split if any(cells) and all(is_number(cell, decimal) for cell in cells)]
    # one text cell in a row must not make another separator win: such a row counts by its numbers
    partly = [cells for cells in split if sum(_is_reading(cell, decimal) for cell in cells) * 2 > len(cells)]
    if not partly:
        return 0, 0, 0
    width, count = Counter(len(cells) for cells in partly).most_common(1)[0]
    exact = sum(len(cells) == width for cells in sound)
    named = int(any(len(cells) == width and cells not in partly for cells in split))
    return (count + exact) * min(width, 2), named, width


def _is_reading(cell: str, decimal: str) -> bool:
    return _NUMBER[decimal].fullmatch(cell) is not None


def _described(lines: Sequence[str], separator: str, decimal: str) -> Dialect:
    split = [split_line(line, separator) for line in lines]
    numeric = [
        bool(cells) and sum(_is_reading(cell, decimal) for cell in cells) * 2 > len(cells) for cells in split
    ]
    width = Counter(len(cells) for cells, good in zip(split, numeric, strict=True) if good).most_common(1)[0][
        0
    ]
    first = next(k for k, good in enumerate(numeric) if good and len(split[k]) == width)
    if width > MOST_COLUMNS:
        raise LogError(f"The log has {width} columns, and {MOST_COLUMNS} are read: write fewer.")
    above = [cells for cells in split[:first] if any(cells)]
    fitting = [cells for cells in above[-2:] if _fits(cells, width)]
    names, units = _names_and_units(fitting, width)
    return Dialect(separator, decimal, names, units, first)


def _fits(cells: Sequence[str], width: int) -> bool:
    return len(cells) == width or (len(cells) == width - 1 and width > 2)


def _names_and_units(rows: Sequence[Sequence[str]], width: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    if not rows:
        return tuple(f"column {k + 1}" for k in range(width)), ("",) * width
    two = len(rows) == 2 and all(len(cell) <= 12 for cell in rows[1])
    raw = [on_one_line(cell) for cell in (*(rows[0] if two else rows[-1]), "")][:width]
    units = [on_one_line(cell) for cell in (*rows[1], "")][:width] if two else [""] * width
    names: list[str] = []
    for k, cell in enumerate(raw):
        name = cell.lstrip("#").strip()[:80] or f"column {k + 1}"
        names.append(name if name not in names else f"{name} ({k + 1})")
    return tuple(names), tuple(
        unit.strip("[]() ") or unit_in(name) for name, unit in zip(names, units, strict=True)
    )


def unit_in(name: str) -> str:
    """Return the unit that stands in brackets in a column's name, such as `torque [N.m]`; empty if none."""
    found = re.search(r"[\[(]\s*([^\[\]()]{1,12}?)\s*[\])]", name)
    return found[1] if found and not found[1].isdigit() else ""
