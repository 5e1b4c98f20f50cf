"""What can move, as results a picture can be drawn from, with nothing solved."""

from __future__ import annotations

from collections.abc import Sequence

from geometry.bracket import Bracket
from solver.results import Accuracy, FreeMotion, Results
from solver.version import VERSION


def bare_results(bracket: Bracket, motions: Sequence[FreeMotion]) -> Results:
    """Return results with free motions alone: no stress, no check, no verdict."""
    couple = bracket.loads.couple
    return Results(
        title=bracket.title,
        verdict="no verdict",
        reasons=("Only what can move was worked out, nothing else.",),
        couple_nm=couple.value_nm,
        couple_factor=bracket.loads.couple_factor,
        couple_source=couple.words,
        holds_to_nm=None,
        ended_by="",
        friction_fails_nm=None,
        governs=None,
        checks=(),
        casing=None,
        friction_share=None,
        free_motions=tuple(motions),
        bolts=(),
        cases=(),
        one_bolt_lost=(),
        plates=(),
        accuracy=Accuracy(False, (), 1.0, {}, "Nothing was solved.", ""),
        findings=(),
        assumptions=("Plates and casing are rigid, and friction stops nothing.",),
        flagged=(),
        not_computed=(),
        hash=bracket.input_hash(),
        version=VERSION,
    )
