"""Findings about loads, limits and the stored result, and the blanks among them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.loads import Couple, Loads

_WANTED: Final[dict[str, dict[str, str]]] = {
    "stated": {"couple_nm": "figure"},
    "torque meters": {"output_nm": "output torque", "input_nm": "input torque"},
    "load cell": {"force_n": "force", "arm_mm": "arm"},
    "motor": {"motor_nm": "motor torque", "ratio": "ratio"},
}
"""What each source of the couple must give, and what people call it."""


def load_findings(bracket: Bracket) -> Iterator[Finding]:
    """Yield blanks and doubts about loads, every limit looser than the default, and a stale stored result."""
    couple = bracket.loads.couple
    if couple.value_nm is None:
        yield found("blank-couple", "loads, couple", source=couple.source, missing=_missing(couple))
    elif couple.value_nm == 0.0:
        yield found("couple-zero", "loads, couple", source=couple.words)
    if bracket.wheel is None:
        yield found("blank-wheel", "wheel")
    if bracket.rake_deg is None:
        yield found("blank-rake", "bracket")
    yield from _looser(bracket)
    claim = bracket.claim
    if claim is not None and claim.hash != bracket.input_hash():
        yield found("claim-stale", "claim", verdict=claim.verdict, date=claim.date)


def _looser(bracket: Bracket) -> Iterator[Finding]:
    usual, couple = Loads(), bracket.loads.couple
    factor, usual_factor = bracket.loads.couple_factor, usual.but(couple=couple).couple_factor
    if factor < 1.0:
        yield found("factor-low", "loads", factor=factor)
    elif factor < usual_factor:
        yield found("factor-looser", "loads", factor=factor, usual=usual_factor)
    for what, value, least in (
        ("the driver's pull", bracket.loads.pull_n, usual.pull_n),
        ("weight_g", bracket.loads.weight_g, usual.weight_g),
    ):
        if value < least:
            yield found("load-looser", "loads", what=what, value=value, usual=least)
    for name, (value, default) in bracket.limits.looser().items():
        yield found("limit-looser", "limits", limit=name, value=value, usual=default)


def _missing(couple: Couple) -> str:
    wanted = _WANTED[couple.source]
    return " and ".join(words for name, words in wanted.items() if getattr(couple, name) is None)
