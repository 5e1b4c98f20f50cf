"""A bound on the load at which a bracket buckles, and an estimate, from what is known already.

Glossary
--------
taking     how much of the strain energy of a movement the load's stress takes off, x' (-K_g) x over x' K x;
           the bracket buckles at one over its largest
ways       the supplest movements of the whole bracket, K-orthogonal, each of twice the strain energy one
rest       every movement K-orthogonal to them; none is suppler than `rest_suppleness`

Of the ways the taking R is known for every column. Of the rest it is at most s r, s being the largest
compression anywhere and r the rest's suppleness; and between a way and the rest it is at most
sqrt(A a r), A being the ways' own taking by the size of the stress alone and a that size at its largest
(Cauchy and Schwarz). So the largest of all is at most that of the matrix [[R, sqrt(A a r)], [., s r]].
tests/solver/test_buckling.py holds the bound against the full solution.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.linalg import block_diag, eigh

from geometry.materials import Material
from geometry.stiffness_ranges import HighEnds
from solver.evaluation import Loaded, State, Taken
from solver.free_motions import null_motions
from solver.linkage import column_taken
from solver.rigid import Floats
from solver.solved import Solved
from solver.stress import PAIRS, von_mises
from solver.stress_survey import in_parts
from solver.suppleness import Suppleness

Moving = tuple[State, np.ndarray]
"""A state and those of its unknowns that can move."""
Judged = set[tuple[Taken, HighEnds]]
"""States, by how connections are taken and which ranges are at their high end."""
WAYS = 16
"""Ways of the whole bracket that are looked at."""
SAFETY = 1.25
"""On the bound: slopes are taken as even through the sheet, so what bending stress does is left out.

Measured on slender straps and plates, flat and folded, at load factors up to 300: that makes the taking at
most 3 % too small, and up to 43 % too large.
"""


@dataclass(frozen=True)
class Screen:
    """Load factors of some columns, without a solution of the whole."""

    columns: tuple[int, ...]
    """Their places in the load that was screened."""
    bound: Floats
    """(c,) no column buckles below this; inf where nothing is compressed."""
    estimate: Floats
    """(c,) about where it does, rather above than below."""
    taken: tuple[Floats, ...]
    """(columns, WAYS, WAYS) the ways' taking, of one group of columns after the other; linear in the load."""


def estimate_between(low: Screen, high: Screen, share: float) -> float:
    """Return the least estimate at a couple that lies a share of the way from one screen's to another's."""
    most = [
        np.linalg.eigvalsh(a + share * (b - a))[:, -1].max(initial=0.0)
        for a, b in zip(low.taken, high.taken, strict=True)
    ]
    largest = max(most, default=0.0)
    return 1.0 / float(largest) if largest > 0.0 else float("inf")


def buckling_states(solved: Solved) -> list[Moving]:
    """Return the states whose buckling is asked for, each with its unknowns that can move.

    All slipped only where nothing is free even so: a mechanism needs no load to fold.
    """
    found = []
    for state in solved.states:
        structure = state.structure
        moving = np.arange(structure.stuck)
        if state.taken == "all slipped":
            if null_motions(column_taken(solved.linkage, solved.bracket, state.high)).shape[1]:
                continue
            moving = np.concatenate([moving, structure.spins])
        found.append((state, moving))
    return found


class Screening:
    """A bracket that may be screened at any load; its ways are found once."""

    def __init__(self, solved: Solved, suppleness: Sequence[Suppleness | None]) -> None:
        """Take the bracket solved and the suppleness of each plate; one that no bolt holds has none."""
        self._solved = solved
        self._kept = [(i, supple) for i, supple in enumerate(suppleness) if supple is not None]

    def of(self, load: Loaded) -> Screen:
        """Return bound and estimate for every column of a load in the states whose buckling is asked for."""
        columns: list[int] = []
        bounds, estimates, squares = [np.zeros(0)], [np.zeros(0)], []
        for ways, judged in self._groups if self._kept else []:
            own = [i for i, column in enumerate(load.columns) if (column.taken, column.high) in judged]
            if own:
                bound, taken = ways.bound([amounts[:, own] for amounts in load.amounts])
                columns += own
                bounds.append(bound)
                squares.append(taken)
                with np.errstate(divide="ignore"):
                    estimates.append(1.0 / np.maximum(np.linalg.eigvalsh(taken)[:, -1], 0.0))
        return Screen(tuple(columns), np.concatenate(bounds), np.concatenate(estimates), tuple(squares))

    @cached_property
    def _groups(self) -> list[tuple[_Ways, Judged]]:
        return [
            (_ways_of(self._solved, state, moving, self._kept), judged)
            for (state, moving), judged in _softest(buckling_states(self._solved))
        ]


def _softest(states: Sequence[Moving]) -> list[tuple[Moving, Judged]]:
    """Return the states that are softer than others, each with those (itself too) that it is softer than.

    What slips can move in every way that what is stuck can, and a range's low end is softer than its high
    one; so a bound on the softer state's buckling, under the stress of the other, is one on the other's.
    """
    left = [(state.taken, state.high) for state, _ in states]
    found = []
    for each in sorted(states, key=lambda s: (len(s[0].high), s[0].taken == "stuck")):
        state = each[0]
        judged = {
            (taken, high) for taken, high in left if taken in (state.taken, "stuck") and high >= state.high
        }
        left = [one for one in left if one not in judged]
        if judged:
            found.append((each, judged))
    return found


@dataclass(frozen=True)
class _PlateWays:
    """One plate's part in the products of every pair of ways."""

    plate: int
    stress: Floats
    """(nt, 6, 6 b + 3) of every mode, MPa, averaged over each prism."""
    volumes: Floats
    """(nt,) of the prisms, mm^3."""
    slopes: Floats
    """(nt, pairs) product of the slopes of two ways, summed over all directions."""
    taking: Floats
    """(pairs, 6 b + 3) of every mode."""


@dataclass(frozen=True)
class _Ways:
    """The supplest ways of one state."""

    count: int
    plates: tuple[_PlateWays, ...]
    rest: float
    """Suppleness beyond them."""

    def bound(self, amounts: Sequence[Floats]) -> tuple[Floats, Floats]:
        """Return the bound (columns,), and the ways' own taking (columns, ways, ways).

        `amounts` (6 b + 3, columns) of the modes of every plate.
        """
        first, second = np.triu_indices(self.count)
        columns = amounts[0].shape[1]
        taken, sized = np.zeros((len(first), columns)), np.zeros((len(first), columns))
        pressed, large = np.zeros(columns), np.zeros(columns)
        for plate in self.plates:
            amount = amounts[plate.plate]
            taken += plate.taking @ amount
            for rows in in_parts(len(plate.volumes), columns):
                modes = plate.stress[rows]
                stress = (modes.reshape(-1, modes.shape[2]) @ amount).reshape(-1, 6, columns)
                mean, uneven = stress[:, :3].mean(axis=1), 2.0 / 3.0 * von_mises(stress)
                size = np.abs(mean) + uneven
                pressed = np.maximum(pressed, (uneven - mean).max(axis=0))
                large = np.maximum(large, size.max(axis=0))
                sized += plate.slopes[rows].T @ (size * plate.volumes[rows, None])
        square = _square(taken, first, second, self.count)
        own = np.linalg.eigvalsh(square)[:, -1]
        by_size = np.linalg.eigvalsh(_square(sized, first, second, self.count))[:, -1]
        beside, between = np.maximum(pressed, 0.0) * self.rest, by_size * large * self.rest
        most = 0.5 * (own + beside) + np.sqrt(0.25 * (own - beside) ** 2 + between)
        with np.errstate(divide="ignore"):
            return 1.0 / (SAFETY * np.maximum(most, 0.0)), square


def _ways_of(
    solved: Solved, state: State, moving: np.ndarray, kept: Sequence[tuple[int, Suppleness]]
) -> _Ways:
    slopes, rest = _supplest(state, moving, kept)
    count = slopes[0].shape[2]
    first, second = np.triu_indices(count)
    plates = []
    for (index, supple), of_ways in zip(kept, slopes, strict=True):
        stress = _hooke(solved.plates[index].metal) @ supple.of_modes
        summed, taking = np.zeros((len(of_ways), len(first))), np.zeros((len(first), stress.shape[2]))
        for rows in in_parts(len(of_ways), 6 * len(first)):
            along = of_ways[rows].reshape(-1, 3, 3, count)
            pairs = np.stack([_pair(along[:, i], along[:, j], first, second, i != j) for i, j in PAIRS], 1)
            summed[rows] = pairs[:, :3].sum(axis=1)
            weighed = stress[rows] * supple.volumes[rows, None, None]
            taking -= pairs.reshape(-1, len(first)).T @ weighed.reshape(-1, stress.shape[2])
        plates.append(_PlateWays(index, stress, supple.volumes, summed, taking))
    return _Ways(count, tuple(plates), rest)


def _supplest(
    state: State, moving: np.ndarray, kept: Sequence[tuple[int, Suppleness]]
) -> tuple[list[Floats], float]:
    """Return the slopes (nt, 9, WAYS) of the whole bracket's ways per plate, and the rest's suppleness."""
    structure = state.structure
    motions = [structure.plate_ways[i][:, moving] for i, _ in kept]
    counts = [supple.of_ways.shape[2] for _, supple in kept]
    size = len(moving) + sum(counts)
    gram, starts = np.zeros((size, size)), len(moving) + np.cumsum([0, *counts])
    for (_, supple), way, start, count in zip(kept, motions, starts, counts, strict=False):
        onto = np.zeros((len(supple.gram), size))
        onto[: len(way), : len(moving)] = way
        onto[len(way) :, start : start + count] = np.eye(count)
        gram += onto.T @ supple.gram @ onto
    stiffness = structure.stiffness[np.ix_(moving, moving)]
    scale = 1.0 / np.sqrt(np.diag(stiffness))
    whole = block_diag(stiffness * np.outer(scale, scale), np.eye(size - len(moving)))
    scales = np.concatenate([scale, np.ones(size - len(moving))])
    supple_, shapes = eigh(gram * np.outer(scales, scales), whole)
    shapes = scales[:, None] * shapes[:, ::-1]
    beyond = float(supple_[::-1][WAYS]) if size > WAYS else 0.0
    shapes = shapes[:, :WAYS]
    slopes = [
        supple.of_modes[:, :, : len(way)] @ (way @ shapes[: len(moving)])
        + supple.of_ways @ shapes[start : start + count]
        for (_, supple), way, start, count in zip(kept, motions, starts, counts, strict=False)
    ]
    return slopes, beyond + max(supple.rest for _, supple in kept)


def _pair(one: Floats, other: Floats, first: np.ndarray, second: np.ndarray, twice: bool) -> Floats:
    """Return per prism the product of two slopes (nt, 3, ways) of every pair of ways, (nt, pairs)."""
    product = one.transpose(0, 2, 1) @ other
    if twice:
        product = product + product.transpose(0, 2, 1)
    return np.asarray(product[:, first, second])


def _square(pairs: Floats, first: np.ndarray, second: np.ndarray, count: int) -> Floats:
    """Return the symmetric matrices (columns, ways, ways) of pairs (pairs, columns)."""
    whole = np.zeros((pairs.shape[1], count, count))
    whole[:, first, second] = whole[:, second, first] = pairs.T
    return whole


def _hooke(metal: Material) -> Floats:
    """Return the (6, 9) stress in MPa for each slope."""
    shear = metal.elastic_modulus_mpa / (2.0 * (1.0 + metal.poisson))
    lame = 2.0 * shear * metal.poisson / (1.0 - 2.0 * metal.poisson)
    hooke = np.zeros((6, 9))
    for row, (i, j) in enumerate(PAIRS):
        hooke[row, 3 * i + j] += shear
        hooke[row, 3 * j + i] += shear
    hooke[:3, [0, 4, 8]] += lame
    return hooke
