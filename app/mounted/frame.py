"""One picture's worth of faces and lines in space, ready to be painted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from app.mounted.camera import Camera
from app.mounted.look import RGB
from app.mounted.shapes import Floats, Ints

Image = NDArray[np.uint8]
"""(height, width, 3), top row first."""


@dataclass(frozen=True, eq=False)
class Faces:
    """Triangles of one kind of opacity."""

    points: Floats
    triangles: Ints
    colours: NDArray[np.uint8]
    """(m, 3)."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """Lines of one width and colour."""

    ends: Floats
    """(k, 2, 3)."""
    width_px: float
    colour: RGB


@dataclass(frozen=True, eq=False)
class Frame:
    """What a painter needs; an array that is the same object as before has not changed."""

    camera: Camera
    ground: RGB
    solid: Faces
    see_through: Faces
    lines: dict[str, Drawn]


class Painter(Protocol):
    """Whoever turns a frame into an image."""

    def paint(self, frame: Frame, scale: float, *, draft: bool = False) -> Image:
        """Return the image, `scale` image pixels for each of the camera's; a draft may have rough edges."""
        ...
