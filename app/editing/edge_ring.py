"""A closed run of edges as corners say it, for cutting and joining plates without losing an arc or a radius.

Glossary
--------
ring      the edges of an outline or opening, end to end, closed
station   one edge of a ring: where it starts, the middle of its arc if it is one, and what it was drawn as
rounding  the arc that rounds a drawn corner; one that comes through whole becomes that corner again
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from geometry.flat_pattern import LEAST_EDGE_MM, flat_pattern
from geometry.flat_segments import Arc, Edge, Flat, Line, arc_through, loop_area_mm2
from geometry.plate import Corner, CutOut, Hole, Plate, Slot

Drawn = Literal["edge", "rounding", "cut"]
SMOOTH_RAD: Final = 1e-6
"""Edges that meet at less than this run on smoothly."""


@dataclass(frozen=True)
class Station:
    """One edge of a ring."""

    at: Flat
    via: Flat | None
    """Where an arc passes; None for a straight edge."""
    drawn: Drawn
    corner: Corner | None = None
    """For a whole rounding: the corner it rounds."""
    joint: bool = False
    """Whether its start is a place where two plates were joined: it may vanish if the edges run on."""
    healed: bool = False
    """Whether it is an arc that was in two plates and is one again."""


Ring = tuple[Station, ...]


def outline_ring(corners: Sequence[Corner], where: str = "outline") -> Ring:
    """Return the ring of corners, each rounding as an arc of its own.

    ShapeError if a rounding or an arc cannot be made.
    """
    # Made once as a whole, so that an impossible corner is refused in the usual words.
    flat_pattern(Plate(name=where, material=None, thickness_mm=1.0, outline=tuple(corners)))
    stations: list[Station] = []
    for i, corner in enumerate(corners):
        before, after = corners[i - 1].at_mm, corners[(i + 1) % len(corners)].at_mm
        if corner.radius_mm > 0.0 and (arc := _rounding(before, corner, after)) is not None:
            stations.append(Station(arc.start, _middle(arc), "rounding", corner))
            stations.append(Station(arc.end, None, "edge"))
        else:
            stations.append(Station(corner.at_mm, corner.arc_via_mm, "edge"))
    return tuple(stations)


def opening_ring(opening: Hole | Slot | CutOut) -> Ring:
    """Return the ring of an opening; a round hole as two half circles."""
    if isinstance(opening, CutOut):
        return outline_ring(opening.corners, f"opening {opening.name}")
    if isinstance(opening, Hole) or opening.length_mm - opening.width_mm < 2.0 * LEAST_EDGE_MM:
        radius = (opening.diameter_mm if isinstance(opening, Hole) else opening.width_mm) / 2.0
        halves = (Arc(opening.centre_mm, radius, k * math.pi, math.pi) for k in (0, 1))
        return tuple(Station(arc.start, _middle(arc), "edge", joint=True) for arc in halves)
    reach, half = (opening.length_mm - opening.width_mm) / 2.0, opening.width_mm / 2.0
    along = math.radians(opening.angle_deg)
    (cx, cy), (ux, uy) = opening.centre_mm, (math.cos(along), math.sin(along))
    ring: list[Station] = []
    for sign, start in ((1.0, along - math.pi / 2), (-1.0, along + math.pi / 2)):
        arc = Arc((cx + sign * reach * ux, cy + sign * reach * uy), half, start, math.pi)
        ring += [Station(arc.start, _middle(arc), "edge"), Station(arc.end, None, "edge")]
    return tuple(ring)


def edge_of(ring: Ring, i: int) -> Edge | None:
    """Return the exact edge of a station; None for one of no length, between two roundings that meet."""
    here, end = ring[i], ring[(i + 1) % len(ring)].at
    if here.via is not None:
        return arc_through(here.at, here.via, end, "edge")
    return Line(here.at, end) if math.dist(here.at, end) >= LEAST_EDGE_MM else None


def edges_of(ring: Ring) -> list[Edge]:
    """Return the exact edges of a ring in order, those of no length left out."""
    return [edge for i in range(len(ring)) if (edge := edge_of(ring, i)) is not None]


def signed_area_mm2(ring: Ring) -> float:
    """Return the area a ring encloses, positive when it runs from x toward y."""
    return loop_area_mm2(tuple(edges_of(ring)))


def turned_round(ring: Ring) -> Ring:
    """Return the ring walked the other way."""
    count = len(ring)
    return tuple(
        replace(ring[k - 1], at=ring[k % count].at, joint=ring[k % count].joint) for k in range(count, 0, -1)
    )


def counter_clockwise(ring: Ring, *, hole: bool = False) -> Ring:
    """Return the ring with the material on its left: an outline from x toward y, an opening the other way."""
    return turned_round(ring) if (signed_area_mm2(ring) > 0.0) == hole else ring


def split_at(station: Station, end: Flat, shares: Sequence[float], edge: Edge) -> list[Station]:
    """Return the stations an edge becomes when cut at shares (in order, within it); exact for arcs."""
    if not shares:
        return [station]
    if isinstance(edge, Line):
        ends = [station.at, *(_at(edge, share) for share in shares)]
        return [Station(at, None, "edge", joint=station.joint and k == 0) for k, at in enumerate(ends)]
    bounds = [0.0, *shares, 1.0]
    found = []
    for k, low in enumerate(bounds[:-1]):
        at = station.at if k == 0 else _at(edge, low)
        found.append(
            Station(at, _at(edge, (low + bounds[k + 1]) / 2.0), "edge", joint=station.joint and k == 0)
        )
    return found


def corners_of(ring: Ring) -> tuple[Corner, ...]:
    """Return the corners of a ring: whole roundings as the corners they were, all else as it is."""
    count = len(ring)
    kept = [i for i in range(count) if not _is_speck(ring, i)]
    corners: list[Corner] = []
    skip = -1
    for i in kept:
        here = ring[i]
        if here.drawn == "rounding" and here.corner is not None and _stands_between_edges(ring, i):
            corners.append(here.corner)
            skip = (i + 1) % count
        elif i != skip:
            corners.append(Corner(at_mm=here.at, arc_via_mm=here.via))
    if skip == kept[0] and len(corners) > 1 and corners[0].at_mm == ring[kept[0]].at:
        corners = corners[1:]  # the rounding that ends the ring begins it
    return tuple(corners)


def smoothed(ring: Ring) -> Ring:
    """Return the ring without the joints its edges run smoothly across: one line, one arc, one rounding."""
    stations = list(ring)
    i = 0
    while i < len(stations) and len(stations) > 2:
        merged = _merged(tuple(stations), i) if stations[i].joint else None
        if merged is None:
            i += 1
        else:
            stations[i - 1] = merged
            del stations[i]
            i = 0
    for i in range(len(stations)):
        stations[i] = _as_rounding(tuple(stations), i)
    return tuple(replace(station, joint=False, healed=False) for station in stations)


def whole_circle(ring: Ring) -> tuple[Flat, float] | None:
    """Return centre and radius if the ring is one circle; None otherwise."""
    arcs = edges_of(ring)
    first = arcs[0]
    if not isinstance(first, Arc):
        return None
    for arc in arcs[1:]:
        if not isinstance(arc, Arc) or not _same_circle(first, arc):
            return None
    return first.centre, first.radius_mm


def _rounding(before: Flat, corner: Corner, after: Flat) -> Arc | None:
    into, out = Line(before, corner.at_mm).direction(0.0), Line(corner.at_mm, after).direction(0.0)
    turn = math.atan2(into[0] * out[1] - into[1] * out[0], into[0] * out[0] + into[1] * out[1])
    cut = corner.radius_mm * math.tan(abs(turn) / 2.0)
    if cut <= LEAST_EDGE_MM:
        return None
    (x, y), side = corner.at_mm, math.copysign(corner.radius_mm, turn)
    start = (x - cut * into[0], y - cut * into[1])
    centre = (start[0] - side * into[1], start[1] + side * into[0])
    return Arc(centre, corner.radius_mm, math.atan2(start[1] - centre[1], start[0] - centre[0]), turn)


def _middle(arc: Arc) -> Flat:
    return _at(arc, 0.5)


def _at(edge: Edge, share: float) -> Flat:
    if isinstance(edge, Line):
        (x0, y0), (x1, y1) = edge.start, edge.end
        return (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
    angle = edge.from_rad + share * edge.turn_rad
    return (
        edge.centre[0] + edge.radius_mm * math.cos(angle),
        edge.centre[1] + edge.radius_mm * math.sin(angle),
    )


def _is_speck(ring: Ring, i: int) -> bool:
    """Tell whether an edge has no length and stands for no rounding's end that is needed."""
    return ring[i].via is None and edge_of(ring, i) is None and not _follows_rounding(ring, i)


def _follows_rounding(ring: Ring, i: int) -> bool:
    return ring[i - 1].drawn == "rounding" and _stands_between_edges(ring, (i - 1) % len(ring))


def _stands_between_edges(ring: Ring, i: int) -> bool:
    """Tell whether straight drawn edges lead to and from a rounding, as its corner needs."""
    before, after = ring[i - 1], ring[(i + 1) % len(ring)]
    return before.drawn == "edge" and before.via is None and after.drawn == "edge" and after.via is None


def _same_circle(a: Arc, b: Arc) -> bool:
    slack = 1e-6 * max(1.0, a.radius_mm)
    same_way = (a.turn_rad > 0.0) == (b.turn_rad > 0.0)
    return same_way and math.dist(a.centre, b.centre) < slack and abs(a.radius_mm - b.radius_mm) < slack


def _merged(ring: Ring, i: int) -> Station | None:
    """Return the one edge that the edges before and at a station make; None if they are two."""
    before, here = edge_of(ring, i - 1), edge_of(ring, i)
    kept = ring[i - 1]
    if before is None or here is None:
        return replace(ring[i], at=kept.at, joint=kept.joint) if before is None else kept
    if isinstance(before, Line) and isinstance(here, Line):
        (ax, ay), (bx, by) = before.direction(1.0), here.direction(0.0)
        runs_on = abs(ax * by - ay * bx) < SMOOTH_RAD and ax * bx + ay * by > 0.0
        return replace(kept, drawn="edge") if runs_on else None
    if isinstance(before, Arc) and isinstance(here, Arc) and _same_circle(before, here):
        turn = before.turn_rad + here.turn_rad
        if abs(turn) < 2.0 * math.pi - 1e-9:
            whole = Arc(before.centre, before.radius_mm, before.from_rad, turn)
            return Station(kept.at, _middle(whole), "edge", joint=kept.joint, healed=True)
    return None


def _as_rounding(ring: Ring, i: int) -> Station:
    """Return the station as a rounding if it is an arc that rounds the corner of its two neighbours."""
    before, here, after = (edge_of(ring, k % len(ring)) for k in (i - 1, i, i + 1))
    station = ring[i]
    if not station.healed or not (
        isinstance(before, Line) and isinstance(here, Arc) and isinstance(after, Line)
    ):
        return station
    smooth = all(
        abs(u[0] * v[1] - u[1] * v[0]) < SMOOTH_RAD and u[0] * v[0] + u[1] * v[1] > 0.0
        for u, v in (
            (before.direction(1.0), here.direction(0.0)),
            (here.direction(1.0), after.direction(0.0)),
        )
    )
    if not smooth or abs(here.turn_rad) > math.pi - 1e-3:
        return station
    cut = here.radius_mm * math.tan(abs(here.turn_rad) / 2.0)
    ux, uy = before.direction(1.0)
    at = (here.start[0] + cut * ux, here.start[1] + cut * uy)
    return replace(station, drawn="rounding", corner=Corner(at_mm=at, radius_mm=here.radius_mm))
