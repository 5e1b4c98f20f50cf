"""In which limits and inputs a verdict is milder than usual, in sentences."""

from __future__ import annotations

from app.wording.figures import Units, sentence_in_units
from app.wording.verdict_words import limit_words
from geometry.bracket import Bracket
from geometry.loads import Limits
from solver.loose_inputs import loose_inputs


def looser_limits(limits: Limits) -> list[str]:
    """Return each limit looser than the program's default, without a full stop."""
    return [
        f"LOOSER than the default: {limit_words(name, value)}; the default is"
        f" {limit_words(name, usual, bare=True)}"
        for name, (value, usual) in limits.looser().items()
    ]


def looser_inputs(bracket: Bracket, units: Units) -> list[str]:
    """Return what is milder than usual about loads, sheets, welds, fit and bolts, without a full stop."""
    return [f"LOOSER than usual: {sentence_in_units(words, units)}" for words in loose_inputs(bracket)]
