"""Findings about solid things that stand in the same place: two plates, or a plate and the dash bar."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Final

import numpy as np

from geometry.bar_face import depth_inside_bar
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.plate_body import PlateBody, depth_in_plate, plate_body
from geometry.survey import Survey

DEEPER_MM: Final = 0.3
"""Faces that touch, and drawings that are a hair off, are no overlap."""


def overlap_findings(known: Survey) -> Iterator[Finding]:
    """Yield every pair of plates that run into each other, and every plate that runs into the dash bar."""
    bar = known.bracket.dash_bar
    if len(known.shapes) < 2 and bar is None:
        return
    bodies = [body for body in map(plate_body, known.shapes) if body is not None]
    for one, other in combinations(bodies, 2):
        deep, at = max(_runs_into(one, other), _runs_into(other, one), key=lambda found: found[0])
        if deep > DEEPER_MM:
            where = f"plates {one.name} and {other.name}"
            x, y, z = at
            yield found("plates-overlap", where, deep_mm=deep, x=x, y=y, z=z)
    if bar is None:
        return
    for body in bodies:
        inside = depth_inside_bar(bar, body.spots)
        if len(inside) and float(inside.max()) > DEEPER_MM:
            x, y, z = (float(v) for v in body.spots[int(inside.argmax())])
            yield found("plate-in-bar", f"plate {body.name}", deep_mm=float(inside.max()), x=x, y=y, z=z)


def _runs_into(one: PlateBody, other: PlateBody) -> tuple[float, tuple[float, float, float]]:
    """Return how deep the first runs into the metal of the other, and where; 0 if it does not."""
    low, high = other.spots.min(axis=0) - DEEPER_MM, other.spots.max(axis=0) + DEEPER_MM
    near = one.spots[np.all((one.spots >= low) & (one.spots <= high), axis=1)]
    deep = depth_in_plate(other, near)
    if not len(deep) or deep.max() <= 0.0:
        return 0.0, (0.0, 0.0, 0.0)
    at = near[int(deep.argmax())]
    return float(deep.max()), (float(at[0]), float(at[1]), float(at[2]))
