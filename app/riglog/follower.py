"""A log that grows: only what was added is read, and a line half written waits."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from app.riglog.dialect import Dialect, dialect_of
from app.riglog.log_error import LogError
from app.riglog.reading import (
    MOST_ROWS,
    SAMPLE_BYTES,
    Table,
    from_line,
    refuse_binary,
    rows_of,
    text_of,
    with_plain_ends,
)

MOST_A_POLL: Final = 64 * 1024 * 1024
"""Bytes; the rest comes with the next poll."""
_HEAD_BYTES: Final = 512


@dataclass(frozen=True)
class Added:
    """What a poll found."""

    rows: Table | None
    """None until the columns' names and a first row are there, or if nothing was added."""
    told: str = ""
    """What became of the file, in a sentence; empty if it only grew."""
    afresh: bool = False
    """Whether rows read before are no longer those of the file."""


class Follower:
    """Reads one growing log; `poll` as often as wanted."""

    def __init__(self, path: Path) -> None:
        """Follow the file from its beginning; it need not be there yet."""
        self._path = path
        self._begin()

    def poll(self) -> Added:
        """Return the rows added since the last poll; LogError if what was added is no rows."""
        try:
            with self._path.open("rb") as stream:
                told = self._changed(stream.read(_HEAD_BYTES), self._path.stat().st_size)
                if told:
                    self._begin()
                stream.seek(0)
                self._head = stream.read(_HEAD_BYTES)
                stream.seek(self._read)
                added = stream.read(MOST_A_POLL)
        except OSError as error:
            return Added(None, f"{self._path.name} cannot be read now ({error.strerror or error}); waiting.")
        return Added(self._rows(added), told, bool(told))

    def _begin(self) -> None:
        self._read = 0
        self._lines = 0
        self._head = b""
        self._dialect: Dialect | None = None

    def _changed(self, head: bytes, size: int) -> str:
        if size < self._read:
            return f"{self._path.name} has become shorter: read again from its beginning."
        if _digest(head[: len(self._head)]) != _digest(self._head):
            return f"{self._path.name} has been replaced by another: read again from its beginning."
        return ""

    def _rows(self, added: bytes) -> Table | None:
        complete = added[: added.rfind(b"\n") + 1]
        if not complete:
            return None
        plain, dialect, lines = with_plain_ends(complete), self._dialect, self._lines
        if dialect is None:
            refuse_binary(plain, self._path.name)
            try:
                dialect = dialect_of(text_of(plain[:SAMPLE_BYTES]), whole=False)
            except LogError:
                if len(plain) < SAMPLE_BYTES:
                    return None  # names without a row of numbers yet
                raise
            lines = dialect.first_line
            plain = from_line(plain, lines)
        table = rows_of(plain, dialect, lines, self._path.name)
        self._dialect = dialect
        self._read += len(complete)
        self._lines = lines + plain.count(b"\n")
        return table if len(table.values) else None


def joined(whole: Table | None, added: Table) -> Table:
    """Return the rows read before with those added; LogError if they are too many."""
    if whole is None:
        return added
    values = np.vstack([whole.values, added.values])
    if len(values) > MOST_ROWS:
        raise LogError(f"The log has grown past {MOST_ROWS:,} rows: begin another.")
    return replace(
        whole,
        values=values,
        text_cells=(*whole.text_cells, *added.text_cells)[:20],
        text_count=whole.text_count + added.text_count,
    )


def _digest(content: bytes) -> bytes:
    return hashlib.sha256(content).digest()
