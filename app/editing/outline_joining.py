"""Chains of edges joined end to end into closed loops, and what stays open.

Joined in rounds: what meets exactly before what meets nearly, and lines of one layer before lines of several.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.spatial import cKDTree

from app.editing.outline_edges import Chain
from geometry.flat_pattern import chopped
from geometry.flat_segments import Flat, Loop, loop_area_mm2

Floats = npt.NDArray[np.float64]
_NEIGHBOURS = 8


@dataclass(frozen=True)
class OpenChain:
    """Edges that do not close."""

    chain: Chain
    at: Flat
    """The loose end the gap is told at."""
    gap: float
    """From there to the nearest other loose end, its own other end included; nought at a branch."""

    @property
    def enclosed(self) -> float:
        """The area it would enclose, were its ends joined straight."""
        places = np.array([*chopped(self.chain.edges), self.chain.end])
        x, y = places.T
        return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2.0

    @property
    def nearly_closed(self) -> bool:
        """Whether what is missing is short beside what is there."""
        return math.dist(self.chain.start, self.chain.end) < 0.1 * self.chain.length


@dataclass(frozen=True)
class Joined:
    """What came of joining."""

    loops: tuple[Loop, ...]
    open: tuple[OpenChain, ...]
    branches: tuple[tuple[Flat, int], ...]
    """Where more than two ends meet, and how many."""
    doubled: int
    """Chains and loops that lie on another one of the same shape; they are left out."""


def joined(chains: Sequence[Chain], within: float) -> Joined:
    """Join chains whose ends meet within a distance, in the drawing's unit."""
    single, doubled = _without_doubles(chains, within / 10.0)
    closed, waiting = _sorted_out(single, within)
    for reach, layered in ((within / 500, True), (within, True), (within / 500, False), (within, False)):
        done, waiting = _round(waiting, reach, layered)
        closed += done
    loops, more = _without_doubles(closed, within / 10.0)
    return Joined(tuple(chain.edges for chain in loops), *_open(waiting, within), doubled=doubled + more)


def _sorted_out(chains: Sequence[Chain], within: float) -> tuple[list[Chain], list[Chain]]:
    closed: list[Chain] = []
    open_chains: list[Chain] = []
    for chain in chains:
        (closed if _is_closed(chain, within) else open_chains).append(chain)
    return closed, open_chains


def _is_closed(chain: Chain, within: float) -> bool:
    return math.dist(chain.start, chain.end) <= within and chain.length > 4.0 * within


def _round(chains: list[Chain], reach: float, layered: bool) -> tuple[list[Chain], list[Chain]]:
    """Return the chains that one round closed, and all others, as far as it joined them."""
    groups: dict[str, list[Chain]] = defaultdict(list)
    for chain in chains:
        groups[chain.layer if layered else ""].append(chain)
    closed: list[Chain] = []
    waiting: list[Chain] = []
    for group in groups.values():
        # A line by itself meets nothing: thousands of layers may have one each.
        walked = group if len(group) == 1 else _walked(group, _links(group, reach))
        done, left = _sorted_out(walked, reach)
        closed += done
        waiting += left
    return closed, waiting


def _links(chains: list[Chain], reach: float) -> dict[int, int]:
    """Return which end meets which and no other; end 2 i is the start of chain i, 2 i + 1 its end."""
    return {
        a: b for cluster in _clusters(chains, reach) if len(cluster) == 2 for a, b in (cluster, cluster[::-1])
    }


def _clusters(chains: list[Chain], reach: float) -> list[list[int]]:
    """Return the ends that meet, two or more at each place."""
    if not chains:
        return []
    # Thousands of ends at one place are one spot, and a spot asks for a few neighbours only: what is asked is
    # whether it has none, one or more.
    spots, spot_of = np.unique(_ends(chains), axis=0, return_inverse=True)
    spot_of = spot_of.reshape(-1)
    parent = list(range(len(spots)))

    def root(end: int) -> int:
        while parent[end] != end:
            parent[end] = parent[parent[end]]
            end = parent[end]
        return end

    bound = math.nextafter(reach, math.inf)
    _, near = cKDTree(spots).query(spots, k=min(_NEIGHBOURS, len(spots)), distance_upper_bound=bound)
    near = near.reshape(len(spots), -1)
    for a, column in zip(*np.nonzero(near < len(spots)), strict=True):
        parent[root(int(a))] = root(int(near[a, column]))
    clusters: dict[int, list[int]] = defaultdict(list)
    for end, spot in enumerate(spot_of.tolist()):
        clusters[root(spot)].append(end)
    return [cluster for cluster in clusters.values() if len(cluster) > 1]


def _ends(chains: Sequence[Chain]) -> Floats:
    return np.array([place for chain in chains for place in (chain.start, chain.end)])


def _walked(chains: list[Chain], links: dict[int, int]) -> list[Chain]:
    """Return the chains made by following the links."""
    used = [False] * len(chains)
    walked: list[Chain] = []
    free_first = sorted(range(2 * len(chains)), key=lambda end: end in links)
    for first in free_first:
        if used[first // 2]:
            continue
        pieces: list[Chain] = []
        end: int | None = first
        while end is not None and not used[end // 2]:
            used[end // 2] = True
            chain = chains[end // 2]
            pieces.append(chain if end % 2 == 0 else chain.turned_round())
            end = links.get(end ^ 1)
        walked.append(Chain(tuple(e for piece in pieces for e in piece.edges), pieces[0].layer))
    return walked


def _open(chains: list[Chain], within: float) -> tuple[tuple[OpenChain, ...], tuple[tuple[Flat, int], ...]]:
    if not chains:
        return (), ()
    ends = _ends(chains)
    branches = [
        ((float(ends[cluster[0]][0]), float(ends[cluster[0]][1])), len(cluster))
        for cluster in _clusters(chains, within)
        if len(cluster) > 2
    ]
    distances, _ = cKDTree(ends).query(ends, k=2)
    gaps = distances[:, 1]
    opened = []
    for i, chain in enumerate(chains):
        end = 2 * i + int(gaps[2 * i + 1] > gaps[2 * i])
        opened.append(OpenChain(chain, (chain.start, chain.end)[end % 2], float(gaps[end])))
    return tuple(opened), tuple(branches)


def _without_doubles(chains: Sequence[Chain], within: float) -> tuple[list[Chain], int]:
    """Return the chains less those of the same shape at the same place, whichever way they run."""
    if len(chains) < 2:
        return list(chains), 0
    marks = np.array([_mark(chain) for chain in chains])
    tree = cKDTree(marks)
    extra: set[int] = set()
    # one by one, what was left out asks no more: a thousand on each other would make a million pairs
    for i in np.flatnonzero(tree.query_ball_point(marks, within, return_length=True) > 1).tolist():
        if i not in extra:
            extra.update(j for j in tree.query_ball_point(marks[i], within) if j > i)
    return [chain for i, chain in enumerate(chains) if i not in extra], len(extra)


def _mark(chain: Chain) -> list[float]:
    """Return figures that two chains share only if they lie on each other; the sense does not enter."""
    places = np.array([*chopped(chain.edges), chain.end])
    (x0, y0), (x1, y1) = chain.start, chain.end
    if math.dist(chain.start, chain.end) < 1e-3 * chain.length:  # closed: where it starts says nothing
        ends = [0.0, 0.0, 0.0, 0.0, 0.0]
        area = math.sqrt(abs(loop_area_mm2(chain.edges)))
    else:
        slant = (x1 - x0) * (y1 - y0)
        ends = [x0 + x1, y0 + y1, abs(x1 - x0), abs(y1 - y0), math.copysign(math.sqrt(abs(slant)), slant)]
        area = 0.0
    return [*ends, area, chain.length, *places.min(axis=0), *places.max(axis=0)]
