"""Findings about the shape of each plate: outline, openings, folds, sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry
from shapely.strtree import STRtree

from geometry.bend_zones import BendZone
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.materials import STANDARD_THICKNESSES_MM, Material, UnknownMaterialError, material
from geometry.plate import FoldLine
from geometry.survey import PlateShape, Survey

LEAST_WEB_MM: Final = 0.1
"""Between an opening and the outline or another opening: with less, the cuts meet in the workshop."""
LEAST_AREA_MM2: Final = 0.01
LEAST_STRAIGHT_SHARE: Final = 2.0
"""Straight part of a leg beyond the bend, in thicknesses, that a press can hold (common practice)."""
SQUARE_BEND_DEG: Final = 92.0
"""Least inside radii are those of a bend of 90 deg; a press meets that within some 2 deg (common practice, no
source)."""
PAST_SQUARE: Final = 2.0
"""Times its least inside radius is far enough for a bend that is turned further (common practice, no
source)."""
USUAL_THICKNESS_MM: Final = (0.5, 30.0)
USUAL_LENGTH_MM: Final = (10.0, 1500.0)
_RAYS: Final = 9
_MOST_TOUCHING: Final = 2_000
"""Pairs of openings that are told; a person reads the first few."""


def shape_findings(survey: Survey) -> Iterator[Finding]:
    """Yield what is wrong with the shapes of all plates."""
    for shape in survey.shapes:
        openings = list(_openings(shape))
        yield from _edges(shape, told=bool(openings))
        yield from openings
        yield from _legs(shape)
        yield from _sheet(shape, survey)


def _edges(shape: PlateShape, *, told: bool) -> Iterator[Finding]:
    """Yield faults of the edges, but not that openings cross something where it was told of each of them."""
    for fault in shape.faults:
        if told and fault.code == "pattern_unsound":
            continue
        yield found(
            "shape-impossible", fault.where, kind=fault.code, found=fault.found, next_step=fault.next_step
        )
    for name, x, y in shape.crossings:
        if name == "outline":
            yield found("outline-crosses", shape.where, x=x, y=y)
        else:
            yield found("opening-crosses", f"{shape.where}, opening {name}", x=x, y=y)
    if shape.outline is not None and shape.outline.area < LEAST_AREA_MM2:
        yield found("outline-no-area", shape.where)


def _openings(shape: PlateShape) -> Iterator[Finding]:
    names, bodies = list(shape.openings), list(shape.openings.values())
    if not bodies:
        return
    if shape.outline is not None:
        border = shape.outline.boundary
        for name, body in shape.openings.items():
            where = f"{shape.where}, opening {name}"
            outside = body.difference(shape.outline)
            if outside.area > 1e-9 * body.area:
                yield found("opening-outside", where, by_mm=_reach_mm(outside, shape.outline))
            elif (web := float(body.distance(border))) < LEAST_WEB_MM:
                yield found("opening-touches-outline", where, web_mm=web)
    tree, told = STRtree(bodies), 0
    for i, body in enumerate(bodies):
        for j in sorted(tree.query(body, predicate="dwithin", distance=LEAST_WEB_MM).tolist()):
            if i < j:
                told += 1
                yield found(
                    "opening-touches-opening",
                    f"{shape.where}, opening {names[i]}",
                    other=f"opening {names[j]}",
                )
        if told > _MOST_TOUCHING:
            return  # thousands on each other make millions of pairs


def _reach_mm(outside: BaseGeometry, outline: BaseGeometry) -> float:
    """Return how far the part that lies outside reaches from the outline."""
    corners = shapely.points(shapely.get_coordinates(outside))
    return float(shapely.distance(outline, corners).max()) if len(corners) else 0.0


def _legs(shape: PlateShape) -> Iterator[Finding]:
    least = LEAST_STRAIGHT_SHARE * shape.plate.thickness_mm
    if shape.outline is None:
        return
    for zone in shape.bends:
        straight = _least_straight_mm(shape.outline, zone)
        if straight < least - 1e-6:
            where = f"{shape.where}, fold line {zone.fold.name}"
            yield found("leg-short", where, straight_mm=straight, least_mm=least)


def _least_straight_mm(outline: BaseGeometry, zone: BendZone) -> float:
    """Return the least straight length beyond the bend, square to it, on either side.

    Measured at several places along it; a tenth at each end is left out, for corners are rounded there.
    """
    (ux, uy), (vx, vy) = zone.along, zone.aside
    half = zone.width_mm / 2.0
    low_x, low_y, high_x, high_y = outline.bounds
    reach = high_x - low_x + high_y - low_y
    least = math.inf
    for low, high in zone.sections:
        for share in np.linspace(0.1, 0.9, _RAYS).tolist():
            along = low + share * (high - low)
            for side in (1.0, -1.0):
                x = zone.middle[0] + along * ux + side * half * vx
                y = zone.middle[1] + along * uy + side * half * vy
                ray = LineString([(x, y), (x + side * reach * vx, y + side * reach * vy)])
                inside = outline.intersection(ray)
                pieces = getattr(inside, "geoms", [inside])
                start = shapely.Point(x, y)
                least = min(least, max((p.length for p in pieces if p.distance(start) < 1e-6), default=0.0))
    return least


def _sheet(shape: PlateShape, survey: Survey) -> Iterator[Finding]:
    plate, where = shape.plate, shape.where
    thickness = plate.thickness_mm
    low, high = USUAL_THICKNESS_MM
    if not low <= thickness <= high:
        yield found("thickness-absurd", where, thickness_mm=thickness, low=low, high=high)
    elif all(abs(thickness - usual) > 0.051 for usual in STANDARD_THICKNESSES_MM) and not _inch_sheet(
        thickness
    ):
        near = sorted(STANDARD_THICKNESSES_MM, key=lambda usual: abs(usual - thickness))[:2]
        yield found(
            "thickness-unusual",
            where,
            thickness_mm=thickness,
            near_mm=" and ".join(f"{t:g} mm" for t in sorted(near)),
        )
    yield from _size(shape)
    if plate.material is None:
        yield found("blank-material", where)
        return
    try:
        metal = material(plate.material, survey.bracket.materials)
    except UnknownMaterialError as error:
        yield found("material-unknown", where, reason=str(error))
        return
    if None in (metal.yield_mpa(thickness), metal.tensile_mpa(thickness)):
        yield found("material-thickness", where, material=metal.name, thickness_mm=thickness)
    for fold in plate.folds:
        yield from _bend(f"{where}, fold line {fold.name}", fold, metal, thickness)


def _size(shape: PlateShape) -> Iterator[Finding]:
    corners = np.array([corner.at_mm for corner in shape.plate.outline])
    size = float((corners.max(axis=0) - corners.min(axis=0)).max())
    if size > USUAL_LENGTH_MM[1]:
        yield found("plate-too-large", shape.where, size_mm=size)
    elif size < USUAL_LENGTH_MM[0]:
        yield found("plate-too-small", shape.where, size_mm=size)


def _bend(where: str, fold: FoldLine, metal: Material, thickness_mm: float) -> Iterator[Finding]:
    least = metal.least_inside_radius_mm(thickness_mm)
    if least is None:
        yield found("bend-radius-unknown", where, material=metal.name, thickness_mm=thickness_mm)
    elif fold.inside_radius_mm < least - 1e-9:
        yield found(
            "bend-tight",
            where,
            radius_mm=fold.inside_radius_mm,
            material=metal.name,
            thickness_mm=thickness_mm,
            least_mm=least,
            source=metal.radius_source,
        )
    elif fold.angle_deg > SQUARE_BEND_DEG and fold.inside_radius_mm < PAST_SQUARE * least - 1e-9:
        yield found(
            "bend-past-square",
            where,
            angle_deg=fold.angle_deg,
            radius_mm=fold.inside_radius_mm,
            material=metal.name,
            thickness_mm=thickness_mm,
            least_mm=least,
        )


def _inch_sheet(thickness_mm: float) -> bool:
    """Tell whether it is a whole number of sixteenths of an inch."""
    sixteenths = thickness_mm / 25.4 * 16.0
    return abs(sixteenths - round(sixteenths)) < 0.03 and sixteenths > 0.5
