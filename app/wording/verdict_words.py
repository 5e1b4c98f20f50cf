"""How a verdict is told in words: always with its couple, the couple's source and what it holds to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.figures import Units, figure, quantity, sentence_in_units

if TYPE_CHECKING:
    from solver.results import Results, Verdict


def verdict_in_ink(results: Results) -> Verdict:
    """Return the verdict that may be written: pass and marginal only ever from refined figures."""
    if results.verdict in ("pass", "marginal") and not results.accuracy.refined:
        return "no verdict"
    return results.verdict


def verdict_words(results: Results, units: Units = "mm", *, pencil: bool = False) -> str:
    """Return what is written after the verdict's word: couple, source and what it holds to."""
    if results.couple_nm is None:
        return "the couple is blank"
    words = f"for {couple_words(results.couple_nm, units)} ({results.couple_source})"
    if results.holds_to_nm == 0.0:
        words += f"; holds to no couple at all: {results.ended_by}"
    elif results.holds_to_nm is not None:
        words += f"; holds to {couple_words(results.holds_to_nm, units)}"
        if pencil:
            words += " so far"
        if results.ended_by:
            words += f", then {sentence_in_units(results.ended_by, units)}"
    return words


def driving_words(results: Results) -> str:
    """Return what governs where a load case drives a free motion of the casing; empty where none does."""
    driven = [m for m in results.free_motions if m.moves_casing and m.driven_by]
    if not driven:
        return ""
    return f"a free motion that load cases drive, whatever the checks say: {driven[0].words}."


def couple_words(couple_nm: float, units: Units) -> str:
    """Return a couple as it is written, such as `30 N.m`, with the inch figure beside it if wanted."""
    number = figure(couple_nm)
    metric = f"{number.rstrip('0').rstrip('.') if '.' in number else number} N.m"
    return metric if units == "mm" else f"{metric} ({quantity(couple_nm, 'N.m', units)})"


_LIMIT_WORDS = {
    "movement_mm": ("movement under the couple", "mm"),
    "turn_deg": ("turn or lean of the casing", "deg"),
    "pull_movement_mm": ("movement with a pull", "mm"),
    "yield_factor": ("yield over allowable stress", ""),
    "slip_factor": ("factor on slip", ""),
    "friction_share": ("friction share", ""),
    "marginal_used": ("used above which it is marginal", ""),
}


def limit_words(name: str, value: float, *, bare: bool = False) -> str:
    """Return a limit in words, such as `turn or lean of the casing 0.2 deg`; only its value if `bare`."""
    words, unit = _LIMIT_WORDS.get(name, (name, ""))
    amount = f"{value:g} {unit}".rstrip()
    return amount if bare else f"{words} {amount}"
