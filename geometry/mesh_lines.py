"""The lines a flat mesh must follow, cut where they cross and divided to the size wanted.

Glossary
--------
mesh line   an edge of the outline or of an opening, a bend line, a footprint circle or a judged circle
piece       a part of a mesh line between two crossings
stretch     the straight chord between two neighbouring points of a divided piece: an edge of the mesh
clipped     of a circle: not all of it lies in the panel its footprint stands on, so only that part is a
            mesh line
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from geometry.edge_crossings import boxes, crossings
from geometry.flat_segments import FULL_TURN, Arc, Edge, Floats, Loop
from geometry.merged_points import MergedPoints

Ints = NDArray[np.int64]
SizeAt = Callable[[Floats], Floats]

LEAST_PER_QUARTER: Final = 6
"""Elements along each quarter turn of an opening or of an inside radius, at least."""
CLAMPED_PER_QUARTER: Final = 4
"""The same of a hole that a bolt clamps: no stress is judged under the footprint."""
CIRCLE_LEAST: Final = 12
"""Elements round a footprint or judged circle, at least."""
BESIDE_SHARE: Final = 0.05
"""A circle that runs beside another line nearer than this share of the thickness is dropped there: no
sliver."""
MERGE_SHARE: Final = 0.02
"""Crossings nearer than this share of the thickness to an end or to each other become one point."""
_TRIES: Final = 17
"""Places along each piece at which the size is asked for."""
SAMPLES: Final = 256
"""Places along a circle at which its distance to other lines is looked at."""


@dataclass(frozen=True)
class MeshLine:
    """A line the mesh must follow."""

    edge: Edge
    name: str
    """Lines of one name are found together: `edge`, an opening, a judged circle."""
    least: int = 1
    """Stretches over its whole length, at least."""
    within: BaseGeometry | None = None
    """Region it is cut to; None is all the material."""


@dataclass(frozen=True)
class DividedLines:
    """All mesh lines as points and stretches."""

    points: Floats
    """(n, 2) mm."""
    loops: tuple[Ints, ...]
    """Point numbers round the outline, then round each opening."""
    inner: Ints
    """(m, 2) stretches inside the material."""
    arcs: dict[tuple[int, int], Arc]
    """Stretches, lower point first, whose middle belongs on an arc."""
    named: dict[str, Ints]
    """(k, 2) stretches by the name of their line."""


def clip_circle(
    circle: Arc, panel: BaseGeometry, others: Sequence[Edge], beside_mm: float
) -> tuple[list[Arc], bool]:
    """Return the parts of a circle inside the panel, and whether any of it was lost.

    Parts that run beside the panel's edge or one of the other edges nearer than beside_mm are dropped too;
    a part that merely crosses is kept up to the crossing.
    """
    share = np.arange(SAMPLES) / SAMPLES
    places = circle.at(share)
    points = shapely.points(places)
    inside = shapely.contains(panel, points)
    near = shapely.distance(shapely.boundary(panel), points) < beside_mm
    for other in others:
        near |= _distance(other, places) < beside_mm
    step_mm = circle.length_mm / SAMPLES
    lost = ~inside | _long_runs(inside & near, math.ceil(3.0 * beside_mm / step_mm) + 1)
    if not lost.any():
        return [circle], False
    if lost.all():
        return [], True
    kept = []
    for first, count in _runs(~lost):
        # Reach half a step past the samples: far enough to meet the line it crosses, which then
        # cuts it exactly.
        low, high = (first - 1) / SAMPLES, (first + count) / SAMPLES
        kept.append(
            Arc(circle.centre, circle.radius_mm, circle.from_rad + low * FULL_TURN, (high - low) * FULL_TURN)
        )
    return kept, True


def divide(
    loops: dict[str, Loop],
    leasts: dict[str, list[int]],
    inner: Sequence[MeshLine],
    material: BaseGeometry,
    size_at: SizeAt,
    thickness_mm: float,
) -> DividedLines:
    """Return all lines cut where they cross and divided.

    `loops` are the outline and the openings by name, `leasts` the stretches at least for each of their
    edges; `inner` lines are cut to what lies inside their region.
    """
    edges: list[Edge] = [edge for loop in loops.values() for edge in loop]
    border = len(edges)
    least = [n for name in loops for n in leasts[name]] + [line.least for line in inner]
    edges += [line.edge for line in inner]
    shares = _crossing_shares(edges, border, MERGE_SHARE * thickness_mm)
    points = MergedPoints(MERGE_SHARE * thickness_mm)
    for edge in edges[:border]:
        points.number(edge.start, exact=True)
        points.number(edge.end, exact=True)
    pieces = [_numbered(edge, cut, points) for edge, cut in zip(edges, shares, strict=True)]
    kept: list[tuple[int, _Piece]] = []
    regions = [material] * border + [line.within or material for line in inner]
    for number, (edge, cuts) in enumerate(zip(edges, pieces, strict=True)):
        for (low, a), (high, b) in itertools.pairwise(cuts):
            whole = isinstance(edge, Arc) and edge.is_circle and high - low > 1.0 - 1e-12
            if a == b and not whole:
                continue
            if number >= border and not _is_inside(edge, low, high, regions[number], 1e-3 * thickness_mm):
                continue
            at_least = math.ceil(least[number] * (high - low) - 1e-9)
            kept.append((number, _Piece(edge, low, high, a, b, at_least)))
    # Asked for all at once: the size knows a few thousand places as quickly as seventeen.
    wanted = size_at(np.concatenate([piece.edge.at(piece.tries) for _, piece in kept]))
    divided: list[list[Ints]] = [[] for _ in edges]
    arcs: dict[tuple[int, int], Arc] = {}
    for (number, piece), sizes in zip(kept, np.split(wanted, len(kept)), strict=True):
        chain = _divide_piece(piece, points, sizes)
        divided[number].append(chain)
        if isinstance(piece.edge, Arc):
            for i, j in zip(chain[:-1].tolist(), chain[1:].tolist(), strict=True):
                arcs.setdefault((min(i, j), max(i, j)), piece.edge)
    return _gather(loops, inner, border, divided, points, arcs)


@dataclass(frozen=True)
class _Piece:
    """A piece of an edge between two cuts, with the numbers of the points there."""

    edge: Edge
    low: float
    high: float
    a: int
    b: int
    least: int
    """Stretches at least."""

    @property
    def tries(self) -> Floats:
        """The shares at which the size is asked for."""
        return self.low + (self.high - self.low) * np.linspace(0.0, 1.0, _TRIES)


def _crossing_shares(edges: list[Edge], border: int, slack_mm: float) -> list[list[float]]:
    """Shares at which each edge is cut; border edges meet only at their ends, so they cut no other."""
    shares: list[list[float]] = [[] for _ in edges]
    box = boxes(edges) + slack_mm * np.array([-1.0, -1.0, 1.0, 1.0])
    for j in range(border, len(edges)):
        apart = (
            (box[:j, 0] > box[j, 2])
            | (box[:j, 2] < box[j, 0])
            | (box[:j, 1] > box[j, 3])
            | (box[:j, 3] < box[j, 1])
        )
        for i in np.flatnonzero(~apart).tolist():
            for share_i, share_j in crossings(edges[i], edges[j], slack_mm):
                shares[i].append(share_i)
                shares[j].append(share_j)
    return shares


def _numbered(edge: Edge, cuts: list[float], points: MergedPoints) -> list[tuple[float, int]]:
    """Return (share, point) along the edge, ends first and last, each point once."""
    closed = isinstance(edge, Arc) and edge.is_circle
    inside = sorted(s for s in set(cuts) if 0.0 < s < 1.0)
    if closed and inside:
        # A cut circle starts at its first cut: no needless point at its own start.
        inside = [s for s in inside if s - inside[0] < 1.0 - 1e-9]
        inside.append(inside[0] + 1.0)
    else:
        inside = [0.0, *inside, 1.0]
    where = edge.at(np.array(inside))
    numbered: list[tuple[float, int]] = []
    for share, place in zip(inside, where.tolist(), strict=True):
        number = points.number((place[0], place[1]))
        if not numbered or numbered[-1][1] != number or (closed and share == inside[-1]):
            numbered.append((share, number))
    return numbered


def _divide_piece(piece: _Piece, points: MergedPoints, sizes: Floats) -> Ints:
    """Return the point numbers along one piece, spaced as the sizes at its tries ask."""
    edge, low, high, tries = piece.edge, piece.low, piece.high, piece.tries
    length = edge.length_mm * (high - low)
    density = 1.0 / sizes
    so_far = np.concatenate([[0.0], np.cumsum(0.5 * (density[1:] + density[:-1]))]) * length / (_TRIES - 1)
    count = max(piece.least, round(float(so_far[-1])), 1)
    if piece.a == piece.b:
        count = 4 * math.ceil(count / 4)
    cuts = np.interp(np.linspace(0.0, so_far[-1], count + 1)[1:-1], so_far, tries)
    if isinstance(edge, Arc) and float(density.max()) < 1.25 * float(density.min()):
        cuts = low + (high - low) * np.arange(1, count) / count
    between = [points.add((x, y)) for x, y in edge.at(cuts).tolist()] if count > 1 else []
    return np.array([piece.a, *between, piece.b], dtype=np.int64)


def _is_inside(edge: Edge, low: float, high: float, region: BaseGeometry, off_mm: float) -> bool:
    middle = shapely.points(edge.at(np.array([0.5 * (low + high)])))[0]
    border = shapely.boundary(region)
    return bool(shapely.contains(region, middle)) and float(shapely.distance(border, middle)) > off_mm


def _gather(
    loops: dict[str, Loop],
    inner: Sequence[MeshLine],
    border: int,
    divided: list[list[Ints]],
    points: MergedPoints,
    arcs: dict[tuple[int, int], Arc],
) -> DividedLines:
    rings, named, at = [], {}, 0
    taken: set[tuple[int, int]] = set()
    for name, loop in loops.items():
        chains = [chain for chains in divided[at : at + len(loop)] for chain in chains]
        at += len(loop)
        ring = np.concatenate([chain[:-1] for chain in chains])
        rings.append(ring)
        named[name] = np.stack([ring, np.roll(ring, -1)], axis=1)
        taken |= {(min(i, j), max(i, j)) for i, j in named[name].tolist()}
    inside: list[tuple[int, int]] = []
    by_name: dict[str, list[tuple[int, int]]] = {}
    for line, chains in zip(inner, divided[border:], strict=True):
        for chain in chains:
            for i, j in zip(chain[:-1].tolist(), chain[1:].tolist(), strict=True):
                stretch = (min(i, j), max(i, j))
                by_name.setdefault(line.name, []).append(stretch)
                if stretch not in taken:
                    taken.add(stretch)
                    inside.append(stretch)
    for name, stretches in by_name.items():
        named[name] = np.array(stretches, dtype=np.int64).reshape(-1, 2)
    inner_stretches = np.array(inside, dtype=np.int64).reshape(-1, 2)
    # A clipped circle reaches past the line that cuts it: its own end belongs to no stretch and is left out.
    used = np.unique(np.concatenate([*rings, inner_stretches.ravel()]))
    number = np.full(len(points.places), -1, dtype=np.int64)
    number[used] = np.arange(len(used))
    return DividedLines(
        np.array(points.places)[used],
        tuple(number[ring] for ring in rings),
        number[inner_stretches],
        {(int(number[i]), int(number[j])): arc for (i, j), arc in arcs.items()},
        {name: number[stretches] for name, stretches in named.items()},
    )


def _distance(edge: Edge, places: Floats) -> Floats:
    if isinstance(edge, Arc):
        off: Floats = np.abs(np.hypot(*(places - np.asarray(edge.centre)).T) - edge.radius_mm)
        return off
    a = np.asarray(edge.start)
    along = np.asarray(edge.end) - a
    share = np.clip((places - a) @ along / (along @ along), 0.0, 1.0)
    away: Floats = np.hypot(*(places - a - share[:, None] * along).T)
    return away


def _runs(flags: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """(first, count) of each run of True round a closed ring."""
    if flags.all():
        return [(0, len(flags))]
    starts = np.flatnonzero(flags & ~np.roll(flags, 1))
    ends = np.flatnonzero(flags & ~np.roll(flags, -1))
    if len(starts) and ends[0] < starts[0]:
        ends = np.roll(ends, -1)
    return [(int(s), int((e - s) % len(flags)) + 1) for s, e in zip(starts, ends, strict=True)]


def _long_runs(flags: NDArray[np.bool_], least: int) -> NDArray[np.bool_]:
    marked = np.zeros_like(flags)
    for first, count in _runs(flags):
        if count >= least:
            marked[(first + np.arange(count)) % len(flags)] = True
    return marked
