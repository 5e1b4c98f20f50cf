"""What is selected in a flat pattern."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["corner", "edge", "opening", "fold", "plate"]


@dataclass(frozen=True)
class Selected:
    """One thing of a plate: a corner or edge by index (and loop), an opening or fold by name, or all."""

    plate: str
    kind: Kind
    index: int | None = None
    """Of a corner or edge, counted from 0."""
    name: str | None = None
    """Of an opening or fold."""
    loop: str | None = None
    """Whose corner or edge: None the outline's, else that cut-out's."""
