"""How each kind of line and face looks: ISO 128 widths and dashes, the theme's colours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from app.mounted.shapes import Fill, Floats, Pen
from app.theme import Theme

RGB = tuple[int, int, int]
LIGHT: Final = np.array([-0.35, 0.8, 0.5]) / np.linalg.norm([-0.35, 0.8, 0.5])
"""Where the light comes from: above, from the left, from behind the driver."""
DEEPEST: Final = 0.16
"""Share of ink in a face turned right away from the light."""
SELECTED_TIMES: Final = 1.9
"""A selected thing's edges are this many times as wide."""


@dataclass(frozen=True)
class Stroke:
    """One kind of line: width and dashes in pixels at 100 %, and the theme's word for its colour."""

    width_px: float
    colour: str
    dashes_px: tuple[float, ...] = ()
    """Drawn, gap, drawn, gap; empty for a line without gaps."""


STROKES: Final[dict[Pen, Stroke]] = {
    "edge": Stroke(1.6, "ink"),
    "thin": Stroke(0.8, "pencil"),
    "adjacent": Stroke(1.0, "pencil", (14.0, 3.0, 3.0, 3.0, 3.0, 3.0)),
    "chain": Stroke(0.9, "pencil", (18.0, 4.0, 3.0, 4.0)),
    "contour": Stroke(0.9, "pencil"),
    "limit": Stroke(1.8, "ink"),
    "hatch": Stroke(1.1, "ink"),
    "rest": Stroke(0.8, "pencil"),
    "ground": Stroke(1.1, "ink"),
    "wheel": Stroke(1.1, "faint"),
}
SEE_THROUGH: Final = 0.4
"""Share of a see-through face's own colour."""
SELECTED_SHARE: Final = 0.14
"""Share of the accent in a selected thing's faces."""


def rgb(colour: str) -> RGB:
    """Return the three bytes of a `#rrggbb` colour."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def stroke_rgb(theme: Theme, pen: Pen) -> RGB:
    """Return a pen's colour."""
    return rgb(getattr(theme, STROKES[pen].colour))


def fill_rgb(theme: Theme, fill: Fill) -> RGB:
    """Return a fill's colour in full light."""
    colours: dict[Fill, str] = {
        "plate": theme.plate,
        "plate back": theme.plate_back,
        "low": theme.map_low,
        "near": theme.map_near,
        "over": theme.map_over,
        "metal": theme.plate_back,
        "bar": theme.plate_back,
        "casing": theme.plate_back,
        "ground": theme.plate_back,
    }
    return rgb(colours[fill])


def shaded(theme: Theme, fill: Fill, normals: Floats) -> NDArray[np.uint8]:
    """Return (m, 3) bytes: the fill's colour, darker the further a face looks away from the light."""
    dark = np.array(rgb(theme.ink if theme.name == "paper" else theme.ground), dtype=float)
    share = DEEPEST * (0.5 - 0.5 * (normals @ LIGHT))[:, None] * (1.0 if theme.name == "paper" else 3.0)
    mixed = (1.0 - share) * np.array(fill_rgb(theme, fill)) + share * dark
    return np.asarray(np.round(mixed), dtype=np.uint8)
