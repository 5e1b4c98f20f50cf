"""What a reader of drawings hands on: chains of lines and arcs.

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

from app.editing.outline_curves import LARGEST, turned_round
from geometry.flat_segments import FULL_TURN, Arc, Edge, Flat, Line

Unit = Literal["mm", "cm", "m", "in", "ft", "px", "pt"]
"""What one unit of a drawing is; px is 1/96 of an inch, pt 1/72."""
MM_PER: Final[dict[Unit, float]] = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "px": 25.4 / 96, "pt": 25.4 / 72,
}  # fmt: skip
UNITS: Final[tuple[Unit, ...]] = get_args(Unit)
MOST_EDGES: Final = 20_000


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
    return all(abs(figure) < LARGEST for figure in figures)  # false for what is no number, too


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
