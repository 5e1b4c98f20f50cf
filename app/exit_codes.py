"""Exit codes of the program: what a command, a judged file or the window ends with."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

PASS: Final = 0
NOT_PASSED: Final = 1
"""Marginal or fail."""
NO_VERDICT: Final = 2
BAD_USAGE: Final = 64
"""A file that cannot be read or written, or words that cannot be followed."""
STOPPED: Final = 130
"""By a key."""

_WORST_FIRST: Final = (BAD_USAGE, NOT_PASSED, NO_VERDICT, PASS)


def worst_exit_code(codes: Iterable[int]) -> int:
    """Return the exit code for several files: 64 before 1 before 2 before 0; ValueError for any other."""
    return min(codes, key=_WORST_FIRST.index, default=PASS)
