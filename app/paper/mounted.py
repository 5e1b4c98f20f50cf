"""The bracket as mounted, as a picture for paper: on white, fine enough for print. No Qt."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from app.mounted.drawing import png_bytes
from app.mounted.picture import kept_painter, scene_image
from app.mounted.scene import Scene
from app.paper.page import Picture
from app.theme import PAPER
from geometry.bracket import Bracket

PX_PER_MM: Final = 4.0
"""Of the scene, for each mm of paper: words are then of a readable size."""
FINER: Final = 2.5
"""Picture's own pixels for each: 254 to the inch."""
ON_WHITE: Final = replace(PAPER, ground="#ffffff")


def mounted_picture(bracket: Bracket, box: tuple[float, float, float, float]) -> Picture:
    """Return the bracket as mounted, without results, in a box (x, y, width, height) of a page."""
    scene = Scene(ON_WHITE, (round(box[2] * PX_PER_MM), round(box[3] * PX_PER_MM)))
    scene.show(bracket, None)
    scene.stand("aslant")
    return Picture(png_bytes(scene_image(scene, kept_painter(), FINER)), box)
