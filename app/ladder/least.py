"""Which rung is the least that passes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.ladder.rung import Rung
from app.ladder.steps import Ladder
from app.wording.figures import figure


@dataclass(frozen=True)
class Least:
    """The least rungs that pass, and a sentence."""

    rungs: tuple[Rung, ...]
    """Those that pass and have nothing below them, in every thing varied, that passes too; lightest first."""
    sentence: str


def least_of(ladder: Ladder, rungs: Sequence[Rung]) -> Least:
    """Return the least of the rungs that pass; the sentence says what is not known.

    With several things varied a rung is among the least if none that passes is as low in all of them.
    """
    passing = [rung for rung in rungs if rung.answer.verdict == "pass"]
    least = [one for one in passing if not any(_below(ladder, other, one) for other in passing)]
    least.sort(key=lambda rung: (rung.answer.mass_kg or 0.0, rung.values))
    missing = len(ladder.steps) - len(rungs)
    return Least(tuple(least), _sentence(ladder, rungs, passing, least, missing))


def _below(ladder: Ladder, low: Rung, high: Rung) -> bool:
    """Return whether one rung is no higher in anything varied and lower in something."""
    places = [
        (one.values.index(a), one.values.index(b))
        for one, a, b in zip(ladder.varied, low.values, high.values, strict=True)
    ]
    return low.values != high.values and all(a <= b for a, b in places)


def _sentence(
    ladder: Ladder, rungs: Sequence[Rung], passing: Sequence[Rung], least: Sequence[Rung], missing: int
) -> str:
    so_far = f" {missing} of {len(ladder.steps)} steps are not judged." if missing else ""
    undecided = sum(rung.answer.verdict == "no verdict" for rung in rungs)
    verbs = ("has", "is") if undecided == 1 else ("have", "are")
    blank = f" {undecided} {verbs[0]} no verdict and {verbs[1]} not counted." if undecided else ""
    if not least:
        marginal = [rung for rung in rungs if rung.answer.verdict == "marginal"]
        near = f" Marginal at the least: {ladder.words(marginal[0].values)}." if marginal else ""
        return f"No step passes{' so far' if missing else ''}.{near}{blank}{so_far}"
    lead = "The least that passes" if not missing else "The least that passes so far"
    words = "; or ".join(_words(ladder, rung) for rung in least[:4])
    more = f"; and {len(least) - 4} more" if len(least) > 4 else ""
    return f"{lead}: {words}{more}.{_worse_above(ladder, rungs, passing, least)}{blank}{so_far}"


def _words(ladder: Ladder, rung: Rung) -> str:
    held = rung.answer.holds_to_nm
    holds = "" if held is None else f", holds to {figure(held)} N.m"
    mass = "" if rung.answer.mass_kg is None else f", {figure(rung.answer.mass_kg)} kg"
    return f"{ladder.words(rung.values)}{holds}{mass}"


def _worse_above(
    ladder: Ladder, rungs: Sequence[Rung], passing: Sequence[Rung], least: Sequence[Rung]
) -> str:
    """Return a warning where a step above one that passes does not pass: more is not always better."""
    judged = [rung for rung in rungs if rung.answer.verdict in ("fail", "marginal")]
    odd = next((rung for rung in judged if any(_below(ladder, low, rung) for low in least)), None)
    if odd is None or not passing:
        return ""
    why = odd.answer.reason.rstrip(".")
    return f" More is not always better: {ladder.words(odd.values)} {_how(odd)}: {why}."


def _how(rung: Rung) -> str:
    return "fails" if rung.answer.verdict == "fail" else "is marginal"
