"""What is drawn over the picture, in its own pixels, so that words stay sharp at any scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from app.mounted.shapes import Floats


@dataclass(frozen=True, eq=False)
class Path:
    """A line through places of the picture, open or closed and filled."""

    places_px: Floats
    """(n, 2)."""
    width_px: float
    colour: str
    fill: str = ""
    """`#rrggbb` if it is closed and filled."""


@dataclass(frozen=True, eq=False)
class Disc:
    """A balloon: a circle, or two half circles with straight sides for longer words."""

    x_px: float
    y_px: float
    half_width_px: float
    half_height_px: float
    width_px: float
    colour: str
    fill: str


@dataclass(frozen=True, eq=False)
class Words:
    """Words about a place of the picture."""

    words: str
    x_px: float
    y_px: float
    size_px: float
    colour: str
    across: Literal["left", "middle", "right"] = "middle"
    """Which end of the words stands at x; they are centred on y."""
    slant_deg: float = 0.0
    """Turned this far from level, to the left."""
    ground: str = ""
    """`#rrggbb` painted behind them."""
    italic: bool = False


Item = Path | Disc | Words
