"""Findings about what goes round a bolt: hole, washer, spacer, clamped rings, edge distance and pitch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry
from shapely.strtree import STRtree

from geometry.bolt_tables import BoltSize
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.findings_magnitudes import NUT_FACTOR
from geometry.findings_on_bar import on_bar_findings
from geometry.fixing import Bolt, Spacer, Washer
from geometry.footprint import FACES, merged_radii
from geometry.materials import UnknownMaterialError, material
from geometry.partner_face import stands_on_mm
from geometry.placing import BoltPlace, footprint_of
from geometry.survey import PlateShape, Survey

EDGE_SHARE: Final = 1.2
"""Least distance of a hole's middle from an edge, in hole diameters: EN 1993-1-8 table 3.3, e1 and e2."""
PITCH_SHARE: Final = 2.4
"""Least distance of two holes, in hole diameters: EN 1993-1-8 table 3.3, p2, since forces come from any
direction; along the force p1 of 2.2 would do."""
PRESSED_BEYOND: Final = 2.0
"""How far beyond its edge, in thicknesses of the sheet, a washer may be taken to press the faces together. It
spreads at 45 deg at most, which is one thickness (common practice, no source); no more than another is let
pass, since the plate is tied to all of the face, and stress is judged outside it alone."""
_SLACK_MM: Final = 0.005
"""Rings that touch within this do not overlap."""


def hole_findings(survey: Survey) -> Iterator[Finding]:
    """Yield what does not suit round each bolt."""
    for bolt in survey.bracket.bolts:
        if bolt.size in survey.sizes:
            yield from _washer(bolt, survey.sizes[bolt.size])
            yield from _spacer(bolt, survey.sizes[bolt.size], survey)
    for place in survey.places:
        yield from _fit(place, survey)
        yield from _rings(place, survey)
        yield from on_bar_findings(place, survey)
    for shape in survey.shapes:
        here = [place for place in survey.places if place.plate == shape.plate.name]
        if here and shape.outline is not None:
            yield from _around(shape, here, shape.outline)
            yield from _apart(shape, here)


def series_words(size: BoltSize) -> str:
    """Return the holes that ISO 273 gives a bolt size, in words."""
    return f"fine {size.hole_fine_mm:g}, medium {size.hole_medium_mm:g}, coarse {size.hole_coarse_mm:g} mm"


def _washer(bolt: Bolt, size: BoltSize) -> Iterator[Finding]:
    washer = bolt.washer
    if not isinstance(washer, Washer):
        return
    where = f"bolt {bolt.name}"
    if washer.inner_mm >= washer.outer_mm:
        yield found("washer-impossible", where, outer_mm=washer.outer_mm, inner_mm=washer.inner_mm)
    elif washer.inner_mm < size.diameter_mm:
        yield found("washer-hole-small", where, inner_mm=washer.inner_mm, bolt_mm=size.diameter_mm)


def _spacer(bolt: Bolt, size: BoltSize, survey: Survey) -> Iterator[Finding]:
    spacer = bolt.spacer
    if spacer is None:
        return
    where = f"bolt {bolt.name}"
    if spacer.inner_mm >= spacer.outer_mm:
        yield found("spacer-impossible", where, outer_mm=spacer.outer_mm, inner_mm=spacer.inner_mm)
        return
    if spacer.inner_mm < size.diameter_mm:
        yield found("spacer-hole-small", where, inner_mm=spacer.inner_mm, bolt_mm=size.diameter_mm)
    borne, drawn = _spacer_bears_n(spacer, survey), _about_preload_n(bolt, size)
    if borne is not None and drawn is not None and borne < drawn:
        yield found(
            "spacer-crushed",
            where,
            outer_mm=spacer.outer_mm,
            inner_mm=spacer.inner_mm,
            material=spacer.material,
            borne_kn=borne / 1000.0,
            drawn_kn=drawn / 1000.0,
        )


def _spacer_bears_n(spacer: Spacer, survey: Survey) -> float | None:
    """Return the force along a spacer at which it yields, N; None while its strength is not known."""
    try:
        metal = material(spacer.material, survey.bracket.materials)
    except UnknownMaterialError:
        return None  # told with the casing's findings
    strength = metal.yield_mpa((spacer.outer_mm - spacer.inner_mm) / 2.0)
    area = math.pi / 4.0 * (spacer.outer_mm**2 - spacer.inner_mm**2)
    return None if strength is None else area * strength


def _about_preload_n(bolt: Bolt, size: BoltSize) -> float | None:
    """Return about what a bolt is tightened to, N, rather too little; None while that is blank."""
    if bolt.preload_n is not None:
        return sum(bolt.preload_n) / 2.0
    return (
        None if bolt.tightening_nm is None else bolt.tightening_nm * 1000.0 / (NUT_FACTOR * size.diameter_mm)
    )


def _fit(place: BoltPlace, survey: Survey) -> Iterator[Finding]:
    size = survey.sizes[survey.bolts[place.bolt].size]
    hole = 2.0 * place.hole_radius_mm
    where = f"bolt {place.bolt}, hole {place.hole} of plate {place.plate}"
    if hole < size.diameter_mm:
        yield found(
            "hole-too-small",
            where,
            hole_mm=hole,
            bolt_mm=size.diameter_mm,
            size=size.name,
            series=series_words(size),
        )
    elif hole < size.hole_fine_mm - 0.05:
        yield found("hole-tight", where, hole_mm=hole, size=size.name, series=series_words(size))
    elif hole > size.hole_coarse_mm + 0.05:
        yield found("hole-loose", where, hole_mm=hole, size=size.name, series=series_words(size))


def _rings(place: BoltPlace, survey: Survey) -> Iterator[Finding]:
    bolt = survey.bolts[place.bolt]
    hole = 2.0 * place.hole_radius_mm
    where = f"bolt {place.bolt}, hole {place.hole} of plate {place.plate}"
    partner = place.partner_name if place.partner == "dash bar" else f"{place.partner} {place.partner_name}"
    rests = "its spacer" if bolt.spacer is not None else partner
    yield from _thin_washer(place, survey)
    if place.head_outer_mm <= place.head_inner_mm and 2.0 * place.head_outer_mm <= hole:
        yield found("washer-too-small", where, outer_mm=2.0 * place.head_outer_mm, hole_mm=hole)
    yield from _narrow(place, where, "under its head or nut", place.head_inner_mm, place.head_outer_mm)
    if place.mating_outer_mm > place.mating_inner_mm:
        yield from _narrow(place, where, f"on {rests}", place.mating_inner_mm, place.mating_outer_mm)
        if place.mating_outer_mm > place.head_outer_mm + PRESSED_BEYOND * place.thickness_mm + _SLACK_MM:
            yield found(
                "contact-too-wide",
                where,
                partner=rests,
                outer_mm=2.0 * place.mating_outer_mm,
                washer_mm=2.0 * place.head_outer_mm,
                thickness_mm=place.thickness_mm,
            )
    elif bolt.spacer is None:
        yield found(
            "contact-too-small", where, partner=partner, outer_mm=2.0 * place.mating_outer_mm, hole_mm=hole
        )
    elif bolt.spacer.outer_mm <= hole:
        yield found("spacer-through-hole", where, outer_mm=bolt.spacer.outer_mm, hole_mm=hole)
    if bolt.spacer is not None and bolt.spacer.inner_mm > 2.0 * place.head_outer_mm - _SLACK_MM:
        bore, washer = bolt.spacer.inner_mm, 2.0 * place.head_outer_mm
        yield found("spacer-bore-wide", where, bore_mm=bore, washer_mm=washer)
    if bolt.spacer is not None and place.side == "head":
        under = stands_on_mm(survey.bracket, bolt)
        if under is not None and under <= 2.0 * place.mating_inner_mm + _SLACK_MM:
            bore = 2.0 * place.mating_inner_mm
            yield found("spacer-over-face", where, partner=partner, bore_mm=bore, face_mm=under)


def _thin_washer(place: BoltPlace, survey: Survey) -> Iterator[Finding]:
    """Tell a washer so wide and thin that its rim only follows the sheet."""
    bolt = survey.bolts[place.bolt]
    if not isinstance(bolt.washer, Washer):
        return
    head = survey.sizes[bolt.size].head_face_mm
    together = bolt.washer.thickness_mm + place.thickness_mm
    if bolt.washer.outer_mm > head + 2.0 * PRESSED_BEYOND * together + _SLACK_MM:
        yield found(
            "washer-too-thin",
            f"bolt {place.bolt}, hole {place.hole} of plate {place.plate}",
            outer_mm=bolt.washer.outer_mm,
            washer_mm=bolt.washer.thickness_mm,
            head_mm=head,
            thickness_mm=place.thickness_mm,
        )


def _narrow(place: BoltPlace, where: str, rests: str, inner_mm: float, outer_mm: float) -> Iterator[Finding]:
    """Tell a ring so narrow that both its circles are one line of the mesh: nothing would be clamped."""
    merged = merged_radii(footprint_of(place), place.thickness_mm)
    if inner_mm < outer_mm and merged[outer_mm] <= merged[inner_mm]:
        yield found("ring-too-narrow", where, rests=rests, outer_mm=2.0 * outer_mm, inner_mm=2.0 * inner_mm)


def _around(shape: PlateShape, places: list[BoltPlace], outline: BaseGeometry) -> Iterator[Finding]:
    """Look from each hole to the edge of the plate, to openings that no bolt goes through, and to bends."""
    bolted = {place.hole for place in places}
    names = [name for name in shape.openings if name not in bolted]
    tree = STRtree([shape.openings[name] for name in names])
    edge = outline.boundary
    plate = shape.plate.name
    for place in places:
        where, middle = f"bolt {place.bolt}", Point(place.flat_mm)
        if not outline.contains(middle):
            continue  # told as a hole outside
        to_edge = float(middle.distance(edge))
        least = EDGE_SHARE * 2.0 * place.hole_radius_mm
        if to_edge < least - _SLACK_MM:
            yield found("edge-distance", where, hole=place.hole, edge_mm=to_edge, plate=plate, least_mm=least)
        if (over := place.spread_mm - to_edge) > _SLACK_MM:
            yield found("footprint-over-edge", where, by_mm=over, plate=plate, hole=place.hole)
        for index in tree.query(middle, predicate="dwithin", distance=max(place.spread_mm, least)).tolist():
            apart = float(middle.distance(shape.openings[names[index]]))
            if place.spread_mm - apart > _SLACK_MM:
                yield found(
                    "footprint-over-opening",
                    where,
                    by_mm=place.spread_mm - apart,
                    opening=f"opening {names[index]}",
                    plate=plate,
                )
            elif apart < least - _SLACK_MM:
                yield found(
                    "edge-to-opening",
                    where,
                    hole=place.hole,
                    edge_mm=apart,
                    opening=f"opening {names[index]}",
                    plate=plate,
                    least_mm=least,
                )
        for zone in shape.bends:
            over = place.spread_mm - float(middle.distance(zone.polygon))
            if over > _SLACK_MM:
                yield found(
                    "footprint-over-bend",
                    where,
                    by_mm=over,
                    fold=zone.fold.name,
                    plate=plate,
                    hole=place.hole,
                )


def _apart(shape: PlateShape, places: list[BoltPlace]) -> Iterator[Finding]:
    """Look from each hole to its neighbours: their rings on the same face, and the pitch."""
    places = list({place.hole: place for place in places}.values())
    if len(places) < 2:
        return
    at = np.array([place.flat_mm for place in places])
    far = 2.0 * max(max(place.spread_mm, PITCH_SHARE * place.hole_radius_mm) for place in places)
    # half a second to import, which nobody who only draws has to wait for
    from scipy.spatial import cKDTree

    for i, j in sorted(cKDTree(at).query_pairs(far)):
        a, b = places[i], places[j]
        apart = float(np.linalg.norm(at[i] - at[j]))
        rings = footprint_of(a), footprint_of(b)
        over = max(rings[0].outer_mm(face) + rings[1].outer_mm(face) for face in FACES) - apart
        where, plate = f"bolt {b.bolt}", shape.plate.name
        if over > _SLACK_MM:
            yield found("footprint-over-footprint", where, other=a.bolt, by_mm=over, plate=plate)
        least = PITCH_SHARE * 2.0 * max(a.hole_radius_mm, b.hole_radius_mm)
        if apart < least - _SLACK_MM:
            yield found(
                "pitch",
                where,
                hole=b.hole,
                apart_mm=apart,
                other=f"hole {a.hole}",
                plate=plate,
                least_mm=least,
            )
