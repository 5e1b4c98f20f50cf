"""One line of what is said around the bracket.

Second opinions only: the maker's instruction, the donor's own parts and local codes rule. No line ever
makes the bracket's verdict milder.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

AroundGroup = Literal["shaft joints", "cable and fuse", "collapse travel", "tube clamp", "room"]
AroundStanding = Literal["met", "broken", "fails", "open", "told"]
"""`fails`: the whole cannot pass; `broken`: a rule of the trade is, marginal at best; `open`: an input is
blank, or nobody has looked; `told`: a figure without a limit."""

STANDINGS: Final[tuple[AroundStanding, ...]] = ("fails", "broken", "open", "met", "told")
"""Gravest first."""
SECOND_OPINION: Final = (
    "Around the bracket these are second opinions: the maker's instruction, the donor's own parts and"
    " local codes"
    " rule."
)


@dataclass(frozen=True)
class AroundLine:
    """One thing said."""

    group: AroundGroup
    name: str
    standing: AroundStanding
    words: str
    """A sentence with its figures, without a full stop."""
    source: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = ""


def reasons_of(lines: Iterable[AroundLine], standing: AroundStanding) -> list[str]:
    """Return every line that stands so as a sentence."""
    return [f"{line.group}, {line.name}: {line.words}" for line in lines if line.standing == standing]


def blank(group: AroundGroup, name: str, words: str) -> AroundLine:
    """Return an open line for something nobody has said."""
    return AroundLine(group, name, "open", words)
