"""Where bosses are, from distances measured with callipers between them and to the shaft axis.

Seen from the wheel X points right and Y up, so clockwise is from Y toward X.

Glossary
--------
distance   between the middles of two bosses, or from a boss's middle to the shaft axis
residual   what a distance measured is longer than the one between the places found
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from app.editing.refused import EditRefused
from geometry.flat_segments import Flat

Floats = NDArray[np.float64]

SHAFT: Final = "shaft"
"""The end of a distance that is the shaft axis."""
TOLD_ABOVE_MM: Final = 0.3
"""A residual that is told: what callipers across two threaded holes give (common practice)."""
_TRIES: Final = 15
_SAME_MM: Final = 0.5
_ANYWHERE: Final = 1e-6


@dataclass(frozen=True)
class BossMeasure:
    """One distance measured; either end may be `shaft`."""

    first: str
    second: str
    distance_mm: float

    @property
    def words(self) -> str:
        """Return the two ends in words."""
        return f"{self.first} to {self.second}"


@dataclass(frozen=True)
class MeasuredBosses:
    """The places that fit the distances best."""

    places: dict[str, Flat]
    """By boss: x, y in the casing's axes, mm."""
    residual_mm: float
    """The largest, without its sign."""
    by_measure: tuple[float, ...]
    """In the order of the distances: measured less found, mm."""
    words: str
    """How well they fit and, above 0.3 mm, which distance to measure again."""


def boss_places(
    measures: Sequence[BossMeasure], names: Sequence[str], start: Mapping[str, Flat] | None = None
) -> MeasuredBosses:
    """Return the places of bosses from distances, by least squares.

    `names` lists the bosses clockwise as seen from the wheel; the first is put on +Y. `start` gives places
    near the right ones instead: then they also say which way round and how far the casing is turned.
    EditRefused, naming what is missing or wrong, if the distances do not fix the places.
    """
    _refuse_nonsense(measures, names)
    _refuse_too_few(measures, names)
    index = {name: k for k, name in enumerate(names)} | {SHAFT: -1}
    ends = np.array([(index[m.first], index[m.second]) for m in measures])
    lengths = np.array([m.distance_mm for m in measures])
    tries = [_given(names, start)] if start is not None else _first_tries(measures, names)
    found = [_fitted(places, ends, lengths) for places in tries]
    if start is None:
        found = [fit for fit in found if _clockwise(fit)]
        if not found:
            raise EditRefused(
                f"no places clockwise in the order {', '.join(names)} fit the distances: check the order as"
                " seen from the wheel"
            )
    off = [float(np.abs(_residuals(fit, ends, lengths)).max()) for fit in found]
    best = found[int(np.argmin(off))]
    _refuse_loose(best, ends, names)
    others = [fit for fit, o in zip(found, off, strict=True) if o < min(off) + 0.05]
    places = _turned_onto(best, tries[0]) if start is not None else _first_on_y(best)
    residuals = -_residuals(best, ends, lengths)
    return MeasuredBosses(
        {name: (float(x), float(y)) for name, (x, y) in zip(names, places, strict=True)},
        float(np.abs(residuals).max()),
        tuple(float(r) for r in residuals),
        _words(measures, residuals, _slopes(best, ends), _other_arrangement(best, others, names)),
    )


def _refuse_nonsense(measures: Sequence[BossMeasure], names: Sequence[str]) -> None:
    if len(set(names)) < len(names) or SHAFT in names:
        raise EditRefused(f"each boss needs a name of its own that is not {SHAFT}: {', '.join(names)}")
    known = {*names, SHAFT}
    for measure in measures:
        for end in (measure.first, measure.second):
            if end not in known:
                raise EditRefused(f"there is no boss {end}; there is: {', '.join(names) or 'none'}")
        if measure.first == measure.second:
            raise EditRefused(f"a distance from {measure.first} to itself says nothing: name two ends")
        if not (math.isfinite(measure.distance_mm) and measure.distance_mm > 0.0):
            raise EditRefused(
                f"{measure.words} is {measure.distance_mm:g} mm: a distance is above zero, measure it again"
            )


def _refuse_too_few(measures: Sequence[BossMeasure], names: Sequence[str]) -> None:
    """Refuse what no places could follow from, naming the distances that would help."""
    if not names:
        raise EditRefused("there is no boss to place: add the casing's bosses first")
    pairs = {frozenset((m.first, m.second)) for m in measures}
    open_pairs = [
        f"{a} to {b}" for a, b in itertools.combinations([SHAFT, *names], 2) if frozenset((a, b)) not in pairs
    ]
    for name in names:
        have = sum(name in pair for pair in pairs)
        wanted = 1 if len(names) == 1 else 2
        if have < wanted:
            helping = [pair for pair in open_pairs if name in pair.split(" to ")]
            raise EditRefused(
                f"boss {name} has {have or 'no'} distance{'' if have == 1 else 's'} and needs {wanted}:"
                f" measure {' or '.join(helping[:3])}"
            )
    if not any(SHAFT in pair for pair in pairs):
        raise EditRefused(
            f"no distance leads to the shaft: measure from at least two bosses to it, such as {names[0]} to"
            f" {SHAFT}"
        )
    least = 2 * len(names) - 1
    if len(pairs) < least:
        raise EditRefused(
            f"{len(names)} bosses and the shaft need {least} different distances and there are {len(pairs)}:"
            f" measure {' or '.join(open_pairs[:4])}"
        )


def _given(names: Sequence[str], start: Mapping[str, Flat]) -> Floats:
    missing = [name for name in names if name not in start]
    if missing:
        raise EditRefused(f"no place to start from is given for boss {', '.join(missing)}: give one for each")
    return np.array([start[name] for name in names], dtype=float)


def _first_tries(measures: Sequence[BossMeasure], names: Sequence[str]) -> list[Floats]:
    """Return places clockwise round the shaft to begin from: evenly spaced, then at random."""
    usual = float(np.mean([m.distance_mm for m in measures]))
    to_shaft = dict.fromkeys(names, usual)
    for measure in measures:
        for one, other in ((measure.first, measure.second), (measure.second, measure.first)):
            if other == SHAFT:
                to_shaft[one] = measure.distance_mm
    radii = np.array([to_shaft[name] for name in names])
    rng = np.random.default_rng(len(names))
    count = len(names)
    spread = [2.0 * math.pi * np.arange(count) / max(count, 3)]
    for _ in range(_TRIES):
        spread.append(np.concatenate([[0.0], np.sort(rng.uniform(0.05, 2.0 * math.pi - 0.05, count - 1))]))
    return [np.column_stack([radii * np.sin(angle), radii * np.cos(angle)]) for angle in spread]


def _fitted(places: Floats, ends: NDArray[np.int64], lengths: Floats) -> Floats:
    def off(flat: Floats) -> Floats:
        return _residuals(flat.reshape(-1, 2), ends, lengths)

    def slopes(flat: Floats) -> Floats:
        return _slopes(flat.reshape(-1, 2), ends)

    fit = least_squares(off, places.ravel(), slopes, xtol=1e-12, ftol=1e-14, gtol=1e-12, max_nfev=100)
    fitted: Floats = np.asarray(fit.x).reshape(-1, 2)
    return fitted


def _residuals(places: Floats, ends: NDArray[np.int64], lengths: Floats) -> Floats:
    """Return distance found less distance measured; the shaft is the last place, at nought."""
    with_shaft = np.vstack([places, np.zeros((1, 2))])
    apart: Floats = np.linalg.norm(with_shaft[ends[:, 0]] - with_shaft[ends[:, 1]], axis=1) - lengths
    return apart


def _clockwise(places: Floats) -> bool:
    """Tell whether the bosses follow each other clockwise within one turn; two: the second to the right."""
    angles = np.arctan2(places[:, 0], places[:, 1])
    steps = np.mod(np.diff(angles, append=angles[:1]), 2.0 * math.pi)
    if len(places) == 2:
        return bool(steps[0] <= math.pi + 1e-6)
    return len(places) == 1 or abs(float(steps.sum()) - 2.0 * math.pi) < 1e-6


def _first_on_y(places: Floats) -> Floats:
    return _turned(places, math.atan2(places[0, 0], places[0, 1]))


def _turned_onto(places: Floats, start: Floats) -> Floats:
    """Return the places turned about the shaft so that they lie nearest to where they were said to be."""
    cross = float((places[:, 0] * start[:, 1] - places[:, 1] * start[:, 0]).sum())
    return _turned(places, math.atan2(cross, float((places * start).sum())))


def _turned(places: Floats, angle: float) -> Floats:
    c, s = math.cos(angle), math.sin(angle)
    turned: Floats = places @ np.array([[c, s], [-s, c]])
    turned[np.abs(turned) < 1e-9] = 0.0
    return turned


def _refuse_loose(places: Floats, ends: NDArray[np.int64], names: Sequence[str]) -> None:
    """Refuse if bosses can move among each other without a distance changing."""
    sets = [_loose(places, ends, k) for k in range(len(names))]
    if not all(loose.any() for loose in sets):
        return
    loose = min(sets, key=lambda free: int(free.sum()))
    moving = [name for name, free in zip(names, loose, strict=True) if free]
    measured = {frozenset(pair) for pair in ends.tolist()}
    helping = next(
        (
            f"{names[a]} to {SHAFT if b < 0 else names[b]}"
            for a in np.flatnonzero(loose).tolist()
            for b in (-1, *np.flatnonzero(~loose).tolist())
            if frozenset((a, b)) not in measured
        ),
        "them to other bosses",
    )
    raise EditRefused(
        f"the distances leave boss {', '.join(moving)} free to move, though there are enough of them: measure"
        f" {helping}"
    )


def _loose(places: Floats, ends: NDArray[np.int64], held: int) -> NDArray[np.bool_]:
    """Return which bosses can move while one is held from turning about the shaft."""
    count = len(places)
    rows = np.vstack([_slopes(places, ends), np.zeros((1, 2 * count))])
    x, y = places[held]
    rows[-1, 2 * held : 2 * held + 2] = np.array([-y, x]) / max(math.hypot(x, y), 1e-12)
    _, sizes, ways = np.linalg.svd(rows)
    rank = int((sizes > _ANYWHERE).sum())
    if rank >= 2 * count:
        return np.zeros(count, dtype=bool)
    moves = np.linalg.norm(ways[rank:].reshape(-1, count, 2), axis=2).max(axis=0)
    return np.asarray(moves > 1e-3)


def _slopes(places: Floats, ends: NDArray[np.int64]) -> Floats:
    """Return (distances, 2 bosses) how each distance changes with each boss's x and y."""
    with_shaft = np.vstack([places, np.zeros((1, 2))])
    apart = with_shaft[ends[:, 0]] - with_shaft[ends[:, 1]]
    ways = apart / np.maximum(np.linalg.norm(apart, axis=1), 1e-12)[:, None]
    rows = np.zeros((len(ends), len(with_shaft), 2))
    every = np.arange(len(ends))
    rows[every, ends[:, 0]], rows[every, ends[:, 1]] = ways, -ways
    slopes: Floats = rows[:, :-1].reshape(len(ends), -1)
    return slopes


def _other_arrangement(best: Floats, others: Sequence[Floats], names: Sequence[str]) -> str:
    """Return words if quite another arrangement fits as well; empty if none does."""
    here = np.linalg.norm(best[:, None] - best[None], axis=2)
    for other in others:
        there = np.linalg.norm(other[:, None] - other[None], axis=2)
        if (apart := np.abs(here - there)).max() > _SAME_MM:
            a, b = sorted(np.unravel_index(int(apart.argmax()), apart.shape))
            return (
                f"; another arrangement fits as well: measure {names[int(a)]} to {names[int(b)]} to settle it"
            )
    return ""


def _words(measures: Sequence[BossMeasure], residuals: Floats, slopes: Floats, other: str) -> str:
    size = float(np.abs(residuals).max())
    if size <= TOLD_ABOVE_MM:
        return f"the distances agree within {size:.2f} mm{other}"
    # A wrong distance pulls the places with it: each residual is seen against what its own error leaves.
    own = 1.0 - np.einsum("ij,ji->i", slopes, np.linalg.pinv(slopes))
    spare = len(slopes) - int(np.linalg.matrix_rank(slopes))
    checked = own > 1e-6
    weight = np.zeros(len(residuals))
    weight[checked] = np.abs(residuals[checked]) / np.sqrt(own[checked])
    worst = int((np.abs(residuals) if spare == 1 else weight).argmax())
    way = "longer" if residuals[worst] > 0.0 else "shorter"
    doubt = "" if spare > 1 else "; it may also be another, there is only one distance to spare"
    return (
        f"the distances disagree by up to {size:.2f} mm (over {TOLD_ABOVE_MM:g}): {measures[worst].words},"
        f" {measures[worst].distance_mm:g} mm, is {way} than the others allow; measure it again{doubt}{other}"
    )
