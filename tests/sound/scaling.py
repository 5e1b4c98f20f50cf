"""Used shares against the couple, by the quick path: at what a bracket holds to, none is above 100 %."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.bracket import Bracket
from geometry.loads import StatedCouple
from solver.analyse import Judged
from solver.quick import quick_answer
from solver.results import Check

CLOSE = 2e-3
"""Root finding stops a hair before or after 100 %."""


def scaling_problems(bracket: Bracket, judged: Judged) -> Iterator[str]:
    """Yield where quick answers at and round what it holds to do not fit it."""
    results, whole = judged.results, judged.solved
    holds = results.holds_to_nm
    if whole is None or not holds or holds < 0.5:
        return
    bands = {check.name: check.band for check in results.checks}

    def used(couple_nm: float) -> dict[str, float]:
        answer = quick_answer(whole, _under(bracket, couple_nm))
        return {c.name: c.used * (1.0 + bands.get(c.name, 0.0)) for c in answer.checks if _counts(bracket, c)}

    at, half, above = used(holds), used(0.5 * holds), used(1.25 * holds)
    # A check whose note tells of lash at one couple is not there at it.
    for name in at.keys() & half.keys() & above.keys():
        share = at[name]
        if share > 1.0 + CLOSE:
            yield f"{name} uses {share:.4f} at the {holds:.4g} N.m it is said to hold to ({results.ended_by})"
        if half[name] > 1.0 + CLOSE:
            yield f"{name} uses {half[name]:.4f} at half of what it is said to hold to"
        if above[name] < share * (1.0 - CLOSE) and share > 0.5:
            yield f"{name} uses less under a larger couple: {share:.4f}, then {above[name]:.4f}"
        if share > 0.0 and above[name] > 1.25**6 * max(share, 1e-3) and above[name] < 1e6:
            yield f"{name} leaps from {share:.4f} to {above[name]:.4f} for a quarter more couple"


def _counts(bracket: Bracket, check: Check) -> bool:
    """Return whether a check has a part in what it holds to, and grows without a leap.

    A turn with lash leaps where something slips, and a spectrum has couples of its own.
    """
    if check.kind == "share" or "lash" in check.note:
        return False
    return not (check.name.startswith("fatigue") and bracket.loads.fatigue.spectrum)


def _under(bracket: Bracket, couple_nm: float) -> Bracket:
    stated = StatedCouple(couple_nm=couple_nm, by="the trial")
    loads = bracket.loads
    # Another source would bring another factor along.
    return bracket.but(loads=loads.but(couple=stated, factor=loads.couple_factor))
