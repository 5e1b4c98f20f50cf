"""What was found about a file, held against the verdict on the bracket that was read from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from app.wording.verdict_words import verdict_in_ink

if TYPE_CHECKING:
    from geometry.finding import Finding
    from solver.results import Results, Verdict


def verdict_on_file(
    results: Results | None, file_findings: Sequence[Finding], *, pencil: bool = False
) -> Verdict:
    """Return the verdict that may be written: fail before no verdict before marginal before pass.

    Without results, and while they are `pencil`, that is no verdict.
    """
    if results is None or pencil:
        return "no verdict"
    return word_on_file(verdict_in_ink(results), file_findings)


def word_on_file(computed: Verdict, file_findings: Sequence[Finding]) -> Verdict:
    """Return what a verdict on the bracket that was read may be with what was found about its file."""
    if computed == "fail":
        return "fail"
    if any(finding.bars_verdict for finding in file_findings):
        return "no verdict"
    if computed == "pass" and any(finding.severity == "rule" for finding in file_findings):
        return "marginal"
    return computed


def held_to_file(results: Results, file_findings: Sequence[Finding]) -> Results:
    """Return the results with the verdict that the file allows; what stands against more is said first."""
    verdict = verdict_on_file(results, file_findings)
    if verdict == results.verdict:
        return results
    from geometry.finding_words import sentence

    against = tuple(sentence(f) for f in file_findings if f.bars_verdict or f.severity == "rule")
    return replace(results, verdict=verdict, reasons=against + results.reasons)
