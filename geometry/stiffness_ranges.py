"""Which stiffnesses a bracket states as a range, and which ends of them are taken together.

Glossary
--------
high ends   the names of those ranges that are at their high end in a state; the others are at their low end
"""

from __future__ import annotations

import itertools
from typing import TypeAlias

from geometry.bracket import Bracket

HighEnds: TypeAlias = frozenset[str]

ALL_LOW: HighEnds = frozenset()
MIXED_RANGES = 4
"""Up to so many ranges every low end is taken with every high end; with more they are too many states."""
SIDEWAYS, ALONG = "donor mount sideways", "donor mount along"


def bearing_range(number: int) -> str:
    """Return the name of the range of a bearing of the column, by its place in the file from nought."""
    return f"bearing {number + 1}"


def stay_range(number: int) -> str:
    """Return the name of the range of a stay of the dash bar, by its place in the file from nought."""
    return f"stay {number + 1}"


def end_range(number: int) -> str:
    """Return the name of the range of an end of the dash bar, by its place in the file from nought."""
    return f"end {number + 1}"


def picked(pair: tuple[float, float], name: str, high: HighEnds) -> float:
    """Return the end of a range that a state takes."""
    return pair[1] if name in high else pair[0]


def range_names(bracket: Bracket) -> tuple[str, ...]:
    """Return the names of the bracket's stiffnesses that are given as a range with two different ends."""
    found: list[tuple[str, tuple[float, float]]] = []
    column = bracket.column
    if column.held_by == "bearings":
        found += [(bearing_range(i), b.stiffness_n_per_mm) for i, b in enumerate(column.bearings)]
    if column.held_by == "donor mount" and column.mount is not None:
        found += [(SIDEWAYS, column.mount.sideways_n_per_mm), (ALONG, column.mount.along_n_per_mm)]
    return tuple(name for name, (low, high) in found if low != high) + bar_range_names(bracket)


def bar_range_names(bracket: Bracket) -> tuple[str, ...]:
    """Return those that are the dash bar's own: of its stays and its ends.

    An end with a bolted flange is one: taken as pinned, and as welded.
    """
    found: list[tuple[str, tuple[float, float]]] = []
    if bracket.dash_bar is not None:
        found += [(stay_range(i), stay.stiffness_n_per_mm) for i, stay in enumerate(bracket.dash_bar.stays)]
        for i, end in enumerate(bracket.dash_bar.ends):
            if end.kind == "bolted flange":
                found.append((end_range(i), (0.0, 1.0)))
            elif end.kind == "stiffness" and end.bending_nm_per_deg is not None:
                found.append((end_range(i), end.bending_nm_per_deg))
    return tuple(name for name, (low, high) in found if low != high)


def all_mixed(bracket: Bracket) -> bool:
    """Return whether `ends_together` takes every low end with every high end."""
    return len(range_names(bracket)) <= MIXED_RANGES


def ends_together(bracket: Bracket) -> tuple[HighEnds, ...]:
    """Return which high ends are taken together, one set for each state to answer; all low first.

    A motion, and so a force, is a fraction of two expressions linear in each stiffness by itself (the
    inverse of a matrix changed by rank one, Sherman and Morrison 1950): between the ends of a range it goes
    one way only, so that what is largest is so at some choice of ends. Past `MIXED_RANGES` ranges it is all
    low, all high, and each range by itself at the other end than all the rest.
    """
    names = range_names(bracket)
    if all_mixed(bracket):
        sizes = range(len(names) + 1)
        return tuple(frozenset(some) for size in sizes for some in itertools.combinations(names, size))
    whole = frozenset(names)
    return (ALL_LOW, *(frozenset([n]) for n in names), *(whole - {n} for n in names), whole)
