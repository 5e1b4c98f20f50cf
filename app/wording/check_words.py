"""How a check is told in words, wherever it is shown."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from app.wording.figures import Units, figure, in_units, percent

if TYPE_CHECKING:
    from collections.abc import Iterable

    from solver.results import Check, Results

_FAR_FROM_HAND: Final = 0.3
_LEAST_PART: Final = 0.0005
"""Parts of a band below this are not worth a word."""


def worst_first(checks: Iterable[Check]) -> list[Check]:
    """Return checks with the most used first and detailing rules, which are no percentages, last."""
    return sorted(checks, key=lambda c: (c.kind == "rule", -sort_key(c)))


def sort_key(check: Check) -> float:
    """Return the used share at the band's upper end; what is no number sorts as the worst."""
    return float("inf") if math.isnan(check.used_upper) else check.used_upper


def more_used_words(results: Results) -> str:
    """Return in a sentence that a check that cannot fail is more used than the one that governs."""
    most = worst_first(results.checks)[0] if results.checks else None
    if results.governs is None or most is None or most.kind != "share":
        return ""
    if most.used_upper <= results.governs.used_upper:
        return ""
    return (
        f"{most.name} is more used, {percent(most.used)}; past its limit the bracket is marginal,"
        " it does not fail."
    )


def check_mark(check: Check, marginal_used: float) -> str:
    """Return in a word how a check stands at its band's upper end: over, near, or nothing to say."""
    if check.kind == "rule":
        return "met" if check.used_upper <= 1.0 else "BROKEN"
    if not check.used_upper <= 1.0:  # not >: no number is over too
        return "over"
    if check.kind != "share" and check.used_upper > marginal_used:
        return "near"
    return ""


PART_WORDS: Final = {
    "mesh": "mesh",
    "footprints": "footprints",
    "thickness": "sheet's thickness",
    "wall": "dash bar's wall",
    "couple": "couple",
}


def band_words(check: Check) -> str:
    """Return what a check's band is the sum of, the largest first; empty where it is one figure."""
    parts = sorted((p for p in check.parts if p.share >= _LEAST_PART), key=lambda p: -p.share)
    if not parts:
        return ""
    return "band: " + ", ".join(f"{PART_WORDS[p.name]} {percent(p.share)}" for p in parts)


def hand_words(check: Check, units: Units) -> str:
    """Return the hand figure beside the computed one in words; empty where there is none."""
    if check.by_hand is None:
        return ""
    by_hand, unit = in_units(check.by_hand, check.unit, units)
    here, _ = in_units(check.demand, check.unit, units)
    words = f"by hand {figure(by_hand)} {unit}".rstrip() + f", here {figure(here)} {unit}".rstrip()
    apart = abs(check.demand - check.by_hand) > _FAR_FROM_HAND * max(abs(check.demand), abs(check.by_hand))
    if apart:
        words += ", more than 30 % apart"
    return words + (f" ({check.by_hand_words})" if check.by_hand_words else "")
