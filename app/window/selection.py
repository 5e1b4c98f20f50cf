"""What is selected: one thing, the same in the flat pattern, as mounted and in the parts list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "plate",
    "corner",
    "edge",
    "opening",
    "fold",
    "bolt",
    "weld",
    "casing",
    "boss",
    "dash bar",
    "anchor",
    "bearing",
    "wheel",
    "material",
    "note",
]


@dataclass(frozen=True)
class Pick:
    """One thing of the bracket."""

    kind: Kind
    name: str = ""
    """Of the opening, fold, bolt, boss, anchor, bearing or plate; empty for a corner or an edge."""
    plate: str = ""
    """The plate it belongs to, for a corner, edge, opening or fold."""
    index: int = -1
    """Of a corner, or of the corner an edge starts at."""
    loop: str | None = None
    """None for the outline, else the cut-out the corner or edge belongs to."""
