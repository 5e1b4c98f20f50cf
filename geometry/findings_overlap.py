"""Findings about solid things that stand in the same place: plates, the dash bar and the steering shaft."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Final

import numpy as np

from geometry.bar_face import depth_inside_bar
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.plate_body import PlateBody, depth_in_plate, plate_body
from geometry.survey import Survey

THINNEST_MM: Final = 10.0
"""No steering shaft is thinner (common practice, no source)."""
STEP_MM: Final = 1.0
LEAST_STEP_MM: Final = 0.2
"""Between places that are looked at along the shaft."""
LONGEST_MM: Final = 4000.0
DEEPER_MM: Final = 0.3
"""Faces that touch, and drawings that are a hair off, are no overlap."""


def overlap_findings(known: Survey) -> Iterator[Finding]:
    """Yield plates that run into each other, into the dash bar or into the shaft, and a bar in the shaft."""
    bar = known.bracket.dash_bar
    bodies = [body for body in map(plate_body, known.shapes) if body is not None]
    yield from _in_the_shaft(known.bracket, bodies)
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


def _in_the_shaft(bracket: Bracket, bodies: Sequence[PlateBody]) -> Iterator[Finding]:
    """Tell what stands where the shaft is: it runs from the casing's lower end up to the wheel."""
    casing, wheel = bracket.casing, bracket.wheel
    if casing is None or wheel is None:
        return
    low, high = casing.along_shaft_mm[0], wheel.station_mm
    if not 0.0 < high - low < LONGEST_MM:
        return  # told as another unit, or as a wheel below the casing
    thinnest = min((body.thickness_mm for body in bodies), default=2.0 * STEP_MM)
    count = math.ceil((high - low) / max(min(STEP_MM, 0.4 * thinnest), LEAST_STEP_MM)) + 1
    turns = np.arange(8) * math.pi / 4.0
    round_it = np.vstack([np.zeros(2), THINNEST_MM / 2.0 * np.column_stack([np.cos(turns), np.sin(turns)])])
    stations = np.linspace(low, high, count)
    spots = np.column_stack([np.tile(round_it, (count, 1)), np.repeat(stations, len(round_it))])
    depths = [(f"plate {body.name}", _deep_along(body, spots)) for body in bodies]
    if bracket.dash_bar is not None:
        depths.append((bracket.dash_bar.name, depth_inside_bar(bracket.dash_bar, spots)))
    for where, deep in depths:
        if deep.max() > 0.0:
            at = float(spots[int(deep.argmax()), 2])
            yield found("shaft-blocked", where, at_mm=at, across_mm=THINNEST_MM)


def _deep_along(body: PlateBody, spots: np.ndarray) -> np.ndarray:
    """Return how deep the shaft's places (n, 3) lie in a plate, mm (n,); most plates are nowhere near."""
    deep = np.zeros(len(spots))
    beside = np.hypot(body.spots[:, 0], body.spots[:, 1]) <= THINNEST_MM / 2.0 + body.reach_mm
    if beside.any():
        along = body.spots[beside, 2]
        within = (spots[:, 2] >= along.min() - body.reach_mm) & (spots[:, 2] <= along.max() + body.reach_mm)
        deep[within] = depth_in_plate(body, spots[within])
    return deep


def _runs_into(one: PlateBody, other: PlateBody) -> tuple[float, tuple[float, float, float]]:
    """Return how deep the first runs into the metal of the other, and where; 0 if it does not."""
    low, high = other.spots.min(axis=0) - DEEPER_MM, other.spots.max(axis=0) + DEEPER_MM
    near = one.spots[np.all((one.spots >= low) & (one.spots <= high), axis=1)]
    deep = depth_in_plate(other, near)
    if not len(deep) or deep.max() <= 0.0:
        return 0.0, (0.0, 0.0, 0.0)
    at = near[int(deep.argmax())]
    return float(deep.max()), (float(at[0]), float(at[1]), float(at[2]))
