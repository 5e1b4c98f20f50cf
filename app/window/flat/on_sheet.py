"""What lies on the sheet: the plate's exact edges, and what bolts, casing and dash bar put round it.

All of it is in mm of the shown plate's flat pattern, worked out anew for every bracket that is drawn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np
from shapely.geometry import MultiPoint
from shapely.geometry.base import BaseGeometry

from app.editing.moved_shapes import middle_of
from app.editing.openings import bosses_on_sheet
from app.editing.sheet_places import BarOnSheet, BossOnSheet, bar_on_sheet
from app.wording.weld_words import symbol_words, welds_on
from geometry.bend_allowance import BendError, zone_width_mm
from geometry.bend_zones import BendZone, folded_pattern
from geometry.bracket import Bracket
from geometry.casing_in_space import casing_to_space
from geometry.flat_pattern import FlatPattern, flat_pattern
from geometry.flat_segments import Flat, ShapeError
from geometry.fold_map import FoldMap
from geometry.materials import UnknownMaterialError, material
from geometry.placing import place_bolts
from geometry.plate import FoldLine, Plate

_SQUARE: Final = math.cos(math.radians(45.0))
"""A plate is cut by the shaft, rather than lying along it, up to this tilt."""


@dataclass(frozen=True)
class Ring:
    """What one bolt clamps: its widest ring."""

    bolt: str
    hole: str
    at_mm: Flat
    hole_radius_mm: float
    outer_mm: float


@dataclass(frozen=True)
class WeldRun:
    """A weld along an edge of the plate, or the mark that one leaves on its face."""

    weld: str
    ends: tuple[Flat, Flat]
    on_edge: bool
    words: str
    inch_words: str


@dataclass(frozen=True)
class BendStrip:
    """The bend zone of a fold, as wide as it becomes the bend."""

    fold: str
    pieces: tuple[tuple[Flat, ...], ...]
    ends: tuple[Flat, Flat]
    """Where its fold line enters and leaves the material."""


@dataclass(frozen=True)
class OnSheet:
    """Everything that is drawn of one plate and round it."""

    plate: Plate
    pattern: FlatPattern | None
    """None if the plate has no shape that can be made: then only its corners are drawn."""
    rings: tuple[Ring, ...] = ()
    strips: tuple[BendStrip, ...] = ()
    bosses: tuple[BossOnSheet, ...] = ()
    bar: BarOnSheet | None = None
    casing: tuple[Flat, ...] = ()
    """Corners of the casing's outline block as seen from the front; empty if unknown."""
    shaft_at: Flat | None = None
    """Where the shaft axis goes through the sheet."""
    shaft_line: tuple[Flat, Flat] | None = None
    """Two places of it where it lies along the sheet instead."""
    figures: Figures | None = None
    sharp: tuple[Flat, ...] = ()
    """Sharp inside corners, where a crack would begin."""
    welds: tuple[WeldRun, ...] = ()
    rests_on: tuple[object, ...] = ()
    """What bosses, bar and rings follow from, to tell whether they can have changed."""


@dataclass(frozen=True)
class Figures:
    """What the caption says of the plate."""

    mass_kg: float | None
    """None while the material is a blank or unknown."""
    cut_length_mm: float


@dataclass(frozen=True)
class _Around:
    """What only changes with placement, casing and bar."""

    bosses: tuple[BossOnSheet, ...] = ()
    bar: BarOnSheet | None = None
    casing: tuple[Flat, ...] = ()
    shaft_at: Flat | None = None
    shaft_line: tuple[Flat, Flat] | None = None


def on_sheet(bracket: Bracket, plate_name: str, before: OnSheet | None = None) -> OnSheet | None:
    """Return what is drawn of a plate; None if there is no such plate.

    With `before`, the sheet a gesture began with, what the gesture cannot have changed is taken from it:
    a drag has 33 ms for a picture.
    """
    plate = next((p for p in bracket.plates if p.name == plate_name), None)
    if plate is None:
        return None
    try:
        pattern = flat_pattern(plate)
    except ShapeError:
        return OnSheet(plate, None)
    rests_on = (
        plate.placement,
        plate.folds,
        plate.thickness_mm,
        bracket.casing,
        bracket.dash_bar,
        bracket.bolts,
    )
    if before is not None and before.plate.name == plate_name and before.rests_on == rests_on:
        around, rings = _around_as(before), _rings_as(before, plate)
    else:
        around, rings = _around(bracket, plate), _rings(bracket, plate_name)
    return OnSheet(
        plate,
        pattern,
        rings=rings,
        strips=_strips(plate, pattern),
        bosses=around.bosses,
        bar=around.bar,
        casing=around.casing,
        shaft_at=around.shaft_at,
        shaft_line=around.shaft_line,
        figures=Figures(_mass_kg(bracket, plate, pattern), pattern.cut_length_mm),
        sharp=tuple(corner.at_mm for corner in pattern.sharp_inside_corners()),
        welds=_weld_runs(bracket, plate_name),
        rests_on=rests_on,
    )


def fold_line(sheet: OnSheet, fold: FoldLine) -> tuple[Flat, Flat]:
    """Return a fold line as it is drawn: from edge to edge, from its start to its end."""
    ends = [end for strip in sheet.strips if strip.fold == fold.name for end in strip.ends]
    (x, y), (dx, dy) = fold.from_mm, (fold.to_mm[0] - fold.from_mm[0], fold.to_mm[1] - fold.from_mm[1])
    ends.sort(key=lambda at: (at[0] - x) * dx + (at[1] - y) * dy)
    return (ends[0], ends[-1]) if ends else (fold.from_mm, fold.to_mm)


def fold_words(fold: FoldLine) -> str:
    """Return what stands at a fold line."""
    return f"{fold.angle_deg:.4g}° {fold.direction} r {fold.inside_radius_mm:.4g}"


def _around(bracket: Bracket, plate: Plate) -> _Around:
    try:
        bosses = bosses_on_sheet(bracket, plate.name)
        bar = bar_on_sheet(bracket, plate.name)
    except (ShapeError, ValueError):
        return _Around()
    try:
        still = FoldMap(plate.but(folds=(), openings=()))
    except ShapeError:
        return _Around(tuple(bosses), bar)
    if bracket.casing is None:
        return _Around(tuple(bosses), bar)
    return _Around(tuple(bosses), bar, _casing_outline(bracket, still), *_shaft_on(still))


def _around_as(before: OnSheet) -> _Around:
    return _Around(before.bosses, before.bar, before.casing, before.shaft_at, before.shaft_line)


def _rings_as(before: OnSheet, plate: Plate) -> tuple[Ring, ...]:
    """Return the rings round where the holes are now."""
    middles = {opening.name: middle_of(opening) for opening in plate.openings}
    return tuple(replace(ring, at_mm=middles[ring.hole]) for ring in before.rings if ring.hole in middles)


def _casing_outline(bracket: Bracket, still: FoldMap) -> tuple[Flat, ...]:
    casing = bracket.casing
    if casing is None:
        return ()
    low, high = casing.envelope.low_mm, casing.envelope.high_mm
    places = np.array(
        [
            casing_to_space(casing, (x, y, z))
            for x in (low[0], high[0])
            for y in (low[1], high[1])
            for z in (low[2], high[2])
        ]
    )
    seen = ((places - still.origin) @ still.axes)[:, :2]
    hull = MultiPoint([(float(x), float(y)) for x, y in seen]).convex_hull
    corners = getattr(hull, "exterior", None)
    return tuple((float(x), float(y)) for x, y in corners.coords[:-1]) if corners is not None else ()


def _shaft_on(still: FoldMap) -> tuple[Flat | None, tuple[Flat, Flat] | None]:
    start = -still.origin @ still.axes
    way = np.array([0.0, 0.0, 1.0]) @ still.axes
    if abs(way[2]) >= _SQUARE:
        x, y = (start - way * (start[2] / way[2]))[:2]
        return (float(x), float(y)), None
    ends = [(start + reach * way)[:2] for reach in (-1000.0, 1000.0)]
    return None, ((float(ends[0][0]), float(ends[0][1])), (float(ends[1][0]), float(ends[1][1])))


def _rings(bracket: Bracket, plate_name: str) -> tuple[Ring, ...]:
    try:
        places = place_bolts(bracket)
    except ValueError:
        return ()
    return tuple(
        Ring(place.bolt, place.hole, place.flat_mm, place.hole_radius_mm, place.spread_mm)
        for place in places
        if place.plate == plate_name
    )


def _weld_runs(bracket: Bracket, plate_name: str) -> tuple[WeldRun, ...]:
    """Return welds where they are drawn, also those that lead nowhere yet."""
    return tuple(
        WeldRun(weld.name, ends, weld.plate == plate_name, symbol_words(weld), symbol_words(weld, "inch"))
        for weld, ends in welds_on(bracket, plate_name)
    )


def _strips(plate: Plate, pattern: FlatPattern) -> tuple[BendStrip, ...]:
    """Return the zones cut to the material where they can be made, else as wide as the line is long."""
    if not plate.folds:
        return ()
    try:
        zones = folded_pattern(plate, pattern).zones
    except ShapeError:
        return tuple(
            strip for fold in plate.folds if (strip := _plain_strip(fold, plate.thickness_mm)) is not None
        )
    return tuple(BendStrip(zone.fold.name, _pieces(zone.polygon), _ends(zone)) for zone in zones)


def _plain_strip(fold: FoldLine, thickness_mm: float) -> BendStrip | None:
    (x0, y0), (x1, y1) = fold.from_mm, fold.to_mm
    length = math.dist(fold.from_mm, fold.to_mm)
    try:
        width = zone_width_mm(fold.angle_deg, fold.inside_radius_mm, thickness_mm, fold.k_factor)
    except BendError:
        return None
    if length < 1e-6:
        return None
    ox, oy = -(y1 - y0) / length * width / 2.0, (x1 - x0) / length * width / 2.0
    corners = ((x0 + ox, y0 + oy), (x1 + ox, y1 + oy), (x1 - ox, y1 - oy), (x0 - ox, y0 - oy))
    return BendStrip(fold.name, (corners,), (fold.from_mm, fold.to_mm))


def _ends(zone: BendZone) -> tuple[Flat, Flat]:
    low, high = min(start for start, _ in zone.sections), max(end for _, end in zone.sections)
    (x, y), (ux, uy) = zone.middle, zone.along
    return ((x + low * ux, y + low * uy), (x + high * ux, y + high * uy))


def _pieces(shape: BaseGeometry) -> tuple[tuple[Flat, ...], ...]:
    parts = getattr(shape, "geoms", [shape])
    return tuple(tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1]) for part in parts)


def _mass_kg(bracket: Bracket, plate: Plate, pattern: FlatPattern) -> float | None:
    if plate.material is None:
        return None
    density = _density(plate.material, bracket.materials)
    return None if density is None else pattern.mass_kg(plate.thickness_mm, density)


@lru_cache(maxsize=64)
def _density(name: str, own: tuple[object, ...]) -> float | None:
    try:
        return material(name, own).density_kg_m3  # type: ignore[arg-type]
    except UnknownMaterialError:
        return None
