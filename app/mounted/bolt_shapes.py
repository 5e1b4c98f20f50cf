"""Bolts as mounted: washer, head or nut, spacer, and the number in its balloon."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from app.mounted.shapes import Floats, Ints, Mark, Shapes, Surface, solid_shapes
from app.mounted.solids import circle, prism, tube
from geometry.bolt_tables import bolt_size
from geometry.bracket import Bracket
from geometry.fixing import Bolt
from geometry.part import Place
from geometry.partner_face import washer_radii_mm, washer_thickness_mm
from geometry.placing import BoltPlace


def bolt_shapes(bracket: Bracket, places: Sequence[BoltPlace]) -> Shapes:
    """Return every bolt that has a place."""
    shapes = Shapes()
    for place in places:
        bolt = bracket.bolt(place.bolt)
        mating, axis = tuple(place.mating_mm.tolist()), tuple(place.axis.tolist())
        shapes += _side(bolt, place.side, mating, axis, place.thickness_mm)
    return shapes


def head_mm(place: BoltPlace) -> Floats:
    """Return the middle of the washer face (3,): where head or nut stands."""
    return np.asarray(place.mating_mm - place.thickness_mm * place.axis)


@lru_cache(maxsize=256)
def _side(bolt: Bolt, side: str, mating_mm: Place, axis: Place, plate_mm: float) -> Shapes:
    """Return one end of a bolt, kept: a gesture elsewhere does not change it."""
    size = bolt_size(bolt.size)
    inward, mating = np.asarray(axis), np.asarray(mating_mm)
    out = -inward
    face = mating - plate_mm * inward
    shapes = Shapes()
    thickness = washer_thickness_mm(bolt, size)
    if thickness > 0.0:
        ring = circle(face, out, washer_radii_mm(bolt, size)[1])
        shapes += _solid(bolt.name, prism(ring, thickness * out))
    height = size.head_height_mm if side == "head" else 0.8 * size.diameter_mm
    points = circle(face + thickness * out, out, size.head_across_flats_mm / np.sqrt(3.0), sides=6)
    shapes += _solid(bolt.name, prism(points, height * out))
    if bolt.spacer is not None and side == "head":
        rings = [
            circle(mating, inward, diameter / 2.0)
            for diameter in (bolt.spacer.outer_mm, bolt.spacer.inner_mm)
        ]
        shapes += _solid(bolt.name, tube(rings[0], rings[1], bolt.spacer.length_mm * inward))
    if side == "nut":
        return shapes
    top = face + (thickness + height) * out
    mark = Mark("balloon", "bolt", bolt.name, bolt.name, ("bolt", bolt.name), top, must=True)
    return shapes + Shapes(marks=(mark,))


def _solid(bolt: str, solid: tuple[Floats, Ints]) -> Shapes:
    points, triangles = solid
    return solid_shapes(Surface("bolt", bolt, ("bolt", bolt), points, triangles, "metal"), pen="edge")
