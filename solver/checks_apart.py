"""Natural frequency and buckling of a bracket that was changed.

A changed bracket is one whose plates are as they were solved. Both are asked of the first mesh, as
for the bracket itself.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import Final

from solver.buckling import REQUIRED, THICKNESS_POWER, Buckling, buckles_to
from solver.frequency import frequency_checks, slowest_swing
from solver.results import Check
from solver.solved import Solved
from solver.stages import Stage

FAR: Final = 4.0
"""A bracket this many times clear of buckling is so up to COUPLES times its couple, whatever else is turned:
turning only that other input moves no force in a plate by more."""
COUPLES: Final = 2.5


class ChecksApart:
    """A bracket's checks of natural frequency and buckling, ready for changes of it."""

    def __init__(self, first: Stage) -> None:
        """Take the bracket on its first mesh, condensed with what other beds need."""
        self._first = first
        self._whole = Buckling(first.solved, first.suppleness)

    def frequency(self, first: Solved) -> list[Check]:
        """Return the check of a changed bracket's natural frequency."""
        bracket = first.bracket
        if bracket.loads.engine is None:
            return []
        return frequency_checks(bracket, slowest_swing(bracket, first.states[0].structure))

    def buckling(self, first: Solved, couple_nm: float, holds_to_nm: float) -> tuple[list[Check], float]:
        """Return the check of a changed bracket, and the couple it holds to with buckling in it."""
        buckling = self._whole.under(first)
        checks = buckling.check(couple_nm, holds_to_nm)
        return checks, buckles_to(buckling, checks, holds_to_nm, "")[0]

    def about(self, first: Solved, couple_nm: float) -> list[Check]:
        """Return about what `buckling` does, in a hundredth of the time.

        What is not clear is estimated, and taken to be as far off as the estimate of the bracket itself.
        """
        if self._clear_by >= FAR and abs(couple_nm) <= COUPLES * abs(self._first.couple_nm):
            return self._own
        return self._whole.under(first).about(couple_nm, self._off)

    def of_other_sheet(self, share: float, usual_nm: float, couple_nm: float) -> tuple[list[Check], float]:
        """Return the check with a plate of a share of its thickness, and what the bracket then holds to.

        As if that plate alone gave way: by the third power of its thickness where it is thinner; no better
        where it is thicker. `usual_nm` is what it holds to as it is, `couple_nm` what but for buckling it
        would hold to.
        """
        power = min(1.0, share**THICKNESS_POWER)
        checks = [replace(c, allowable=c.allowable * power) for c in self._own]
        if all(c.kind == "rule" and c.allowable >= REQUIRED * (1.0 + c.band) for c in checks):
            return checks, couple_nm
        sooner = self._whole.couple_that_buckles(usual_nm, power) if usual_nm > 0.0 else 0.0
        return checks, min(couple_nm, usual_nm if sooner is None else sooner)

    @cached_property
    def _own(self) -> list[Check]:
        return self._whole.check(self._first.couple_nm, self._first.couple_nm)

    @cached_property
    def _off(self) -> float:
        return self._whole.least(self._first.couple_nm).off

    @cached_property
    def _clear_by(self) -> float:
        """Return how many times clear the bracket is by the bound alone; nought where it had to be solved."""
        bound = [c.allowable for c in self._own if c.kind == "rule"]
        return min(bound, default=0.0) / self._whole.clear
