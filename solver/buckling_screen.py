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

import numpy as np
from scipy.linalg import block_diag, eigh

from geometry.stiffness_ranges import HighEnds
from solver.evaluation import Loaded, State, Taken
from solver.free_motions import null_motions
from solver.linkage import column_taken
from solver.rigid import Floats
from solver.solved import Solved
from solver.stress import PAIRS, von_mises
from solver.suppleness import Suppleness

Moving = tuple[State, np.ndarray]
"""A state and those of its unknowns that can move."""
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


def screen(solved: Solved, suppleness: Sequence[Suppleness | None], load: Loaded) -> Screen:
    """Return bound and estimate for every column of a load in the states whose buckling is asked for.

    `suppleness` of each plate; a plate that no bolt holds has none.
    """
    kept = [(i, supple) for i, supple in enumerate(suppleness) if supple is not None]
    stresses = [_stress(solved, i, supple, load) for i, supple in kept]
    columns: list[int] = []
    bounds, estimates, squares = [np.zeros(0)], [np.zeros(0)], []
    for (state, moving), judged in _softest(buckling_states(solved)):
        own = [i for i, column in enumerate(load.columns) if (column.taken, column.high) in judged]
        if own and kept:
            bound, taken = _of_state(state, moving, kept, [s[:, :, own] for s in stresses])
            columns += own
            bounds.append(bound)
            squares.append(taken)
            with np.errstate(divide="ignore"):
                estimates.append(1.0 / np.maximum(np.linalg.eigvalsh(taken)[:, -1], 0.0))
    return Screen(tuple(columns), np.concatenate(bounds), np.concatenate(estimates), tuple(squares))


def _softest(states: Sequence[Moving]) -> list[tuple[Moving, set[tuple[Taken, HighEnds]]]]:
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


def _of_state(
    state: State, moving: np.ndarray, kept: Sequence[tuple[int, Suppleness]], stresses: Sequence[Floats]
) -> tuple[Floats, Floats]:
    """Return the bound (columns,), and the ways' own taking (columns, WAYS, WAYS)."""
    ways, rest = _supplest(state, moving, kept)
    count = ways[0].shape[2]
    first, second = np.triu_indices(count)
    columns = stresses[0].shape[2]
    taken, sized = np.zeros((len(first), columns)), np.zeros((len(first), columns))
    pressed, large = np.zeros(columns), np.zeros(columns)
    for (_, supple), slopes, stress in zip(kept, ways, stresses, strict=True):
        along = slopes.reshape(len(slopes), 3, 3, count)
        pairs = np.stack([_pair(along[:, i], along[:, j], first, second, twice=i != j) for i, j in PAIRS], 1)
        weighed = stress * supple.volumes[:, None, None]
        flat = pairs.reshape(-1, pairs.shape[2])
        taken -= flat.T @ weighed.reshape(-1, columns)
        mean, uneven = stress[:, :3].mean(axis=1), 2.0 / 3.0 * von_mises(stress)
        size = np.abs(mean) + uneven
        sized += pairs[:, :3].sum(axis=1).T @ (size * supple.volumes[:, None])
        pressed = np.maximum(pressed, (uneven - mean).max(axis=0))
        large = np.maximum(large, size.max(axis=0))
    square = _square(taken, first, second, count)
    own = np.linalg.eigvalsh(square)[:, -1]
    by_size = np.linalg.eigvalsh(_square(sized, first, second, count))[:, -1]
    beside, between = np.maximum(pressed, 0.0) * rest, by_size * large * rest
    most = 0.5 * (own + beside) + np.sqrt(0.25 * (own - beside) ** 2 + between)
    with np.errstate(divide="ignore"):
        return 1.0 / (SAFETY * np.maximum(most, 0.0)), square


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


def _pair(one: Floats, other: Floats, first: np.ndarray, second: np.ndarray, *, twice: bool) -> Floats:
    """Return per prism the product of two slopes (nt, 3, ways) of every pair of ways, (nt, pairs)."""
    product = np.einsum("ekp,ekp->ep", one[:, :, first], other[:, :, second])
    if twice:
        product += np.einsum("ekp,ekp->ep", other[:, :, first], one[:, :, second])
    return np.asarray(product)


def _square(pairs: Floats, first: np.ndarray, second: np.ndarray, count: int) -> Floats:
    """Return the symmetric matrices (columns, ways, ways) of pairs (pairs, columns)."""
    whole = np.zeros((pairs.shape[1], count, count))
    whole[:, first, second] = whole[:, second, first] = pairs.T
    return whole


def _stress(solved: Solved, index: int, supple: Suppleness, load: Loaded) -> Floats:
    """Return the stress (nt, 6, columns), MPa, averaged over each prism of a plate."""
    metal = solved.plates[index].metal
    shear = metal.elastic_modulus_mpa / (2.0 * (1.0 + metal.poisson))
    lame = 2.0 * shear * metal.poisson / (1.0 - 2.0 * metal.poisson)
    hooke = np.zeros((6, 9))
    for row, (i, j) in enumerate(PAIRS):
        hooke[row, 3 * i + j] += shear
        hooke[row, 3 * j + i] += shear
    hooke[:3, [0, 4, 8]] += lame
    return np.asarray(hooke @ (supple.of_modes @ load.amounts[index]))
