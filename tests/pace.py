"""Bounds on how long something may take, as multiples of what this machine takes for a plain loop.

A bound in seconds alone fails on a slow machine without anything being wrong.
"""

from __future__ import annotations

import time
from typing import Final

_TURNS: Final = 300_000
_USUAL_S: Final = 0.014
"""About what the loop takes where the bounds were set."""
_SPELLS: Final = 1.5
"""What other work on the same processor adds for a spell, and takes away again before the loop is asked."""


def paced(seconds: float) -> float:
    """Return a bound on seconds of the processor, longer by as much as this machine is slower than usual."""
    return seconds * _SPELLS * slower()


def slower() -> float:
    """Return how many times as long as usual this machine takes, never less than once."""
    return max(1.0, min(_loop_s() for _ in range(3)) / _USUAL_S)


def _loop_s() -> float:
    begun, total = time.process_time(), 0
    for turn in range(_TURNS):
        total += turn
    return time.process_time() - begun
