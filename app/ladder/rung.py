"""One rung of a ladder: what the analysis says of one step, short enough to keep and to send."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from pydantic import BaseModel, ConfigDict

from app.compare.makings import makings_of
from app.wording.file_verdict import word_on_file
from app.wording.verdict_words import verdict_in_ink
from geometry.bracket import Bracket
from geometry.finding import Finding, worst_first
from geometry.finding_words import sentence
from solver.results import Results
from solver.version import VERSION


class Answer(BaseModel):
    """What came of one bracket."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    verdict: Literal["pass", "marginal", "fail", "no verdict"]
    holds_to_nm: float | None = None
    ended_by: str = ""
    governs: str = ""
    """The check nearest to its limit."""
    used_upper: float | None = None
    """Its used share at the upper end of its band; None where it is no finite number."""
    friction_share: float | None = None
    reason: str = ""
    """The first reason for the verdict."""
    mass_kg: float | None = None
    cut_length_mm: float | None = None
    parts: int = 0
    trouble: str = ""
    """Why it could not be judged, in a sentence."""
    version: str = VERSION


class Rung(BaseModel):
    """A step and what came of it."""

    model_config = ConfigDict(frozen=True)

    values: tuple[str, ...]
    answer: Answer
    said: tuple[str, ...] = ()
    kept: bool = False
    """Whether it was judged at an earlier time and taken from there."""


def answer_of(bracket: Bracket, results: Results) -> Answer:
    """Return what an analysis says, in short."""
    made = makings_of(bracket)
    governs = results.governs
    used = None if governs is None else governs.used_upper
    return Answer(
        verdict=verdict_in_ink(results),
        holds_to_nm=results.holds_to_nm,
        ended_by=results.ended_by,
        governs="" if governs is None else governs.name,
        used_upper=used if used is not None and used < float("inf") else None,
        friction_share=None if results.friction_share is None else results.friction_share.share,
        reason=results.reasons[0] if results.reasons else "",
        mass_kg=made.mass_kg,
        cut_length_mm=made.cut_length_mm,
        parts=made.parts,
    )


def held_to(answer: Answer, of_file: Sequence[Finding]) -> Answer:
    """Return an answer with the verdict that a file allows: what could not be read may be what would fail."""
    verdict = word_on_file(answer.verdict, of_file)
    if verdict == answer.verdict:
        return answer
    against = next(sentence(f) for f in worst_first(of_file) if f.bars_verdict or f.severity == "rule")
    return answer.model_copy(update={"verdict": verdict, "reason": against})


def unanswered(trouble: str, bracket: Bracket | None = None) -> Answer:
    """Return the answer for what could not be judged."""
    if bracket is None:
        return Answer(verdict="no verdict", trouble=trouble)
    made = makings_of(bracket)
    return Answer(
        verdict="no verdict",
        trouble=trouble,
        mass_kg=made.mass_kg,
        cut_length_mm=made.cut_length_mm,
        parts=made.parts,
    )
