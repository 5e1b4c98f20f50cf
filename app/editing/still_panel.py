"""A plate's placement told by another of its panels, so that it stands in space where it stood."""

from __future__ import annotations

from typing import Final

import numpy as np
from shapely.geometry import Point, Polygon

from app.editing.refused import EditRefused
from geometry.flat_segments import Flat, Floats, ShapeError
from geometry.fold_map import FoldMap
from geometry.part import Place
from geometry.plate import Placement, Plate

LEVELS: Final = {"back": 0.0, "middle": 0.5, "front": 1.0}
"""Height of each named level of a sheet, in thicknesses above its back."""


def placed_where_it_stood(piece: Plate, before: FoldMap) -> Plate:
    """Return a plate that is part of another's flat pattern, placed so that it stands where that part stood.

    The placement is kept if the piece has some of the panel that stayed still. EditRefused if the piece
    cannot be folded.
    """
    bare = piece.but(placement=piece.placement.but(still_at_mm=None))
    try:
        panels = FoldMap(bare).folded.panels
    except ShapeError as fault:
        raise EditRefused(f"a piece could not be made: {fault.found}; move the line") from fault
    still = before.folded.panels[before.still_panel]
    of_still = [panel for panel in panels if panel.intersection(still).area > 0.5 * panel.area]
    panel = max(of_still or panels, key=lambda part: part.area)
    at = spot_on(panel)
    placement = piece.placement
    if not of_still:
        placement = placement_of(before, at, placement.origin_on)
    return piece.but(placement=placement.but(still_at_mm=at if piece.folds else None))


def placement_of(fold_map: FoldMap, at: Flat, origin_on: str) -> Placement:
    """Return the placement that makes the panel at a flat place the one that stays still."""
    frame = fold_map.frame_at(*at)
    height = LEVELS[origin_on] * fold_map.plate.thickness_mm
    there: Floats = fold_map.to_space(np.array([[*at, height]]))[0]
    origin = there - frame @ np.array([*at, 0.0])
    return Placement.model_validate(
        {
            "origin_mm": as_place(origin),
            "x_axis": as_place(frame[:, 0]),
            "y_axis": as_place(frame[:, 1]),
            "origin_on": origin_on,
            "still_at_mm": at,
        }
    )


def spot_on(panel: Polygon) -> Flat:
    """Return a place on a panel, in round figures if they lie on it."""
    spot = panel.representative_point()
    rounded = (round(spot.x, 2), round(spot.y, 2))
    return rounded if panel.contains(Point(rounded)) else (float(spot.x), float(spot.y))


def as_place(vector: Floats) -> Place:
    """Return a vector as three figures of a file."""
    x, y, z = (float(value) for value in vector)
    return (x, y, z)
