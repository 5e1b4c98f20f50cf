"""The question of the turned plate: the open bracket beside the same plate along the shaft, both judged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from app.editing.refused import EditRefused
from app.editing.turned_plate import turned_along
from app.wording.figures import figure
from app.wording.verdict_words import verdict_in_ink
from geometry.bracket import Bracket
from geometry.findings import can_be_analysed, findings_of
from solver.results import Results

SAMPLE_PAIR: Final = (
    "See the samples Marlpit roadster, one piece, and Quayside kit car, side plate, side by side."
)
CHOICES: Final = ("less than now", "about the same", "up to three times as much", "more than that")
_ALIKE: Final = 0.15
_MUCH: Final = 3.0


@dataclass(frozen=True)
class Turned:
    """The turned bracket, and what is known of it."""

    bracket: Bracket | None
    """None where it cannot be turned."""
    trouble: str = ""
    """Why not, or why it could not be judged, in a sentence."""
    results: Results | None = None


def turned_of(bracket: Bracket) -> Turned:
    """Return the turned bracket, or why there is none."""
    try:
        turned = turned_along(bracket)
    except EditRefused as refused:
        return Turned(None, f"Not turned here: {refused}. {SAMPLE_PAIR}")
    if not can_be_analysed(findings_of(turned)):
        return Turned(None, f"Turned along the shaft it finds no room here. {SAMPLE_PAIR}")
    return Turned(turned)


def question() -> str:
    """Return what is asked."""
    return (
        "The same plate along the shaft, on the casing's flank: how far does the same couple turn the casing"
        " while bolts grip?"
    )


def answer_of(own: Results, turned: Results) -> tuple[int, str, str] | None:
    """Return the place of the right choice, what is so, and a note; None where either was not solved."""
    now, then = turn_deg(own), turn_deg(turned)
    if now is None or then is None or now <= 0.0:
        return None
    share = then / now
    place = 1 if abs(share - 1.0) <= _ALIKE else 0 if share < 1.0 else 2 if share <= _MUCH else 3
    held = [
        f"{verdict_in_ink(one).upper()}"
        + ("" if one.holds_to_nm is None else f", holds to {figure(one.holds_to_nm)} N.m")
        for one in (own, turned)
    ]
    return (
        place,
        f"{figure(share)} times: {figure(now)} deg square to the shaft, {figure(then)} deg along it.",
        f"Square to it {held[0]}; along it {held[1]}. The casing is taken with two bosses on its flank.",
    )


def turn_deg(results: Results) -> float | None:
    """Return the larger turn by the couple alone, bolts gripping; None if nothing was solved."""
    turns = [
        abs(case.turn_deg)
        for case in results.cases
        if case.state == "stuck" and case.name in ("couple +", "couple -")
    ]
    return max(turns, default=None)
