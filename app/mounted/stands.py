"""Named places to look at the mounted bracket from."""

from __future__ import annotations

from dataclasses import replace
from typing import Final, Literal, get_args

import numpy as np

from app.mounted.camera import Camera
from app.mounted.shapes import Floats, Shapes
from app.mounted.surroundings import SHAFT_Z, places_of
from geometry.bracket import Bracket
from geometry.flat_segments import ShapeError
from geometry.fold_map import fold_map_of

Stand = Literal[
    "aslant", "from the driver", "from the side", "from below", "square to the plate", "whole bar"
]
STANDS: Final[tuple[Stand, ...]] = get_args(Stand)


def fitted(camera: Camera, shapes: Shapes, top_px: float) -> Camera:
    """Return the camera that shows plates, casing and what they are bolted with, below words at the top."""
    return camera.fitted(fitting_places(shapes), top_px)


def fitting_places(shapes: Shapes) -> Floats:
    """Return the places (n, 3) of plates, casing and bolts; of all there is where there are none."""
    points = shapes.points(("plate", "casing", "bolt", "boss", "anchor"))
    return points if len(points) else shapes.points()


def stood(
    camera: Camera, name: Stand, bracket: Bracket, shapes: Shapes, plate: str | None, top_px: float
) -> Camera:
    """Return the camera at a named stand, fitted; `plate` is the one to look at squarely, None the first."""
    rake = np.radians(camera.rake_deg)
    ways: dict[Stand, Floats] = {
        "from the driver": SHAFT_Z,
        "from the side": np.array([1.0, 0.0, 0.0]),
        "from below": -np.array([0.0, np.cos(rake), np.sin(rake)]),
        "square to the plate": _front_of(bracket, plate),
    }
    if name in ways:
        turned = camera.standing(ways[name])
    else:
        aslant = Camera()
        turned = replace(camera, azimuth_deg=aslant.azimuth_deg, elevation_deg=aslant.elevation_deg)
    if name != "whole bar":
        return fitted(turned, shapes, top_px)
    lines = places_of(("dash bar", "anchor", "wheel", "shaft"), shapes)
    return turned.fitted(np.concatenate([shapes.points(), lines]), top_px)


def _front_of(bracket: Bracket, plate: str | None) -> Floats:
    """Return the way a plate's still panel looks; along the shaft where there is none."""
    plates = [p for p in bracket.plates if plate in (None, p.name)] or list(bracket.plates)
    try:
        return np.asarray(fold_map_of(plates[0]).axes[:, 2]) if plates else SHAFT_Z
    except ShapeError:
        return SHAFT_Z
