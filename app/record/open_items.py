"""What keeps a record open, whatever the computed verdict; and what a decision may then be.

Glossary
--------
open item   something nobody has settled yet: a line of the check-list, a blank, a reading outside its band
standing    how the record stands, worked out anew each time from the record, the bracket and the results
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from app.record.around_items import open_around
from app.record.as_built import as_built
from app.record.check_list import AS_DRAWN_LINE, PROOF_LINE, missing_lines
from app.record.due import conditions_told, is_a_day, is_overdue, line_due, still_due
from app.record.fasteners import fasteners_wanting, locking_wanting
from app.record.profile import Profile
from app.record.proof import open_proofs
from app.record.record import Computed, DecisionWord, Item, Record
from app.wording.figures import plain
from app.wording.plate_name import plate_called
from app.wording.verdict_words import couple_words, verdict_in_ink
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import sentence
from solver.results import Results

StandingWord = Literal["accepted", "accepted with conditions", "refused", "asked", "open"]

ACCEPTED: Final = 0
REFUSED: Final = 1
STILL_OPEN: Final = 2
_LEAST_REASON: Final = 10
"""Letters of a reason; fewer say nothing."""


class DecisionRefused(ValueError):  # noqa: N818 - a refusal is no fault
    """A decision that cannot be written down yet, in a sentence: why, and what to do."""


@dataclass(frozen=True)
class OpenItem:
    """One thing that is open."""

    about: str
    """The group of the check-list, or `record`, `computed`, `measured`."""
    words: str
    line: int | None = None
    """Place in the check-list, if it is a line of it."""


@dataclass(frozen=True)
class RecordStanding:
    """How the record stands."""

    word: StandingWord
    sentence: str
    exit_code: int


def open_items(
    record: Record,
    results: Results | None,
    bracket: Bracket,
    profile: Profile = Profile(),  # noqa: B008 - immutable
    *,
    built: Results | None = None,
) -> tuple[OpenItem, ...]:
    """Return everything that is open, whatever the verdict of `results`; `built` judges what was measured."""
    found = _of_record(record, bracket) + _of_decision(record, results)
    found += _of_check_list(record, profile, bracket) + _said_to_be_measured(record, bracket)
    found += _of_results(results)
    found += [OpenItem(group, words) for group, words in open_around(record, results)]
    found += _of_measured(record, bracket, results, built)
    # a blank grade or torque is a finding of what is computed already
    wanting = fasteners_wanting(bracket) if results is None else locking_wanting(bracket)
    found += [OpenItem("bolts", words) for words in wanting]
    return tuple(found)


def items_of(findings: Iterable[Finding]) -> tuple[OpenItem, ...]:
    """Return an open item for every finding about a file that touches what is judged or recorded."""
    return tuple(OpenItem("record", sentence(f)) for f in findings if f.bars_verdict)


def standing_of(
    record: Record, items: tuple[OpenItem, ...], results: Results | None, built: Results | None = None
) -> RecordStanding:
    """Return how the record stands; a decision to accept stands only while nothing is open.

    `built` judges what was measured: where that is worse than what was drawn, the sentence says so.
    """
    verdict = "no verdict" if results is None else verdict_in_ink(results)
    code = REFUSED if verdict == "fail" else STILL_OPEN
    count = f"{len(items)} {'item is' if len(items) == 1 else 'items are'} open"
    if record.decision == "refuse":
        return RecordStanding("refused", f"Refused; {count}.", REFUSED)
    if record.decision == "ask":
        return RecordStanding("asked", f"The builder is asked; {count}.", code)
    if not record.accepts:
        return RecordStanding("open", f"Not decided; {count}.", code)
    if why := why_not_accepted(record, items, results):
        return RecordStanding("open", f"Written down as accepted, but it is open: {why}", code)
    word: StandingWord = "accepted" if record.decision == "accept" else "accepted with conditions"
    said = (
        "Accepted"
        if word == "accepted"
        else f"Accepted with conditions: {'; '.join(conditions_told(record))}"
    )
    if verdict == "fail":
        said += f"; the computed verdict is FAIL, accepted for this reason: {record.reason.strip()}"
    if built is not None and verdict_in_ink(built) != verdict:
        said += f"; drawn it is {verdict.upper()}, as built {verdict_in_ink(built).upper()}"
    return RecordStanding(word, f"{said}.", ACCEPTED)


def why_not_accepted(record: Record, items: tuple[OpenItem, ...], results: Results | None) -> str:
    """Return why it cannot be accepted, in a sentence; empty if it can."""
    if items:
        more = f" and {len(items) - 1} more" if len(items) > 1 else ""
        return f"{items[0].about}: {items[0].words}{more}. Settle what is open first, or ask the builder."
    if record.decision == "accept with conditions" and not any(c.strip() for c in record.conditions):
        return "no condition is written down. Write each condition, or accept without."
    failed = results is not None and verdict_in_ink(results) == "fail"
    if failed and len(record.reason.strip()) < _LEAST_REASON:
        return "the computed verdict is FAIL and no reason is given. Write why it is accepted all the same."
    return ""


def decide(
    record: Record,
    decision: DecisionWord,
    items: tuple[OpenItem, ...],
    results: Results | None,
    judged_under: str = "",
) -> Record:
    """Return the record with that decision, and with what is computed beside a decision to accept.

    DecisionRefused if it cannot be accepted as things stand.
    """
    decided = record.but(decision=decision, computed=None)
    if not decided.accepts:
        return decided
    if why := why_not_accepted(decided, items, results):
        raise DecisionRefused(f"It cannot be accepted: {why}")
    if results is None:
        return decided
    holds_to = results.holds_to_nm
    verdict, version = verdict_in_ink(results), results.version
    said = Computed(verdict=verdict, holds_to_nm=holds_to, judged_under=judged_under, program=version)
    return decided.but(computed=said)


def _of_record(record: Record, bracket: Bracket) -> list[OpenItem]:
    found = []
    if record.bracket_hash != bracket.input_hash():
        found.append(
            OpenItem(
                "record",
                "the inputs have changed since the record was begun: it was made for"
                f" {record.bracket_hash[:12]}, the file now is {bracket.input_hash()[:12]}",
            )
        )
    if not record.certifier.strip():
        found.append(OpenItem("record", "the certifier's name is blank"))
    if not record.date:
        found.append(OpenItem("record", "the date is blank"))
    elif not is_a_day(record.date):
        found.append(OpenItem("record", f"the date {record.date} is no day: type it as 2031-05-30"))
    # such a day never comes, and nothing would ever be overdue
    found += [
        OpenItem("record", f"{due.words}: {day} is no day: type it as 2031-05-30")
        for due in record.due
        for day in (due.by, due.done)
        if day and not is_a_day(day)
    ]
    return found


def _of_decision(record: Record, results: Results | None) -> list[OpenItem]:
    """Return that something else is computed now than when it was accepted, and which day has passed."""
    if not record.accepts:
        return []
    found = [
        OpenItem("record", f"{due.words}: was to be done by {due.by}, and nobody has written that it is")
        for due in still_due(record)
        if due.words in record.conditions and is_overdue(due, date.today())
    ]
    then = record.computed
    if then is None or results is None:
        return found
    before, now = then.verdict.upper(), verdict_in_ink(results).upper()
    if now == before and _holds_less(then, results):
        before, now = _holding(before, then.holds_to_nm), _holding(now, results.holds_to_nm)
    if now == before:
        return found
    under = then.judged_under or "limits not named"
    words = (
        f"it was accepted with {before} under {under}, version {then.program};"
        f" now it is {now}: set it undecided and decide anew"
    )
    return [*found, OpenItem("record", words)]


def _holds_less(then: Computed, results: Results) -> bool:
    """Return whether the bracket holds to less than it was accepted with, by more than figures are told."""
    if then.holds_to_nm is None:
        return False
    return results.holds_to_nm is None or results.holds_to_nm < 0.99 * then.holds_to_nm


def _holding(verdict: str, couple_nm: float | None) -> str:
    return (
        f"{verdict}, holding to {'no known couple' if couple_nm is None else couple_words(couple_nm, 'mm')}"
    )


def _of_check_list(record: Record, profile: Profile, bracket: Bracket) -> list[OpenItem]:
    found = [
        OpenItem(item.group, f"{words}; by {by}" if (by := line_due(record, place)) else words, place)
        for place, item in enumerate(record.check_list)
        if (words := _why_open(item))
    ]
    if _is_met(record, PROOF_LINE) and not record.measured.proof:
        found.append(OpenItem("measured", "the proof is said to be met and no reading of it is written down"))
    found += [
        OpenItem(item.group, f"{item.words}: this line is missing in the record")
        for item in missing_lines(record, profile, bracket)
    ]
    return found


def _said_to_be_measured(record: Record, bracket: Bracket) -> list[OpenItem]:
    """Return the plates whose thickness is said to be measured and stands nowhere."""
    if not _is_met(record, AS_DRAWN_LINE):
        return []
    read = {reading.plate for reading in record.measured.thicknesses}
    wanting = [plate.name for plate in bracket.plates if plate.name not in read]
    words = "its thickness is said to be measured and is not written down"
    return [OpenItem("measured", plain(f"{plate_called(name)}: {words}")) for name in wanting]


def _is_met(record: Record, line: str) -> bool:
    """Return whether a line is said to be met, wherever it stands: a file may hold it more than once."""
    return any(item.words == line and item.state == "met" for item in record.check_list)


def _why_open(item: Item) -> str:
    words = f"{item.words} [{item.clause}]" if item.clause else item.words
    if item.state == "open":
        return words
    if item.state == "not met":
        return f"{words}: not met{f' ({item.remark})' if item.remark else ''}"
    if item.state == "not applicable" and not item.remark.strip():
        return f"{words}: not applicable, and no remark says why"
    return ""


def _of_results(results: Results | None) -> list[OpenItem]:
    if results is None:
        return [OpenItem("computed", "nothing is computed yet")]
    if verdict_in_ink(results) != "no verdict":
        # what fails is decided by giving a reason; a blank beside a fail stays open all the same
        return [OpenItem("computed", sentence(f)) for f in results.findings if f.is_blank and f.bars_verdict]
    barred = tuple(sentence(f) for f in results.findings if f.bars_verdict) or results.reasons
    return [OpenItem("computed", words) for words in barred or ("there is no verdict",)]


def _of_measured(
    record: Record, bracket: Bracket, results: Results | None, built: Results | None
) -> list[OpenItem]:
    as_measured = as_built(bracket, record)
    found = [OpenItem("measured", words) for words in as_measured.misfits]
    found += [OpenItem("measured", words) for words in open_proofs(record, results, bracket)]
    for play in record.measured.play:
        if play.most_mm is None:
            found.append(OpenItem("measured", f"play at {play.where}: nobody says how much is allowed"))
        elif play.play_mm > play.most_mm:
            found.append(
                OpenItem(
                    "measured",
                    f"play at {play.where} is {play.play_mm:g} mm, more than {play.most_mm:g} mm",
                )
            )
    if as_measured.differs and built is None:
        found.append(OpenItem("measured", f"not judged yet as built: {'; '.join(as_measured.differences)}"))
    elif as_measured.differs and built is not None and verdict_in_ink(built) in ("fail", "no verdict"):
        reason = built.reasons[0] if built.reasons else ""
        found.append(
            OpenItem("measured", f"as built the verdict is {verdict_in_ink(built).upper()}: {reason}")
        )
    return found
