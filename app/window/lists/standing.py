"""How the bracket stands, in words for the title block: what is stamped, what governs, why. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from app.wording.check_words import check_mark, worst_first
from app.wording.figures import Units, figure, percent, quantity, sentence_in_units
from app.wording.verdict_words import verdict_in_ink, verdict_words
from solver.results import Check, QuickAnswer, Results, Verdict

State = Literal["pencil", "ink", "out of date", "none"]


@dataclass(frozen=True)
class Standing:
    """Everything the title block says of an analysis."""

    verdict: Verdict
    state: State
    words: str
    """What is written under the stamp."""
    governs: str
    reasons: tuple[str, ...]
    looser: tuple[str, ...]
    """What is looser than the default; told wherever the verdict is."""

    @property
    def pencil(self) -> bool:
        """Return whether its figures are grey and italic."""
        return self.state != "ink"


def standing_of(
    results: Results | None, state: State, quick: QuickAnswer | None = None, units: Units = "mm"
) -> Standing:
    """Return what is to be said; a quick answer, which is pencil, goes before results that are older."""
    if quick is not None:
        return _quick(quick, units)
    if results is None or state == "none":
        return Standing("no verdict", "none", "not judged yet", "", (), ())
    reasons = tuple(sentence_in_units(reason, units) for reason in results.reasons)
    words = verdict_words(results, units, pencil=state == "pencil")
    verdict = verdict_in_ink(results)
    if state == "pencil":
        verdict = "no verdict"
        words = words if results.holds_to_nm is not None else f"{words}: not refined yet"
    elif state == "out of date":
        words = f"drawn since; these figures were {words}"
    elif verdict == "no verdict":
        words = f"no verdict {words}" if words.startswith("for ") else f"no verdict: {words}"
    governs = "" if results.governs is None else governs_words(results.governs)
    if verdict == "fail" and any(m.moves_casing and m.driven_by for m in results.free_motions):
        governs = "a free motion that a load case drives"
    return Standing(verdict, state, words, governs, reasons, results.flagged)


def governs_words(check: Check) -> str:
    """Return the check that governs in a few words."""
    if check.kind == "rule":
        return f"{check.name}, {check.where}: {check_mark(check, 1.0)}"
    where = "" if check.where in check.name else f", {check.where}"
    return f"{check.name}{where}: {percent(check.used_upper)} of allowable"


def _quick(answer: QuickAnswer, units: Units) -> Standing:
    """Say the movement and the worst check that needs no stress; and that it is a trial."""
    if answer.casing is None:
        loose = answer.free_motions[0].words if answer.free_motions else "nothing holds the casing"
        return Standing("no verdict", "pencil", sentence_in_units(loose, units), "", (loose,), ())
    moved = quantity(answer.casing.movement_mm, "mm", units)
    words = f"turns {figure(answer.casing.turn_deg)} deg, moves {moved} under the couple so far; stress waits"
    worst = worst_first(answer.checks)
    driven = tuple(m.words for m in answer.free_motions if m.driven_by)
    return Standing("no verdict", "pencil", words, governs_words(worst[0]) if worst else "", driven, ())
