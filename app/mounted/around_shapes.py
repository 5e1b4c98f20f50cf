"""What stands around the bracket, drawn with it: the measured shaft, its joints, blocks that stay clear."""

from __future__ import annotations

from functools import lru_cache
from itertools import product

import numpy as np

from app.mounted.shapes import FIXED, Lines, Shapes
from app.mounted.solids import circle, closed
from geometry.installation import Installation, KeptClear, ShaftLine

JOINT_MM = 11.0
"""Radius a shaft joint is drawn with."""


@lru_cache(maxsize=8)
def around_shapes(around: Installation) -> Shapes:
    """Return the lines of everything that has a place."""
    shapes = Shapes()
    if around.shaft is not None and len(around.shaft.places_mm) > 1:
        shapes += _shaft(around.shaft)
    for block in () if around.room is None else around.room.kept_clear:
        shapes += _block(block)
    return shapes


def _shaft(line: ShaftLine) -> Shapes:
    places = np.asarray(line.places_mm, dtype=float)
    pieces = np.stack([places[:-1], places[1:]], axis=1)
    shapes = Shapes(lines=(Lines("shaft", "shaft", FIXED, pieces, "chain"),))
    for before, at, after in zip(places[:-2], places[1:-1], places[2:], strict=True):
        rings = [
            closed(circle(at, way / size, JOINT_MM))
            for way in (at - before, after - at)
            if (size := float(np.linalg.norm(way))) > 0.0
        ]
        if rings:
            shapes += Shapes(lines=(Lines("shaft", "shaft joint", FIXED, np.concatenate(rings), "thin"),))
    return shapes


def _block(block: KeptClear) -> Shapes:
    corners = np.array(list(product(*zip(block.low_mm, block.high_mm, strict=True))), dtype=float)
    # two corners that differ in one coordinate share an edge
    edges = [
        (corners[a], corners[b])
        for a, b in product(range(8), repeat=2)
        if a < b and bin(a ^ b).count("1") == 1
    ]
    return Shapes(lines=(Lines("kept clear", block.name, FIXED, np.array(edges), "adjacent"),))
