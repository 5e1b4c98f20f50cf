"""Where a straight line cuts the rings of a flat pattern, and the rings of the pieces.

The line is taken as endless to find where it passes from outside into the material and out again; of those
stretches only the ones that the drawn line covers are cut.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.editing.edge_ring import Ring, Station, edge_of, split_at
from app.editing.refused import EditRefused
from geometry.edge_crossings import crossings
from geometry.flat_pattern import LEAST_EDGE_MM
from geometry.flat_segments import Flat, Floats, Line

SLACK_MM: Final = 0.01
"""A drawn line that ends this near the edge reaches it."""
_ON_LINE_MM: Final = 1e-9


@dataclass(frozen=True)
class Cut:
    """What a line does to rings that have the material on their left."""

    rings: tuple[Ring, ...]
    """Of the pieces, where the line cut them."""
    touched: tuple[int, ...]
    """Numbers of the rings that were cut; the others are as they were."""


@dataclass(frozen=True)
class _Crossing:
    ring: int
    station: int
    share: float
    along_mm: float


def cut_rings(rings: Sequence[Ring], from_mm: Flat, to_mm: Flat) -> Cut:
    """Return the rings after the cut.

    EditRefused if the line ends within the material, misses it or runs along its edge.
    """
    refusal: EditRefused | None = None
    # An edge that lies along the line is taken to be on its left, and if that cannot be, on its right.
    for side in (1.0, -1.0):
        try:
            pairs = _covered(_pairs(rings, from_mm, to_mm, side), math.dist(from_mm, to_mm))
        except EditRefused as fault:
            refusal = refusal or fault
            continue
        if pairs:
            return Cut(tuple(_sewn(rings, pairs)), tuple(sorted({c.ring for pair in pairs for c in pair})))
    raise refusal or EditRefused("the line does not cross the plate: draw it from edge to edge")


def _pairs(
    rings: Sequence[Ring], from_mm: Flat, to_mm: Flat, side_on_line: float
) -> list[tuple[_Crossing, _Crossing]]:
    """Return where the endless line enters the material and leaves it again, in order along it."""
    places = np.array([station.at for ring in rings for station in ring])
    direction = Line(from_mm, to_mm).direction(0.0)
    reach = 4.0 * float(np.ptp(places, axis=0).max()) + float(np.abs(places - np.asarray(from_mm)).max())
    back = (from_mm[0] - reach * direction[0], from_mm[1] - reach * direction[1])
    ahead = (from_mm[0] + reach * direction[0], from_mm[1] + reach * direction[1])
    endless = Line(back, ahead)
    found = [
        crossing
        for number, ring in enumerate(rings)
        for crossing in _through(number, ring, endless, reach, side_on_line)
    ]
    found.sort(key=lambda crossing: crossing.along_mm)
    return list(zip(found[::2], found[1::2], strict=True))


def _through(number: int, ring: Ring, endless: Line, reach: float, side_on_line: float) -> list[_Crossing]:
    """Return where one ring passes from one side of the line to the other, touches left out."""
    met: list[_Crossing] = []
    for i in range(len(ring)):
        edge = edge_of(ring, i)
        if edge is None:
            continue
        for share_line, share in sorted(crossings(endless, edge, 1e-7), key=lambda pair: pair[1]):
            met.append(_Crossing(number, i, share, share_line * endless.length_mm - reach))
    met = _distinct(ring, met)
    sides = [
        _side(ring, here, met[(k + 1) % len(met)], endless) or side_on_line for k, here in enumerate(met)
    ]
    return [crossing for k, crossing in enumerate(met) if sides[k] != sides[k - 1]]


def _distinct(ring: Ring, met: list[_Crossing]) -> list[_Crossing]:
    """Return crossings at one place of the ring once, as the start of the later edge."""
    kept: list[_Crossing] = []
    for crossing in met:
        edge = edge_of(ring, crossing.station)
        assert edge is not None
        station, share = crossing.station, crossing.share
        if (1.0 - share) * edge.length_mm < LEAST_EDGE_MM:
            station, share = (station + 1) % len(ring), 0.0
            while edge_of(ring, station) is None:
                station = (station + 1) % len(ring)
        elif share * edge.length_mm < LEAST_EDGE_MM:
            share = 0.0
        same = any(
            k.station == station and abs(k.share - share) * edge.length_mm < LEAST_EDGE_MM for k in kept
        )
        if not same:
            kept.append(_Crossing(crossing.ring, station, share, crossing.along_mm))
    return sorted(kept, key=lambda k: (k.station, k.share))


def _side(ring: Ring, start: _Crossing, end: _Crossing, endless: Line) -> float:
    """Return 1 if the ring runs left of the line between two crossings, -1 if right, 0 if along it."""
    count = len(ring)
    steps = (end.station - start.station) % count
    if steps == 0 and end.share <= start.share:
        steps = count
    far = 0.0
    for k in range(steps + 1):
        edge = edge_of(ring, (start.station + k) % count)
        low, high = start.share if k == 0 else 0.0, end.share if k == steps else 1.0
        if edge is None or high <= low:
            continue
        off = _aside(endless, edge.at(low + (high - low) * np.array([0.25, 0.5, 0.75])))
        far = max(far, *off.tolist(), key=abs)
    return 0.0 if abs(far) < _ON_LINE_MM * endless.length_mm else math.copysign(1.0, far)


def _aside(line: Line, places: Floats) -> Floats:
    (x, y), (ux, uy) = line.start, line.direction(0.0)
    off: Floats = (places[:, 1] - y) * ux - (places[:, 0] - x) * uy
    return off


def _covered(pairs: list[tuple[_Crossing, _Crossing]], length_mm: float) -> list[tuple[_Crossing, _Crossing]]:
    covered = []
    for pair in pairs:
        low, high = pair[0].along_mm, pair[1].along_mm
        if low >= -SLACK_MM and high <= length_mm + SLACK_MM:
            covered.append(pair)
        elif low < length_mm - SLACK_MM and high > SLACK_MM:
            short = max(-low, high - length_mm)
            raise EditRefused(
                f"the line ends inside the plate, {short:.1f} mm short of its edge: draw it from edge to edge"
            )
    return covered


def _sewn(rings: Sequence[Ring], pairs: list[tuple[_Crossing, _Crossing]]) -> list[Ring]:
    """Return the rings that come of walking along the edges and, at every cut, across to its other end."""
    partner = {a: b for pair in pairs for a, b in (pair, pair[::-1])}
    chains: dict[_Crossing, tuple[list[Station], _Crossing]] = {}
    for number in {crossing.ring for crossing in partner}:
        cuts = sorted((c for c in partner if c.ring == number), key=lambda c: (c.station, c.share))
        chains.update(_chains(rings[number], cuts))
    sewn: list[Ring] = []
    while chains:
        first = here = next(iter(chains))
        stations: list[Station] = []
        while True:
            run, end = chains.pop(here)
            stations += run
            stations.append(Station(_place(rings, end), None, "cut"))
            here = partner[end]
            if here == first:
                break
        sewn.append(tuple(stations))
    return sewn


def _chains(ring: Ring, cuts: list[_Crossing]) -> dict[_Crossing, tuple[list[Station], _Crossing]]:
    """Return the stretch of ring from every cut to the next."""
    stations: list[Station] = []
    starts: list[int] = []
    for i in range(len(ring)):
        here = [cut for cut in cuts if cut.station == i]
        edge = edge_of(ring, i)
        if here and here[0].share == 0.0:
            starts.append(len(stations))
        inner = [cut.share for cut in here if cut.share > 0.0]
        pieces = [ring[i]] if edge is None else split_at(ring[i], edge.end, inner, edge)
        starts += [len(stations) + k + 1 for k in range(len(inner))]
        stations += pieces
    found = {}
    for k, cut in enumerate(cuts):
        low, high = starts[k], starts[(k + 1) % len(cuts)]
        run = stations[low:high] if high > low else stations[low:] + stations[:high]
        found[cut] = (run, cuts[(k + 1) % len(cuts)])
    return found


def _place(rings: Sequence[Ring], crossing: _Crossing) -> Flat:
    """Return where a crossing is, the same figures for both pieces."""
    ring, i = rings[crossing.ring], crossing.station
    edge = edge_of(ring, i)
    if crossing.share == 0.0 or edge is None:
        return ring[i].at
    return split_at(ring[i], edge.end, [crossing.share], edge)[1].at
