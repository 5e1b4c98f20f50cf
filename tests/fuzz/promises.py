"""What is held against every answer: sentences people can read, cells no spreadsheet carries out."""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterable
from typing import Final

LONGEST_SENTENCE: Final = 2_500
_LIVE: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_PLAIN_NUMBER: Final = re.compile(r"[+-]?\d+(\.\d+)?([eE][+-]?\d+)?")


class BrokenPromiseError(AssertionError):
    """The program answered, and the answer is not what it promises."""


def demand(holds: bool, what: str) -> None:
    """Raise BrokenPromiseError unless it holds."""
    if not holds:
        raise BrokenPromiseError(what)


def clear(sentences: Iterable[str]) -> None:
    """Hold that each is a sentence: not empty, not endless, nothing in it that could steer a screen."""
    for words in sentences:
        demand(bool(words.strip()), "an empty sentence")
        demand(len(words) <= LONGEST_SENTENCE, f"a sentence of {len(words)} signs: {words[:80]!r}")
        bad = [s for s in words if not (s.isprintable() or s == "\n" or unicodedata.category(s) == "Zs")]
        demand(not bad, f"a sign that is not printable: {bad[:3]!r} in {words[:80]!r}")
        demand("Traceback" not in words, f"a traceback in a sentence: {words[:80]!r}")


def still_cells(text: str, delimiter: str = ",") -> None:
    """Hold that no cell of a CSV text is taken for a formula, unless it is a number."""
    for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
        for cell in row:
            live = cell.startswith(_LIVE) and not _PLAIN_NUMBER.fullmatch(cell)
            demand(not live, f"a live cell {cell[:40]!r}")
