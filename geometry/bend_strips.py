"""What a fold's strip covers of the flat pattern, and why a plate cannot be bent there.

A fold's *strip* is as wide as its bend zone and endless; what of it is material and lies on the drawn line
becomes the zone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from geometry.bend_allowance import BendAllowance, BendError, bend_allowance
from geometry.flat_pattern import FlatPattern, chopped
from geometry.flat_segments import Flat, Line, ShapeError
from geometry.plate import FoldLine, Plate

APART_SHARE: Final = 0.01
"""Zones nearer than this share of the thickness touch."""


def developed(plate: Plate, fold: FoldLine) -> BendAllowance:
    """Return how a fold develops; ShapeError for one without length, or that cannot be bent so."""
    where = where_words(plate, fold)
    if math.dist(fold.from_mm, fold.to_mm) < 1e-6:
        raise ShapeError(
            "fold_no_length",
            where,
            "its two ends are the same place",
            "draw it across the material",
            fold.from_mm,
        )
    try:
        return bend_allowance(fold.angle_deg, fold.inside_radius_mm, plate.thickness_mm, fold.k_factor)
    except BendError as fault:
        found, _, step = str(fault).rpartition(": ")
        raise ShapeError("fold_radius", where, found, step, fold.from_mm) from fault


def strip_pieces(plate: Plate, fold: FoldLine, width: float, pattern: FlatPattern) -> list[Polygon]:
    """Return the pieces of the fold's strip that the drawn line lies on.

    ShapeError where there are none, or where an opening reaches into the strip without cutting it through.
    """
    (x0, y0), along = fold.from_mm, Line(fold.from_mm, fold.to_mm).direction(0.0)
    low_x, low_y, high_x, high_y = pattern.polygon.bounds
    reach = 2.0 * math.hypot(high_x - low_x, high_y - low_y) + math.dist((x0, y0), (low_x, low_y)) + width
    half, thickness_mm = 0.5 * width, plate.thickness_mm
    corners = [(-reach, -half), (reach, -half), (reach, half), (-reach, half)]
    strip = Polygon(
        [(x0 + a * along[0] - o * along[1], y0 + a * along[1] + o * along[0]) for a, o in corners]
    )
    drawn = LineString([fold.from_mm, fold.to_mm])
    cut = pattern.polygon.intersection(strip)
    pieces = [
        piece
        for piece in getattr(cut, "geoms", [cut])
        if piece.geom_type == "Polygon" and piece.intersection(drawn).length > 1e-3 * drawn.length
    ]
    if not pieces:
        raise ShapeError(
            "fold_off_plate",
            where_words(plate, fold),
            f"the line from {_text(fold.from_mm)} to {_text(fold.to_mm)} does not cross the material",
            "move it onto the plate",
            fold.from_mm,
        )
    for loop in pattern.openings.values():
        opening = Polygon(chopped(loop))
        asides = [(x - x0) * -along[1] + (y - y0) * along[0] for x, y in opening.exterior.coords]
        cuts_through = min(asides) < -half and max(asides) > half
        if not cuts_through and min(opening.distance(piece) for piece in pieces) < APART_SHARE * thickness_mm:
            raise ShapeError(
                "fold_hits_opening",
                where_words(plate, fold),
                f"an opening lies within or at the edge of its bend zone, which is {width:.2f} mm wide",
                "move the opening or the fold, or let the opening cut the bend right through",
                _middle_of(opening),
            )
    return pieces


def refuse_touching(plate: Plate, pieces: Sequence[tuple[FoldLine, BendAllowance, Polygon]]) -> None:
    """Raise ShapeError where pieces of two folds touch."""
    for i, (fold, _, piece) in enumerate(pieces):
        for other, _, beside in pieces[:i]:
            apart = piece.distance(beside)
            if apart < APART_SHARE * plate.thickness_mm and (other is not fold):
                raise ShapeError(
                    "folds_touch",
                    where_words(plate, fold),
                    f"its bend zone touches that of fold {other.name}",
                    "move the folds apart, or cut a relief where they meet",
                    _middle_of(shapely.shortest_line(piece, beside)),
                )


def at_edge(plate: Plate, fold: FoldLine, width: float) -> ShapeError:
    """Return what tells that a leg ends within a bend zone of some width."""
    return ShapeError(
        "fold_at_edge",
        where_words(plate, fold),
        f"one leg ends within its bend zone, which reaches {width / 2:.2f} mm to each side",
        "move the fold further in, or make the leg longer",
        fold.from_mm,
    )


def unclean(plate: Plate, fold: FoldLine, width: float, found: str, piece: Polygon) -> ShapeError:
    """Return what tells that a zone of some width does not end cleanly, for the reason found."""
    return ShapeError(
        "fold_unclean",
        where_words(plate, fold),
        f"its bend zone, {width:.2f} mm wide, is not clean: {found}",
        f"cut relief notches to at least {width / 2:.2f} mm past the fold line, or move the fold",
        _middle_of(piece),
    )


def _middle_of(shape: BaseGeometry) -> Flat:
    return (float(shape.centroid.x), float(shape.centroid.y))


def where_words(plate: Plate, fold: FoldLine) -> str:
    """Return which fold it is, in words."""
    return f"plate {plate.name}, fold {fold.name}"


def _text(place: Flat) -> str:
    return f"({place[0]:g}, {place[1]:g})"
