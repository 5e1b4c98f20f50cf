"""Whether slender plates and ligaments buckle before the load is ten times what is asked.

On the first mesh. A screen rules out most columns of the load; of the rest those that come nearest are
solved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq

from geometry.sheet_tolerance import tolerance_mm
from solver.buckling_screen import Screen, Screening, estimate_between
from solver.buckling_system import BucklingSystem
from solver.evaluation import Loaded, loaded
from solver.holds_to import MOST_NM
from solver.how_sure import LEAST_SHARE
from solver.results import BandPart, Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.suppleness import Suppleness

NAME = "buckling"
REQUIRED = 10.0
"""EN 1993-1-1 5.2.1(3): first-order figures hold from this load factor on (from memory, to be verified)."""
SOURCE = (
    "linear buckling load factor, at least 10 for first-order figures to hold: EN 1993-1-1 5.2.1(3) "
    "(from memory, to be verified)"
)
MESH_BAND = 0.1
"""How sure a load factor is on one mesh.

Measured on finer meshes of slender plates: at most 4 % (tests/solver/test_buckling.py)."""
THICKNESS_POWER = 3.0
"""Of the thickness that the load factor goes by, under forces that stay: that of bending stiffness."""
ENOUGH = 2.0
"""A factor this many times what is clear is not sought any further, only known to be above."""
AT_ONCE = 6
"""Columns solved together."""
FARTHER = 1.3
"""Columns whose estimate is this many times the least factor found are not solved.

Nor, once some are, those at this many times what need not be sought any further. And so many times more as
the worst estimate turned out too high."""
NEAR = 2e-3
"""How near, as a share, the load factor must come to what is asked where the couple is sought."""
MOST_TRIES = 8
MOST_TOLD = 1000.0
"""A factor above this is told as no less than this."""


@dataclass(frozen=True)
class Found:
    """The least load factor at one couple."""

    factor: float
    """nan where the solution did not settle."""
    column: int | None
    """Of the load; None where nothing is compressed."""
    settled: bool
    """Whether it was solved for, not only bounded."""
    shape: tuple[Floats, ...] = ()
    """Per plate (3 n,), the movement, of any size."""
    off: float = 1.0
    """By how much the estimate of its column was too high."""


class Buckling:
    """A bracket on its first mesh, ready to say when it buckles at any couple."""

    def __init__(
        self, solved: Solved, suppleness: Sequence[Suppleness], same_plates: BucklingSystem | None = None
    ) -> None:
        """Take the bracket solved, the suppleness of each of its plates, and one with the same plates."""
        self._solved, self._suppleness = solved, suppleness
        self.system = BucklingSystem(solved, same_plates)
        self._screening = Screening(solved, suppleness)
        self._screens: dict[float, tuple[Loaded, Screen]] = {}
        self._leasts: dict[tuple[float, float, float], Found] = {}
        self._clear_to_nm = -1.0
        self.parts = _band_parts(solved)
        self.band = sum(part.share for part in self.parts)
        self.clear = REQUIRED * (1.0 + self.band) / min(1.0, solved.bracket.limits.marginal_used)
        """A load factor that is surely far enough above what is asked: nothing above it needs a solution."""

    def least(self, couple_nm: float, needed: float = 0.0, enough: float = 0.0) -> Found:
        """Return the least load factor of all cases and states at a couple, or a bound.

        No bound is less than what is clear, or than what is `needed`. Once a factor below `enough` is found,
        no lesser one is looked for.
        """
        needed = max(needed, self.clear)
        asked = couple_nm, needed, enough
        if asked not in self._leasts:
            found = self._by_bound(couple_nm, needed)
            self._leasts[asked] = found or self._sought(couple_nm, needed, enough)
        return self._leasts[asked]

    def _by_bound(self, couple_nm: float, needed: float) -> Found | None:
        """Return what the screen settles: nothing is compressed, or buckles below `needed`; else None."""
        _, screened = self._screened(couple_nm)
        if not len(screened.columns):
            return Found(float("inf"), None, settled=False)
        first = int(np.argmin(screened.bound))
        if screened.bound[first] >= needed:
            return Found(float(screened.bound[first]), screened.columns[first], settled=False)
        return None

    def _is_clear(self, couple_nm: float) -> bool:
        """Return whether nothing buckles below what is clear; not asked where it would have to be sought."""
        if self._by_bound(couple_nm, self.clear) is not None:
            return True
        _, screened = self._screened(couple_nm)
        far = screened.estimate.min() > FARTHER * ENOUGH * self.clear
        return far and self.least(couple_nm).factor >= self.clear

    def _sought(self, couple_nm: float, needed: float, enough: float) -> Found:
        load, screened = self._screened(couple_nm)
        open_ones = [int(i) for i in np.argsort(screened.estimate) if screened.bound[i] < needed]
        best, off, far = Found(float("inf"), None, settled=False), 1.0, max(ENOUGH * self.clear, needed)
        while open_ones and best.factor >= enough:
            nearest = screened.estimate[open_ones[0]] / (FARTHER * off)
            if nearest > best.factor:
                break
            if best.column is not None and min(best.factor, nearest) >= far:
                # The first have shown how good the estimates are: how far off it is need not be known.
                return Found(far, best.column, settled=False, off=off)
            now, open_ones = open_ones[:AT_ONCE], open_ones[AT_ONCE:]
            found = self.system.factors(load, [screened.columns[i] for i in now], far)
            for i, buckles in zip(now, found, strict=True):
                if np.isnan(buckles.factor):
                    return Found(float("nan"), screened.columns[i], settled=True)
                # Of one that is only known to be no less, the estimate may be too high by this at most.
                own = float(screened.estimate[i]) / buckles.factor
                off = max(off, own if np.isfinite(own) else 1.0)
                if best.column is None or buckles.factor < best.factor:
                    shape = self.system.shapes(buckles)
                    best = Found(buckles.factor, screened.columns[i], buckles.settled, shape, own)
        return best

    def check(self, couple_nm: float, up_to_nm: float) -> list[Check]:
        """Return the check at a couple; none where no plate is held by anything.

        A couple that is clear has all smaller ones clear: every case is there with the couple both ways, and
        what a mean of two stresses takes off is no more than the larger of what each does. So where
        `up_to_nm` is clear, that bound is told, and nothing else need be solved.
        """
        at_nm = couple_nm
        if couple_nm < up_to_nm < MOST_NM and self._is_clear(up_to_nm):
            at_nm = self._clear_to_nm = up_to_nm
        found = self.least(at_nm)
        if found.column is None:
            return []
        check = self._check(found, at_nm)
        if not found.settled:
            return [check]
        if np.isnan(found.factor):
            note = "the load at which it buckles could not be found"
            return [replace(check, demand=float("nan"), allowable=REQUIRED, where="the plates", note=note)]
        return [replace(check, where=self.system.moves_most(found.shape), note=_words(found.factor))]

    def about(self, couple_nm: float, off: float) -> list[Check]:
        """Return about what `check` does, from the screen alone; its estimates are `off` times too high."""
        found = self._by_bound(couple_nm, self.clear)
        if found is not None:
            return [] if found.column is None else [self._check(found, couple_nm)]
        _, screened = self._screened(couple_nm)
        least = int(np.argmin(screened.estimate))
        factor = float(screened.estimate[least]) / off
        found = Found(factor, screened.columns[least], settled=True)
        return [replace(self._check(found, couple_nm), where="the plates", note=_words(factor))]

    def under(self, solved: Solved) -> Buckling:
        """Return the same plates in a bracket that differs in what leaves them as they were solved."""
        return Buckling(solved, self._suppleness, self.system)

    def _check(self, found: Found, couple_nm: float) -> Check:
        load, _ = self._screened(couple_nm)
        case = load.columns[found.column or 0].words
        least = min(found.factor, MOST_TOLD)
        check = Check(NAME, REQUIRED, least, "x the load", self.band, SOURCE, "", case, parts=self.parts)
        if found.settled:
            return check
        where = f"no plate buckles at less than {_rounded_down(least)} times the load"
        return replace(check, kind="rule", where=where)

    def couple_that_buckles(self, most_nm: float, share: float = 1.0) -> float | None:
        """Return the couple up to `most_nm` at which the load factor falls to what is asked; None if none.

        The band counts against it; of each factor only `share` is taken. 0 where none is needed, or where
        it cannot be found. The factor is not one over the couple, since weight and pulls stay; nor does the
        same case govern at every couple.
        """
        if most_nm <= self._clear_to_nm and share >= 1.0:
            return None
        asked = REQUIRED * (1.0 + self.band) / share
        over = self.least(most_nm, asked, enough=asked)
        if over.factor >= asked:
            return None
        without = self.least(0.0, asked)
        if not (without.factor >= asked and over.factor < asked):
            return 0.0
        (_, low), (_, high) = self._screened(0.0), self._screened(most_nm)
        below, above, off = 0.0, most_nm, over.off

        def excess(couple_nm: float) -> float:
            return off * asked / estimate_between(low, high, couple_nm / most_nm) - 1.0

        # The estimate says where to look; the solution there, how far off it was.
        for _ in range(MOST_TRIES):
            signs = excess(below) < 0.0 <= excess(above)
            at_nm = float(brentq(excess, below, above, rtol=1e-4)) if signs else 0.5 * (below + above)
            found = self.least(at_nm, asked)
            if np.isnan(found.factor):
                return 0.0
            below, above = (at_nm, above) if found.factor >= asked else (below, at_nm)
            if abs(found.factor / asked - 1.0) < NEAR:
                return at_nm
            off = found.off
        return below

    def _screened(self, couple_nm: float) -> tuple[Loaded, Screen]:
        if couple_nm not in self._screens:
            load = loaded(self._solved.states, self._solved.cases, couple_nm)
            self._screens[couple_nm] = load, self._screening.of(load)
        return self._screens[couple_nm]


def _band_parts(solved: Solved) -> tuple[BandPart, ...]:
    """Return what the band is the sum of: one mesh, the sheet that may be thinnest, the couple.

    The couple counts as far as it may be more than its factor holds, as if it alone bent the plates.
    """
    plates = [plate for plate in solved.plates if plate.body_count]
    thinner = [tolerance_mm(p.plate, p.metal.kind) / p.plate.thickness_mm for p in plates]
    left = 1.0 - min(max(thinner, default=0.0), 1.0 - LEAST_SHARE)
    loads = solved.bracket.loads
    return (
        BandPart("mesh", MESH_BAND),
        BandPart("thickness", left**-THICKNESS_POWER - 1.0),
        BandPart("couple", max(0.0, (1.0 + loads.couple_may_be_more) / loads.couple_factor - 1.0)),
    )


def buckles_to(
    buckling: Buckling, checks: Sequence[Check], holds_to_nm: float, ended_by: str
) -> tuple[float, str]:
    """Return what a bracket holds to, and what ends it, with buckling in it as checked.

    Without that check, for figures in pencil, both stay as they are.
    """
    check = next((c for c in checks if c.name == NAME), None)
    if check is None or holds_to_nm <= 0.0:
        return holds_to_nm, ended_by
    if np.isnan(check.used):
        return 0.0, "the load at which it buckles could not be found"
    sooner = buckling.couple_that_buckles(holds_to_nm)
    if sooner is None:
        return holds_to_nm, ended_by
    return sooner, f"the load comes too near to what buckles it: {check.where}"


def _words(factor: float) -> str:
    return f"buckles at {factor:.3g} times the load"


def _rounded_down(factor: float) -> str:
    """Return a bound with two figures, never rounded up."""
    step = 10.0 ** (np.floor(np.log10(factor)) - 1.0)
    return f"{np.floor(factor / step) * step:g}"
