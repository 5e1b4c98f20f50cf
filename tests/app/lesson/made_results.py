"""Results with invented figures that belong to a given bracket."""

from __future__ import annotations

from dataclasses import replace

from app.lesson.loosened import motions_of
from geometry.bracket import Bracket
from solver.results import CaseResult, FrictionShare, OneBoltLost, Results, Verdict
from tests.app.example_results import example_results


def made_results(
    bracket: Bracket,
    *,
    verdict: Verdict = "pass",
    share: float = 0.2,
    couple_mm: float = 0.05,
    pull_mm: float = 0.2,
    lost: tuple[OneBoltLost, ...] = (),
) -> Results:
    """Return results of that bracket whose answers are as said."""
    return replace(
        example_results(verdict),
        hash=bracket.input_hash(),
        plates=(),
        free_motions=motions_of(bracket),
        friction_share=FrictionShare(share, 1000.0, 1000.0 * (1.0 - share)),
        cases=(
            _case("couple +", couple_mm),
            _case("couple +, pull right", pull_mm),
        ),
        one_bolt_lost=lost,
    )


def _case(name: str, movement_mm: float) -> CaseResult:
    return CaseResult(name, name, "stuck", 0.01, 0.0, movement_mm, (), 0.0)
