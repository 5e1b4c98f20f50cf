"""The values on the contour lines of stress, where they can be read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from app.mounted.camera import Camera
from app.mounted.frame import Faces
from app.mounted.labels import LETTER_SHARE, SMALL_PX, Placed
from app.mounted.overlay import Disc, Item, Words
from app.mounted.picking import Projection
from app.theme import Theme

SEEN_MM: Final = 0.6
"""A place this little behind a face counts as on it."""


def contour_words(
    placed: Sequence[Placed],
    depths_mm: Sequence[float],
    faces: Faces,
    camera: Camera,
    theme: Theme,
    taken: Sequence[Item],
) -> list[Item]:
    """Return the values of contour lines that face the eye with nothing before them, nor on what is taken."""
    projection = Projection(camera, faces.points, faces.triangles)
    kept, ways = [], []
    for p, depth in zip(placed, depths_mm, strict=True):
        hit = projection.hit(p.x_px, p.y_px)
        if p.mark.along is None or (hit is not None and hit.depth_mm > depth + SEEN_MM):
            continue
        right, up, _ = camera.axes @ p.mark.along
        kept.append(p)
        ways.append(float((np.degrees(np.arctan2(up, right)) + 90.0) % 180.0 - 90.0))
    return _apart(kept, ways, theme, taken)


def _apart(
    placed: Sequence[Placed], ways: Sequence[float], theme: Theme, taken: Sequence[Item]
) -> list[Item]:
    """Return the values of contour lines, leaving out those that would lie on something else."""
    boxes = [(d.x_px, d.y_px, d.half_width_px, d.half_height_px) for d in taken if isinstance(d, Disc)]
    items: list[Item] = []
    for p, slant in zip(placed, ways, strict=True):
        half = 0.5 * LETTER_SHARE * SMALL_PX * len(p.mark.words) + 3.0
        box = (p.x_px, p.y_px, half, half)
        if any(abs(box[0] - b[0]) < box[2] + b[2] and abs(box[1] - b[1]) < box[3] + b[3] for b in boxes):
            continue
        boxes.append(box)
        items.append(
            Words(p.mark.words, p.x_px, p.y_px, SMALL_PX, theme.ink, slant_deg=slant, ground=theme.map_low)
        )
    return items
