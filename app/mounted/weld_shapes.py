"""Welds as mounted: a three-sided bead in the corner on each side that is welded."""

from __future__ import annotations

import numpy as np

from app.mounted.shapes import Shapes, Surface, solid_shapes
from app.mounted.solids import prism
from geometry.bracket import Bracket
from geometry.weld_places import WeldPlace, place_welds


def weld_shapes(bracket: Bracket) -> Shapes:
    """Return every weld that has a place; beads move with the plate whose edge they are on."""
    shapes = Shapes()
    for place in place_welds(bracket):
        for side in (1.0, -1.0):
            if place.weld.sides in ("both", "front" if side > 0.0 else "back"):
                shapes += _bead(place, side)
    return shapes


def _bead(place: WeldPlace, side: float) -> Shapes:
    start, end = place.ends_mm
    out, front = place.frame[:, 1], side * place.frame[:, 2]
    root = start + front * place.thickness_mm / 2.0
    corners = np.array([root, root + place.leg_mm * front, root - place.leg_mm * out])
    along = end - start
    if float(np.cross(corners[1] - corners[0], corners[2] - corners[0]) @ along) < 0.0:
        corners = corners[::-1]
    points, triangles = prism(corners, along)
    body = ("plate", place.weld.plate)
    return solid_shapes(Surface("weld", place.weld.name, body, points, triangles, "metal"), pen="thin")
