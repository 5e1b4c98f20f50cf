"""Which layout is better, and why, in one sentence; or why none is called better.

None is called better while one of them has no verdict, or while they are not held to the same. A fail is
never better than a pass; of layouts that all fail none is better. Of two with the same verdict the one that
rests less on friction is better, then the one that holds to more by more than the figures are sure of.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.compare.judged import Judged
from app.wording.figures import figure, percent
from app.wording.verdict_words import couple_words
from solver.results import FreeMotion, Verdict

SURE: Final = 0.05
"""Figures nearer than this share of the larger are taken as the same: no check is surer."""
_RANK: Final[dict[Verdict, int]] = {"pass": 0, "marginal": 1, "fail": 2, "no verdict": 3}
_PLURAL: Final[dict[Verdict, str]] = {
    "pass": "pass", "marginal": "are marginal", "fail": "fail", "no verdict": "have no verdict",
}  # fmt: skip
_SINGULAR: Final[dict[Verdict, str]] = {
    "pass": "it passes", "marginal": "it is marginal", "fail": "it fails", "no verdict": "it has no verdict",
}  # fmt: skip
_WORSE: Final[dict[Verdict, str]] = {
    "pass": "passes", "marginal": "is marginal", "fail": "fails", "no verdict": "has no verdict",
}  # fmt: skip


@dataclass(frozen=True)
class Outcome:
    """What comes of a comparison."""

    better: int | None
    sentence: str


def better_of(judged: Sequence[Judged], ground: Sequence[str] = ()) -> Outcome:
    """Return the number of the better layout, if one is, and the sentence.

    `ground` is what they are held to that is not the same, in words.
    """
    blank = next((one for one in judged if one.verdict == "no verdict"), None)
    if blank is not None:
        why = blank.why_no_verdict.rstrip(".")
        return Outcome(None, f"None is called better: {blank.name} has no verdict ({why}).")
    if ground:
        return Outcome(
            None,
            f"None is called better: they are not held to the same {_and(ground)}; make that the same first.",
        )
    order = sorted(range(len(judged)), key=lambda number: _key(judged[number]))
    best, second = judged[order[0]], judged[order[1]]
    if best.verdict == "fail":
        return Outcome(None, _all_fail([judged[number] for number in order]))
    if best.verdict != second.verdict:
        reasons = "; ".join(_against(judged[number]) for number in order[1:])
        return Outcome(order[0], f"{best.name} is better: {_SINGULAR[best.verdict]}{_to(best)}; {reasons}.")
    lead = f"{_standing(judged, best.verdict)}. "
    if _leans(best) != _leans(second):
        why = f"{second.name} leans on friction: {_leaning(second)}"
        return Outcome(order[0], f"{lead}{best.name} is better: {why}.")
    if _apart(_holds(best), _holds(second)):
        why = f"it holds to {_couple(best)}, {second.name} to {_couple(second)}{_then(second)}"
        return Outcome(order[0], f"{lead}{best.name} is better: {why}.{_price(best, second)}")
    return Outcome(None, f"{lead}{_even(best, second)}")


def _key(judged: Judged) -> tuple[int, bool, float]:
    return _RANK[judged.verdict], _leans(judged), -_holds(judged)


def _holds(judged: Judged) -> float:
    results = judged.results
    if results is None or results.holds_to_nm is None:
        return math.inf if judged.holds_beyond else 0.0
    return results.holds_to_nm


def _leans(judged: Judged) -> bool:
    """Return whether the casing is held by nothing but friction, or by more of it than the limit allows."""
    return bool(_leaning(judged))


def _leaning(judged: Judged) -> str:
    motion = _casing_motion(judged)
    if motion is not None:
        return motion.words
    share = None if judged.results is None else judged.results.friction_share
    if share is not None and share.share > judged.layout.bracket.limits.friction_share:
        return f"{percent(share.share)} of what resists the couple"
    return ""


def _casing_motion(judged: Judged) -> FreeMotion | None:
    motions = () if judged.results is None else judged.results.free_motions
    return next((m for m in motions if m.moves_casing), None)


def _against(judged: Judged) -> str:
    """Return what speaks against a layout with a worse verdict."""
    word = {"marginal": "is marginal", "fail": "fails"}.get(judged.verdict, "passes too")
    motion = _casing_motion(judged)
    if motion is not None:
        return f"{judged.name} {word} because {motion.words}"
    reasons = () if judged.results is None else judged.results.reasons
    return f"{judged.name} {word}" + (
        f": {reasons[0].rstrip('.')}" if reasons and word != "passes too" else ""
    )


def _all_fail(ordered: Sequence[Judged]) -> str:
    best, second = ordered[0], ordered[1]
    lead = f"{_names(ordered)} fail: none is better"
    if _holds(best) > 0.0 and _apart(_holds(best), _holds(second)):
        return f"{lead}; {best.name} comes nearest: it holds to {_couple(best)}{_then(best)}."
    motion = _casing_motion(best)
    return f"{lead}. In {best.name} {motion.words}." if motion is not None else f"{lead}."


def _even(best: Judged, second: Judged) -> str:
    """Return that two are as good as each other, and what one of them costs less."""
    if math.isinf(_holds(best)) and math.isinf(_holds(second)):
        held = "no couple that was looked at ends either"
    else:
        held = f"{best.name} holds to {_couple(best)} and {second.name} to {_couple(second)}"
    return f"Neither is better by more than the figures are sure of: {held}.{_lighter(best, second)}"


def _price(better: Judged, other: Judged) -> str:
    """Return what the better one takes more of."""
    more = []
    for a, b, unit in _costs(better, other):
        if a is not None and b is not None and a > b * (1.0 + SURE):
            more.append(f"{figure(a - b)} {unit} more")
    return f" It takes {_and(more)}." if more else ""


def _lighter(one: Judged, other: Judged) -> str:
    a, b = one.makings.mass_kg, other.makings.mass_kg
    if a is None or b is None or not _apart(a, b):
        return ""
    light, by = (one, b - a) if a < b else (other, a - b)
    return f" {light.name} is {figure(by)} kg lighter."


def _costs(one: Judged, other: Judged) -> tuple[tuple[float | None, float | None, str], ...]:
    a, b = one.makings, other.makings
    return (
        (a.mass_kg, b.mass_kg, "kg of sheet"),
        (a.cut_length_mm, b.cut_length_mm, "mm of cut"),
        (a.bolts, b.bolts, "bolts"),
    )


def _apart(a: float, b: float) -> bool:
    if math.isinf(a) or math.isinf(b):
        return a != b
    return abs(a - b) > SURE * max(abs(a), abs(b))


def _couple(judged: Judged) -> str:
    held = _holds(judged)
    return "more than is looked for" if math.isinf(held) else couple_words(held, "mm")


def _to(judged: Judged) -> str:
    held = _holds(judged)
    return "" if math.isinf(held) or held == 0.0 else f" and holds to {_couple(judged)}"


def _then(judged: Judged) -> str:
    ended = "" if judged.results is None else judged.results.ended_by
    return f", where {ended}" if ended else ""


def _standing(judged: Sequence[Judged], verdict: Verdict) -> str:
    """Return which of them have the best verdict, and what the rest have."""
    group = [one.name for one in judged if one.verdict == verdict]
    if len(group) == len(judged):
        return f"{_names(judged)} {_PLURAL[verdict]}"
    rest = [f"{one.name} {_WORSE[one.verdict]}" for one in judged if one.verdict != verdict]
    return f"{_and(group)} {_PLURAL[verdict]}, {_and(rest)}"


def _names(judged: Sequence[Judged]) -> str:
    return "Both" if len(judged) == 2 else "All"


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
