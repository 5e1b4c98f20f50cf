"""Colours and line widths of the drawing sheet: ink on paper, or chalk on slate.

Meaning is never carried by colour alone: a word, a shape, a line kind or hatching says the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

ThemeName = Literal["paper", "slate"]

LEAST_WINDOW_PX: Final = (640, 360)
"""Width and height of the smallest window, and so of the smallest picture of one."""


@dataclass(frozen=True)
class Theme:
    """One look of the sheet. Colours are `#rrggbb`."""

    name: ThemeName
    ground: str
    """What everything is drawn on."""
    ink: str
    """Outlines, verdicts, figures that were refined."""
    pencil: str
    """Figures so far, guides, words of less weight. At least 4.5 to 1 against the ground."""
    faint: str
    """Grid, projection lines, ruling of tables: never words."""
    plate: str
    """Sheet metal seen from its front."""
    plate_back: str
    entry: str
    """Ground of a number that is being typed."""
    accent: str
    """What is selected or about to change; always with a heavier line."""
    remark: str
    """Sentences at the pointer. At least 4.5 to 1 against the ground."""
    map_low: str
    """Stress map below 80 % of the allowable."""
    map_near: str
    """From 80 to 100 %."""
    map_over: str
    """Above 100 %; always hatched."""
    bad: str
    """Words of refusals. At least 4.5 to 1 against the ground."""


PAPER: Final = Theme(
    name="paper",
    ground="#fcfaf4",
    ink="#1d2a33",
    pencil="#66727a",
    faint="#d8d5cb",
    plate="#f3f0e4",
    plate_back="#e6e2d2",
    entry="#fff1d6",
    accent="#a8570b",
    remark="#6b5a00",
    map_low="#f3eccd",
    map_near="#eab54d",
    map_over="#d6461f",
    bad="#a8270a",
)
SLATE: Final = Theme(
    name="slate",
    ground="#262f36",
    ink="#f1efe6",
    pencil="#a9b4ba",
    faint="#46525a",
    plate="#33404a",
    plate_back="#2c3740",
    entry="#4a4330",
    accent="#ffb454",
    remark="#e6d27a",
    map_low="#4a4f45",
    map_near="#b98524",
    map_over="#e8603a",
    bad="#ff9577",
)


def theme(name: str) -> Theme:
    """Return the theme of that name; paper for any other."""
    return SLATE if name == "slate" else PAPER
