"""The rows of the kept table, and the table as a text file.

Glossary
--------
row      one thing said of one sample at one stage, with its figures: `slip | demand=882.1 | unit="N"`
stage    where in the analysis a row comes from, in the order things are worked out in; what differs first is
         where a change began
figure   a number, kept to twelve digits, or a text, kept as it is

A line is `sample | stage | thing | name=figure | ...`. Lines are sorted, so that a table taken anew differs
from the old one in the lines that changed and no others.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

Figure = float | str

STAGES: Final = (
    "1 inputs",
    "2 findings",
    "3 bolt placing",
    "4 first mesh",
    "5 first solve",
    "6 refined mesh",
    "7 refined solve",
    "8 bands",
    "9 verdict",
)
"""Each sample's stages, in order; the number sorts them in the file too."""

TABLE: Final = Path(__file__).with_name("answers.txt")
DIGITS: Final = 12
"""Enough to see a change of 1e-9, and too few to show rounding in the last place."""

NOUGHT: Final = 1e-12
"""In any unit here: less is the rounding of what should be nought, other on every kind of processor."""

_HEAD: Final = """\
# What the program says of every sample, stage by stage. Made by `python3 tests golden --take`, held against
# the program by `python3 tests golden`. Not a source: it tells that an answer changed, never which is right.
"""
_MADE_WITH: Final = "# made with: "
_BETWEEN: Final = " | "


@dataclass(frozen=True)
class Row:
    """One thing said of one sample at one stage."""

    sample: str
    stage: str
    thing: str
    figures: Mapping[str, Figure]

    @property
    def key(self) -> tuple[str, str, str]:
        """Return what tells a row from every other."""
        return self.sample, self.stage, self.thing

    def line(self) -> str:
        """Return the row as a line of the file."""
        told = [f"{name}={_told(figure)}" for name, figure in self.figures.items()]
        return _BETWEEN.join([self.sample, self.stage, plain(self.thing), *told])


@dataclass(frozen=True)
class Table:
    """All rows, and the libraries that they were worked out with."""

    rows: tuple[Row, ...]
    made_with: str = ""

    def samples(self) -> list[str]:
        """Return the names of the samples it has, sorted."""
        return sorted({row.sample for row in self.rows})

    def of(self, sample: str) -> list[Row]:
        """Return the rows of one sample."""
        return [row for row in self.rows if row.sample == sample]


def text_of(table: Table) -> str:
    """Return the file's text."""
    head = _HEAD + (f"{_MADE_WITH}{table.made_with}\n" if table.made_with else "")
    return head + "".join(f"{line}\n" for line in sorted(row.line() for row in table.rows))


def table_of(text: str) -> Table:
    """Return what `text_of` made a text from; ValueError, naming the line, for anything else."""
    rows, made_with = [], ""
    for number, line in enumerate(text.splitlines(), 1):
        if line.startswith("#") or not line.strip():
            made_with = line.removeprefix(_MADE_WITH) if line.startswith(_MADE_WITH) else made_with
            continue
        try:
            sample, stage, thing, *figures = line.split(_BETWEEN)
            rows.append(Row(sample, stage, thing, dict(_read(figure) for figure in figures)))
        except ValueError as error:
            raise ValueError(f"line {number} of the kept table cannot be read: {line[:80]}") from error
    return Table(tuple(rows), made_with)


def numbered(rows: Iterable[Row]) -> list[Row]:
    """Return rows of which no two have one key: the second of a kind is called `thing #2`, and so on."""
    seen: dict[tuple[str, str, str], int] = {}
    found = []
    for row in rows:
        seen[row.key] = seen.get(row.key, 0) + 1
        again = seen[row.key]
        found.append(row if again == 1 else Row(row.sample, row.stage, f"{row.thing} #{again}", row.figures))
    return found


def kept(figure: Figure) -> Figure:
    """Return a figure as it comes back from the file."""
    return float(_number(figure)) if isinstance(figure, float) else plain(figure)


def plain(text: str) -> str:
    """Return a text without what would be read as the end of it."""
    return text.replace(_BETWEEN, " / ")


def _told(figure: Figure) -> str:
    if isinstance(figure, str):
        return json.dumps(plain(figure), ensure_ascii=False)
    return _number(figure)


def _number(figure: float) -> str:
    return "0" if abs(figure) < NOUGHT else f"{figure:.{DIGITS}g}"


def _read(told: str) -> tuple[str, Figure]:
    name, _, value = told.partition("=")
    if value.startswith('"'):
        return name, str(json.loads(value))
    return name, float(value)
