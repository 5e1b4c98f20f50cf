"""What the casing's turn comes from, in words. No Qt."""

from __future__ import annotations

from typing import Final

from app.wording.figures import percent
from solver.results import Results, TurnShare

_SMALL: Final = 0.005
"""Parts below this are told as one."""


def turn_words(results: Results, *, most: int | None = None) -> str:
    """Return such as "plate 41 %, dash bar 35 %, bolts 24 %", the largest first; empty where unknown.

    Parts that give next to nothing are told together; `most` tells only so many.
    """
    parts = told_shares(results)
    told = parts if most is None else parts[:most]
    return ", ".join(f"{part.name} {share_words(part)}" for part in told)


def told_shares(results: Results) -> tuple[TurnShare, ...]:
    """Return the shares, those that give next to nothing in one at the end."""
    large = [part for part in results.turn_shares if part.share >= _SMALL]
    rest = [part for part in results.turn_shares if part.share < _SMALL]
    if len(rest) > 1:
        name = " and ".join(part.name for part in rest) if len(rest) == 2 else "the rest"
        rest = [TurnShare(name, sum(part.share for part in rest))]
    return (*large, *rest)


def share_words(part: TurnShare) -> str:
    """Return its share in per cent; a part that gives next to nothing is said to."""
    return percent(part.share) if part.share >= _SMALL else "less than 1 %"
