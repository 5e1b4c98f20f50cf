"""Bolts as mounted: washer, head or nut, spacer, and the number in its balloon."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from app.mounted.shapes import Floats, Ints, Mark, Shapes, Surface, solid_shapes
from app.mounted.solids import circle, prism, tube
from geometry.bolt_tables import BoltSize, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import Bolt
from geometry.placing import BoltPlace, washer_radii_mm, washer_thickness_mm


def bolt_shapes(bracket: Bracket, places: Sequence[BoltPlace]) -> Shapes:
    """Return every bolt that has a place."""
    shapes = Shapes()
    for place in places:
        bolt = bracket.bolt(place.bolt)
        shapes += _side(bolt, place, bolt_size(bolt.size))
    return shapes


def head_mm(place: BoltPlace) -> Floats:
    """Return the middle of the washer face (3,): where head or nut stands."""
    return np.asarray(place.mating_mm - place.thickness_mm * place.axis)


def _side(bolt: Bolt, place: BoltPlace, size: BoltSize) -> Shapes:
    out = -place.axis
    face = head_mm(place)
    shapes = Shapes()
    thickness = washer_thickness_mm(bolt, size)
    if thickness > 0.0:
        ring = circle(face, out, washer_radii_mm(bolt, size)[1])
        shapes += _solid(place, prism(ring, thickness * out))
    height = size.head_height_mm if place.side == "head" else 0.8 * size.diameter_mm
    points = circle(face + thickness * out, out, size.head_across_flats_mm / np.sqrt(3.0), sides=6)
    shapes += _solid(place, prism(points, height * out))
    if bolt.spacer is not None and place.side == "head":
        rings = [
            circle(place.mating_mm, place.axis, diameter / 2.0)
            for diameter in (bolt.spacer.outer_mm, bolt.spacer.inner_mm)
        ]
        shapes += _solid(place, tube(rings[0], rings[1], bolt.spacer.length_mm * place.axis))
    if place.side == "nut":
        return shapes
    top = face + (thickness + height) * out
    mark = Mark("balloon", "bolt", bolt.name, bolt.name, ("bolt", bolt.name), top, must=True)
    return shapes + Shapes(marks=(mark,))


def _solid(place: BoltPlace, solid: tuple[Floats, Ints]) -> Shapes:
    points, triangles = solid
    return solid_shapes(
        Surface("bolt", place.bolt, ("bolt", place.bolt), points, triangles, "metal"), pen="edge"
    )
