"""A judged file as text for people: the verdict first, then why, then everything it rests on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.cautions import CAUTIONS
from app.cli.check_table import write_checks
from app.cli.report_tables import write_tables
from app.cli.stamp import STYLES, stamp
from app.report.reasons import reasons
from app.wording.check_words import band_words, check_mark, hand_words, more_used_words
from app.wording.figures import Units, figure, percent, quantity, sentence_in_units
from app.wording.layout_words import layout_words
from app.wording.verdict_words import driving_words
from app.wording.verdict_words import verdict_words as words_of
from geometry.finding_words import sentence
from geometry.loads import Limits

if TYPE_CHECKING:
    from app.cli.page import Page
    from app.report.judged_file import JudgedFile
    from geometry.finding import Finding
    from solver.results import Results


def write_report(page: Page, judged: JudgedFile, units: Units = "mm") -> None:
    """Write everything there is to say of one file onto the page."""
    title = judged.bracket.title if judged.bracket is not None else ""
    page.line(f"{judged.file}: {title}" if title else judged.file, style="bold")
    _verdict(page, judged, units)
    _limits(page, judged, units)
    _bullets(page, "Why", reasons(judged), units)
    results = judged.results
    if results is not None:
        _governs(page, judged, results, units)
        if results.checks:
            page.heading("Checks")
            write_checks(
                page, results.checks, marginal_used=_limits_in_force(judged).marginal_used, units=units
            )
        write_tables(page, results, units, pencil=judged.pencil)
    _findings(page, judged.findings)
    if results is not None:
        _assumptions(page, results, units)
        _bullets(page, "Not computed", results.not_computed, units)
    _claim(page, judged)
    _bullets(page, "Cautions", CAUTIONS, "mm")
    if results is not None:
        page.blank()
        page.line(f"version {results.version}, inputs {results.hash}", style="dim")


def verdict_words(judged: JudgedFile, units: Units = "mm") -> str:
    """Return what is written after the verdict's word: couple, source and what it holds to."""
    r = judged.results
    if r is None:
        return ""
    return words_of(r, units, pencil=judged.pencil)


def _verdict(page: Page, judged: JudgedFile, units: Units) -> None:
    import textwrap

    verdict = judged.verdict
    words = verdict_words(judged, units)
    if verdict == "no verdict":
        # an empty frame has no word in it, so the word stands beside it
        joint = ": " if words.startswith("the ") else " "
        words = "NO VERDICT" + (joint + words if words else "")
    lines = stamp(verdict, page.ascii_only)
    room = max(20, page.width - len(lines[0]) - 1)
    beside = textwrap.wrap(sentence_plain(words), room, break_on_hyphens=False)
    if len(beside) <= 2:
        beside = ["", *beside]
    style = STYLES[verdict]
    for i in range(max(len(lines), len(beside))):
        mark = lines[i] if i < len(lines) else " " * len(lines[0])
        page.styled((mark + " ", style), (beside[i] if i < len(beside) else "", ""))


def sentence_plain(text: str) -> str:
    """Return the text on one line."""
    from app.wording.figures import plain

    return plain(" ".join(text.split()))


def _limits_in_force(judged: JudgedFile) -> Limits:
    if judged.limits is not None:
        return judged.limits.limits
    return judged.bracket.limits if judged.bracket is not None else Limits()


def _limits(page: Page, judged: JudgedFile, units: Units) -> None:
    if judged.bracket is None:
        return
    limits = _limits_in_force(judged)
    whose = "the file's own limits"
    if judged.limits is not None:
        whose = f"the limits in {judged.limits.source}, not the file's own"
    same = "; all at their defaults" if limits == Limits() else ""
    page.line(f"Judged under {whose}{same}.")
    if told := layout_words(judged.bracket):
        page.line(told)
    from app.report.looser import looser_inputs, looser_limits

    inputs = looser_inputs(judged.bracket, units) if judged.results is not None else []
    for words in (*looser_limits(limits), *inputs):
        page.hanging("! ", f"{words}.")


def _bullets(page: Page, heading: str, sentences: tuple[str, ...], units: Units) -> None:
    if sentences:
        page.heading(heading)
        page.bullets(sentence_in_units(text, units) for text in sentences)


def _governs(page: Page, judged: JudgedFile, r: Results, units: Units) -> None:
    if driven := driving_words(r):
        page.heading("Governs")
        page.line(sentence_in_units(driven, units), indent=2)
        return
    if r.governs is None:
        return
    c = r.governs
    page.heading("Governs")
    if c.kind == "rule":
        page.line(f"{c.name}: {check_mark(c, 1.0)}; {c.where}", indent=2)
        return
    so_far = " so far" if judged.pencil else ""
    comes_from = band_words(c).removeprefix("band: ")
    band = f", {percent(c.used_upper)} at the upper end of its band" if c.band > 0.0 else ""
    band += f" ({comes_from})" if comes_from else ""
    words = (
        f"{c.name}: {percent(c.used)} used{so_far}{band}; {quantity(c.demand, c.unit, units)} "
        f"against {quantity(c.allowable, c.unit, units)}; {sentence_in_units(c.where, units)}"
    )
    by_hand = hand_words(c, units)
    parts = (words, sentence_in_units(c.case, units), by_hand, f"limit: {c.source}")
    page.line("; ".join(part for part in parts if part) + ".", indent=2)
    if more := more_used_words(r):
        page.line(more, indent=2)


_SEVERITY_WORDS = {
    "stop": "cannot be analysed",
    "doubt": "bars a verdict",
    "rule": "broken rule",
    "note": "note",
}


def _findings(page: Page, findings: tuple[Finding, ...]) -> None:
    from geometry.finding import worst_first

    if not findings:
        return
    page.heading("Findings")
    for finding in worst_first(findings):
        kind = "blank" if finding.is_blank else _SEVERITY_WORDS[finding.severity]
        page.hanging("  - ", f"{kind}: {sentence(finding)}")


def _assumptions(page: Page, r: Results, units: Units) -> None:
    rest = tuple(text for text in r.assumptions if text not in r.flagged)
    if not r.flagged and not rest:
        return
    page.heading("Assumptions")
    page.bullets((sentence_in_units(text, units) for text in r.flagged), mark="!")
    page.bullets(sentence_in_units(text, units) for text in rest)


def _claim(page: Page, judged: JudgedFile) -> None:
    if judged.bracket is None or judged.bracket.claim is None:
        return
    claim = judged.bracket.claim
    stale = claim.hash != judged.bracket.input_hash()
    holds = "" if claim.holds_to_nm is None else f", holding to {figure(claim.holds_to_nm)} N.m"
    page.heading("Stored claim")
    words = f"The file says that version {claim.version} said {claim.verdict}{holds} on {claim.date}. "
    if stale:
        words += "That claim is stale: the inputs have changed since."
    elif judged.limits is not None:
        words += "It was made under the file's own limits."
    elif claim.verdict != judged.verdict:
        words += f"The same inputs give {judged.verdict} now: the verdict above counts, not the claim."
    else:
        words += "It is a claim about the same inputs; the verdict above is computed afresh."
    page.line(words, indent=2)
