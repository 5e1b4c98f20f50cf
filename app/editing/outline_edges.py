"""What a reader of drawings hands on: chains of lines and arcs, and curves turned into lines and arcs.

Glossary
--------
chain   edges that follow each other, as one element of a drawing gives them
layer   what the drawing groups its elements by; lines that belong together are mostly on one
drawn   all chains of a drawing, in the drawing's own unit
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, get_args

import numpy as np
import numpy.typing as npt

from geometry.flat_segments import FULL_TURN, Arc, Edge, Flat, Line

Unit = Literal["mm", "cm", "m", "in", "ft", "px", "pt"]
"""What one unit of a drawing is; px is 1/96 of an inch, pt 1/72."""
MM_PER: Final[dict[Unit, float]] = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "px": 25.4 / 96, "pt": 25.4 / 72,
}  # fmt: skip
UNITS: Final[tuple[Unit, ...]] = get_args(Unit)
MOST_EDGES: Final = 20_000
Floats = npt.NDArray[np.float64]

_USUAL_ARC_OFF: Final = 3e-4
"""How far, as a share of the radius, a quarter circle written as one cubic curve lies off the circle."""
_SAMPLES: Final = np.linspace(0.0, 1.0, 17)
_DEEPEST: Final = 7
_LARGEST: Final = 1e8


class TooManyEdgesError(ValueError):
    """A drawing with more edges than any plate has."""


@dataclass(frozen=True)
class Chain:
    """Edges that follow each other end to start."""

    edges: tuple[Edge, ...]
    layer: str = ""

    @property
    def start(self) -> Flat:
        """Where it begins."""
        return self.edges[0].start

    @property
    def end(self) -> Flat:
        """Where it ends; its start, for a whole circle."""
        last = self.edges[-1]
        return last.start if isinstance(last, Arc) and last.is_circle else last.end

    @property
    def length(self) -> float:
        """Length along the edges, in the drawing's unit."""
        return math.fsum(edge.length_mm for edge in self.edges)

    def turned_round(self) -> Chain:
        """Return the chain run through from end to start."""
        return Chain(tuple(turned_round(edge) for edge in reversed(self.edges)), self.layer)


@dataclass(frozen=True)
class Drawn:
    """All chains of a drawing."""

    chains: tuple[Chain, ...]
    unit: Unit | None
    """None if the file does not say."""
    likely: tuple[Unit, ...]
    """Units to guess from, likeliest first."""
    words: tuple[str, ...] = ()
    """What was left out while reading, a sentence each."""


class Gathering:
    """Chains as they are read, with a bound on their edges."""

    def __init__(self) -> None:
        self.chains: list[Chain] = []
        self.impossible = 0
        """Chains dropped for coordinates that are no numbers, or absurd ones."""
        self._edges = 0

    def add(self, edges: Iterable[Edge], layer: str) -> None:
        """Take a chain up; edges of no length are dropped. Raises TooManyEdgesError."""
        kept: list[Edge] = []
        for edge in edges:
            self.count(1)  # one by one: they are made as they are asked for
            if not _possible(edge):
                self.impossible += 1
                return
            if edge.length_mm > 0.0:
                kept.append(edge)
        if kept:
            self.chains.append(Chain(tuple(kept), layer))

    def count(self, more: int) -> None:
        """Count edges that are about to be made. Raises TooManyEdgesError."""
        self._edges += more
        if self._edges > MOST_EDGES:
            raise TooManyEdgesError


def _possible(edge: Edge) -> bool:
    figures = (*edge.start, *edge.end, edge.length_mm)
    return all(abs(figure) < _LARGEST for figure in figures)  # false for what is no number, too


def turned_round(edge: Edge) -> Edge:
    """Return the edge run through from end to start."""
    if isinstance(edge, Line):
        return Line(edge.end, edge.start)
    return Arc(edge.centre, edge.radius_mm, edge.from_rad + edge.turn_rad, -edge.turn_rad)


def arc_by_turn(start: Flat, end: Flat, turn_rad: float) -> Edge:
    """Return the arc from start to end that turns by so much, left positive; a line for next to nothing."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = math.hypot(dx, dy)
    if abs(turn_rad) < 1e-6 or chord == 0.0:
        return Line(start, end)
    middle = (start[0] + dx / 2, start[1] + dy / 2)
    # from the chord's middle to the centre, along the chord's left normal
    off = chord / (2.0 * math.tan(turn_rad / 2.0))
    centre = (middle[0] - off * dy / chord, middle[1] + off * dx / chord)
    return Arc(
        centre,
        chord / (2.0 * abs(math.sin(turn_rad / 2.0))),
        math.atan2(start[1] - centre[1], start[0] - centre[0]),
        turn_rad,
    )


def curve_edges(points: Sequence[Flat], within: float) -> list[Edge]:
    """Return lines and arcs along a cubic curve given by its four points, off it by at most `within`.

    They follow each other without a kink, so that a smooth curve shows no sharp corners. A curve that is a
    circle as near as one cubic can be becomes one arc.
    """
    curve = np.asarray(points, dtype=float)
    if not (np.abs(curve) < _LARGEST).all():
        return [Line((math.inf, math.inf), points[3])]  # told as impossible where it is taken up
    chord = float(np.hypot(*(curve[3] - curve[0])))
    if _off_chord(curve) <= min(within, 1e-6 * chord):
        return [Line(_flat(curve[0]), _flat(curve[3]))]
    arc = _one_arc(curve)
    if arc is not None and _off(arc, curve) <= max(within, _USUAL_ARC_OFF * arc.radius_mm):
        return [arc]
    edges: list[Edge] = []
    _halve(curve, within, 0, edges)
    return edges


def merged(edges: Sequence[Edge], within: float) -> tuple[Edge, ...]:
    """Return a loop in which lines that run on straight, and arcs of one circle, are one edge each.

    Edges too short to matter are dropped; their neighbours meet in their place.
    """
    edges = [edge for edge in edges if edge.length_mm > within / 10.0]
    if len(edges) < 2:
        return tuple(edges)
    runs: list[list[Edge]] = []
    for edge in edges:
        if runs and _runs_on(runs[-1][0], edge, within):
            runs[-1].append(edge)
        else:
            runs.append([edge])
    if len(runs) > 1 and _runs_on(runs[-1][0], runs[0][0], within):
        runs[0] = runs.pop() + runs[0]
    return tuple(_one_edge(run) for run in runs)


def _runs_on(first: Edge, edge: Edge, within: float) -> bool:
    if isinstance(first, Line) and isinstance(edge, Line):
        (ux, uy), (vx, vy) = first.direction(0.0), edge.direction(0.0)
        straight = ux * vx + uy * vy > 0.0 and abs(ux * vy - uy * vx) < 1e-9
        dx, dy = edge.end[0] - first.start[0], edge.end[1] - first.start[1]
        return straight and abs(ux * dy - uy * dx) < 0.01 * within
    if isinstance(first, Arc) and isinstance(edge, Arc):
        return (
            math.dist(first.centre, edge.centre) <= within
            and abs(first.radius_mm - edge.radius_mm) <= within
            and first.turn_rad * edge.turn_rad > 0.0
        )
    return False


def _one_edge(run: list[Edge]) -> Edge:
    if len(run) == 1:
        return run[0]
    first = run[0]
    if isinstance(first, Line):
        return Line(first.start, run[-1].end)
    arcs = [edge for edge in run if isinstance(edge, Arc)]
    turn = math.fsum(arc.turn_rad for arc in arcs)
    whole = sum(abs(arc.turn_rad) for arc in arcs)
    cx, cy, radius = (
        math.fsum(abs(arc.turn_rad) * value for arc, value in zip(arcs, values, strict=True)) / whole
        for values in (
            [arc.centre[0] for arc in arcs],
            [arc.centre[1] for arc in arcs],
            [arc.radius_mm for arc in arcs],
        )
    )
    if abs(turn) > FULL_TURN - 0.02:
        turn = math.copysign(FULL_TURN, turn)
    return Arc((cx, cy), radius, first.from_rad, turn)


def _halve(curve: Floats, within: float, depth: int, edges: list[Edge]) -> None:
    pair = _two_arcs(curve)
    if depth >= _DEEPEST or max(_off_pair(pair, curve), 0.0) <= within:
        edges.extend(pair)
        return
    a, b, c, d = curve
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    _halve(np.stack([a, ab, abc, middle]), within, depth + 1, edges)
    _halve(np.stack([middle, bcd, cd, d]), within, depth + 1, edges)


def _two_arcs(curve: Floats) -> list[Edge]:
    """Return two arcs from end to end, tangent to the curve at both ends and to each other."""
    start, end = curve[0], curve[3]
    out, into = _tangent(curve), -_tangent(curve[::-1])
    chord = end - start
    length2 = float(chord @ chord)
    if length2 == 0.0:
        return [Line(_flat(start), _flat(end))]
    both = out + into
    spread = 2.0 * (1.0 - float(out @ into))
    if spread > 1e-9:
        along = float(chord @ both)
        reach = (-along + math.sqrt(along * along + spread * length2)) / spread
    else:
        ahead = float(chord @ into)
        if abs(ahead) < 1e-9 * math.sqrt(length2):
            return [Line(_flat(start), _flat(end))]
        reach = length2 / (4.0 * ahead)
    joint = (start + end + reach * (out - into)) / 2.0
    first = _tangent_arc(start, out, joint)
    return [first, turned_round(_tangent_arc(end, -into, joint))]


def _tangent_arc(start: Floats, out: Floats, end: Floats) -> Edge:
    chord = end - start
    turn = 2.0 * math.atan2(float(out[0] * chord[1] - out[1] * chord[0]), float(out @ chord))
    return arc_by_turn(_flat(start), _flat(end), turn)


def _one_arc(curve: Floats) -> Arc | None:
    """Return the arc from end to end through the curve's middle; None if there is none tangent to it."""
    edge = _tangent_arc(curve[0], _tangent(curve), curve[3])
    if not isinstance(edge, Arc) or abs(edge.turn_rad) > math.pi * 1.01:
        return None
    middle = _at(curve, np.array([0.5]))[0]
    sagitta = float(np.hypot(*(middle - (curve[0] + curve[3]) / 2)))
    chord = float(np.hypot(*(curve[3] - curve[0])))
    if sagitta == 0.0 or chord == 0.0:
        return None
    return (
        edge
        if abs(edge.radius_mm - (chord**2 / (8 * sagitta) + sagitta / 2)) < 0.01 * edge.radius_mm
        else None
    )


def _off(arc: Arc, curve: Floats) -> float:
    """Return how far the curve strays from the arc."""
    places = _at(curve, _SAMPLES)
    return float(np.abs(np.hypot(*(places - arc.centre).T) - arc.radius_mm).max())


def _off_pair(pair: list[Edge], curve: Floats) -> float:
    places = _at(curve, _SAMPLES)
    return float(np.min([_distances(edge, places) for edge in pair], axis=0).max())


def _distances(edge: Edge, places: Floats) -> Floats:
    away: Floats
    if isinstance(edge, Arc):
        away = np.abs(np.hypot(*(places - edge.centre).T) - edge.radius_mm)
        return away
    start, end = np.asarray(edge.start), np.asarray(edge.end)
    along = end - start
    share = np.clip((places - start) @ along / max(float(along @ along), 1e-300), 0.0, 1.0)
    away = np.hypot(*(places - start - share[:, None] * along).T)
    return away


def _off_chord(curve: Floats) -> float:
    return float(_distances(Line(_flat(curve[0]), _flat(curve[3])), curve[1:3]).max())


def _tangent(curve: Floats) -> Floats:
    """Return the unit vector the curve leaves its start with."""
    for point in curve[1:]:
        step = point - curve[0]
        length = float(np.hypot(*step))
        if length > 0.0:
            unit: Floats = step / length
            return unit
    return np.array([1.0, 0.0])


def _at(curve: Floats, share: Floats) -> Floats:
    t = share[:, None]
    places: Floats = (
        (1 - t) ** 3 * curve[0]
        + 3 * t * (1 - t) ** 2 * curve[1]
        + 3 * t**2 * (1 - t) * curve[2]
        + t**3 * curve[3]
    )
    return places


def _flat(place: Floats) -> Flat:
    return (float(place[0]), float(place[1]))
