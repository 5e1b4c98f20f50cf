"""A log's rows as numbers; the one file that reads with pandas.

Nothing in a log is ever carried out: a formula is a text cell like any other.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from app.riglog.dialect import GAP_WORDS, SPACES, Dialect, dialect_of, split_line
from app.riglog.log_error import LogError

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]

MOST_BYTES: Final = 256 * 1024 * 1024
MOST_ROWS: Final = 5_000_000
MOST_CELLS: Final = 30_000_000
SAMPLE_BYTES: Final = 64 * 1024
_MOST_TOLD: Final = 20
_MOST_TEXT: Final = 5_000_000
_CELLS_A_PIECE: Final = 1_000_000
_LARGEST: Final = 1e20
"""No reading is larger, time in ns since 1970 included; the square of one such may not be finite."""


@dataclass(frozen=True)
class TextCell:
    """A cell that is no number, or an absurd one."""

    line: int
    """In the file, counted from 1."""
    column: str
    text: str


@dataclass(frozen=True)
class Table:
    """The rows of a log as they stand in it."""

    dialect: Dialect
    values: Floats
    """(rows, columns) as written, in the log's own units; NaN where a cell is missing or no number."""
    text_cells: tuple[TextCell, ...] = ()
    """The first twenty of them."""
    text_count: int = 0
    name: str = ""
    """Of the file."""

    @property
    def names(self) -> tuple[str, ...]:
        """Return the columns' names."""
        return self.dialect.names

    def line_of(self, row: int) -> int:
        """Return the line of the file that a row stands on, counted from 1."""
        return self.dialect.first_line + 1 + int(row)


def read_table(path: Path) -> Table:
    """Return the rows of a log; LogError, in a sentence, if it cannot be read as one."""
    return table_of(log_bytes(path), path.name)


def log_bytes(path: Path) -> bytes:
    """Return what is in the file; LogError if it cannot be read or is too large."""
    try:
        with path.open("rb") as stream:
            content = stream.read(MOST_BYTES + 1)
    except FileNotFoundError as error:
        raise LogError(f"There is no file {path}: name a CSV file.") from error
    except IsADirectoryError as error:
        raise LogError(f"{path} is a folder: name a CSV file in it.") from error
    except (OSError, ValueError) as error:
        raise LogError(
            f"{path} cannot be read ({getattr(error, 'strerror', None) or error}): name a CSV file."
        ) from error
    if len(content) > MOST_BYTES:
        raise LogError(
            f"{path.name} is larger than {MOST_BYTES // 1024 // 1024} MB: cut the log into shorter ones."
        )
    return content


def table_of(content: bytes, name: str = "log") -> Table:
    """Return the rows in the bytes of a whole log; LogError if there are none."""
    refuse_binary(content, name)
    content = with_plain_ends(content)
    try:
        dialect = dialect_of(text_of(content[:SAMPLE_BYTES]), whole=len(content) <= SAMPLE_BYTES)
    except LogError as error:
        raise LogError(f"{name}: {error}") from error
    content = from_line(content, dialect.first_line)  # under the old name: what was read is let go
    table = rows_of(content, dialect, dialect.first_line, name)
    if len(table.values) == 0:
        raise LogError(f"{name}: there are no rows of numbers in the log: record some.")
    return table


def with_plain_ends(content: bytes) -> bytes:
    """Return bytes whose lines all end the same way: logs joined by hand hold several."""
    return content.replace(b"\r\n", b"\n").replace(b"\r", b"\n") if b"\r" in content else content


def refuse_binary(content: bytes, name: str) -> None:
    """Raise LogError if the bytes are no text."""
    if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise LogError(f"{name} is written in UTF-16: save it as CSV in UTF-8.")
    if b"\0" in content[:SAMPLE_BYTES]:
        raise LogError(f"{name} is no text but a binary file: save the log as CSV.")


def text_of(content: bytes) -> str:
    """Return bytes as text; what is no UTF-8 is read as the older Western code page."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if error.start > len(content) - 4:  # cut through a letter
            return content[: error.start].decode("utf-8-sig")
        return content.decode("cp1252", errors="replace")


def rows_of(body: bytes, dialect: Dialect, lines_above: int, name: str) -> Table:
    """Return the rows in bytes that hold rows alone; LogError, naming the line, for one with too many."""
    width = len(dialect.names)
    if not body or body.isspace():
        return Table(dialect, np.zeros((0, width)), name=name)
    first = len(split_line(text_of(body[: body.find(b"\n") + 1 or None]).strip("\r\n"), dialect.separator))
    if first > width + 1:  # pandas would cut such a first line short without a word
        raise _too_many(name, lines_above + 1, first, width)
    pieces: list[Floats] = []
    told: list[TextCell] = []
    count, above = 0, lines_above
    for frame in _frames(body, dialect, lines_above, name):
        over = np.flatnonzero(frame[width].notna().to_numpy())
        if len(over):
            raise _too_many(name, above + 1 + int(over[0]), width + 1, width)
        values, texts, more = _figures(frame, dialect, above)
        pieces.append(values)
        told += texts[: _MOST_TOLD - len(told)]
        count += more
        above += len(frame)
        if count > _MOST_TEXT:
            raise LogError(
                f"{name} has more than {_MOST_TEXT:,} cells that are no numbers: log readings alone."
            )
        rows = above - lines_above
        if rows > MOST_ROWS:
            raise LogError(f"{name} has more than {MOST_ROWS:,} rows: cut the log into shorter ones.")
        if rows * width > MOST_CELLS:
            raise LogError(f"{name} has more than {MOST_CELLS:,} cells: log fewer columns, or cut the log.")
    return Table(dialect, _without_blank_end(_joined(pieces, width)), tuple(told), count, name)


def _joined(pieces: list[Floats], width: int) -> Floats:
    """Return the pieces in one, each let go as it is taken over."""
    whole = np.empty((sum(map(len, pieces)), width))
    end = len(whole)
    while pieces:
        piece = pieces.pop()
        whole[end - len(piece) : end] = piece
        end -= len(piece)
    return whole


def _figures(frame: Any, dialect: Dialect, lines_above: int) -> tuple[Floats, list[TextCell], int]:  # noqa: ANN401
    """Return the rows of a piece as numbers, its first text cells by line, and how many there are."""
    width = len(dialect.names)
    values = np.full((len(frame), width), np.nan)
    told: list[TextCell] = []
    count = 0
    for k in range(width):
        series = frame[k]
        if series.dtype.kind in "fiu":
            values[:, k], bad = _not_absurd(series.to_numpy(dtype=float))
        else:
            values[:, k], bad = _numbers(series, dialect.decimal)
        count += len(bad)
        for row in bad[:_MOST_TOLD].tolist():
            told.append(TextCell(lines_above + 1 + row, dialect.names[k], str(series.iloc[row])[:40]))
    return values, sorted(told, key=lambda cell: cell.line)[:_MOST_TOLD], count


def from_line(content: bytes, line: int) -> bytes:
    """Return bytes from a line on, counted from 0; without the mark that may stand before the first."""
    place = 0
    for _ in range(line):
        place = content.index(b"\n", place) + 1
    return content[place:] if line else content.removeprefix(b"\xef\xbb\xbf")


def _frames(body: bytes, dialect: Dialect, lines_above: int, name: str) -> Iterator[Any]:
    """Yield the rows piece by piece: cells of text take many times their size in the file."""
    import pandas

    width = len(dialect.names)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a column of numbers and text is told in our own words
            yield from pandas.read_csv(
                io.BytesIO(body),
                sep=dialect.separator,
                decimal=dialect.decimal,
                header=None,
                # one more, for a separator at the end of every line
                names=range(width + 1),
                index_col=False,
                skip_blank_lines=False,
                skipinitialspace=dialect.separator != SPACES,
                chunksize=max(1_000, _CELLS_A_PIECE // width),
                # a column that is text in one piece and numbers in the next is read as it is in each
                encoding="utf-8",
                encoding_errors="replace",
                low_memory=False,
            )
    except pandas.errors.ParserError as error:
        found = re.search(r"Expected (\d+) fields in line (\d+), saw (\d+)", str(error))
        if found is None:
            raise LogError(f"{name} breaks off inside a quoted cell: mend the last line.") from error
        raise _too_many(name, int(found[2]) + lines_above, int(found[3]), width) from error


def _too_many(name: str, line: int, cells: int, width: int) -> LogError:
    return LogError(
        f"{name}: line {line} has {cells} cells where the others have {width}: mend that line or take it out."
    )


def _numbers(series: Any, decimal: str) -> tuple[Floats, Places]:  # noqa: ANN401 - pandas has no types
    """Return a column that is not all numbers as numbers, and the rows of those that are none."""
    import pandas

    # Each text once: a column of words has few of them, millions of times.
    which, cells = pandas.factorize(series)
    texts = pandas.Series(cells).astype(str).str.strip()
    if decimal == ",":
        texts = texts.str.replace(",", ".", regex=False)
    numbers, _ = _not_absurd(pandas.to_numeric(texts, errors="coerce").to_numpy(dtype=float))
    missing = texts.str.casefold().isin(GAP_WORDS).to_numpy()
    # Last what a cell without anything in it is, which `which` calls -1.
    numbers, missing = np.append(numbers, np.nan), np.append(missing, True)
    bad = np.flatnonzero(~np.isfinite(numbers[which]) & ~missing[which])
    return numbers[which], bad


def _not_absurd(numbers: Floats) -> tuple[Floats, Places]:
    """Return the numbers without absurd ones, and the rows of those."""
    absurd = np.abs(numbers) > _LARGEST
    return np.where(absurd, np.nan, numbers), np.flatnonzero(absurd)


def _without_blank_end(values: Floats) -> Floats:
    kept = np.flatnonzero(np.isfinite(values).any(axis=1))
    return values[: kept[-1] + 1] if len(kept) else values[:0]
