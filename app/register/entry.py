"""One line of the register: what an inspection came to when it was added.

Glossary
--------
entry     one inspection as it stood when it was added; a later addition of the same record goes before it
number    which entry it is in this register, from 1
overdue   something of it was to be done by a day that has passed
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import Field

from app.record.due import is_overdue, still_due
from app.record.open_items import OpenItem, RecordStanding
from app.record.record import DecisionWord, Due, Record
from geometry.part import NotNegative, Part
from solver.results import Verdict

Line = Annotated[str, Field(max_length=400)]
_MOST_OTHERS: Final = 5
_LISTED: Final = ", as a list says"


class Entry(Part):
    """What the register holds of one inspection."""

    record_file: Annotated[str, Field(min_length=1, max_length=4000)]
    """Whole path of the record; entries of one record belong together by it."""
    bracket_file: Line = ""
    title: Line = ""
    bracket_hash: Annotated[str, Field(max_length=128)] = ""
    verdict: Literal["pass", "marginal", "fail", "no verdict", ""] = ""
    """What was computed when it was added; empty if nothing was."""
    holds_to_nm: NotNegative | None = None
    judged_under: Line = ""
    standing: Line = ""
    """How the record stood: `accepted`, `open` and so on; or only what was written down."""
    decision: DecisionWord = "undecided"
    certifier: Line = ""
    date: Annotated[str, Field(max_length=10, pattern=r"^(\d{4}-\d{2}-\d{2})?$")] = ""
    open_items: Annotated[int, Field(ge=0, le=100_000)] = 0
    due: Annotated[tuple[Due, ...], Field(max_length=350)] = ()
    """What was not done yet, soonest first."""
    program: Annotated[str, Field(max_length=40)] = ""

    def overdue(self, today: datetime.date) -> tuple[Due, ...]:
        """Return what should have been done before that day."""
        return tuple(d for d in self.due if is_overdue(d, today))

    def holds(self, wanted: str) -> bool:
        """Return whether every word of a search stands somewhere in the entry, in large letters or small."""
        text = " ".join(
            (
                self.record_file, self.bracket_file, self.title, self.bracket_hash, self.verdict,
                self.judged_under, self.standing, self.decision, self.certifier, self.date,
                *(f"{d.words} {d.by}" for d in self.due),
            )
        ).casefold()  # fmt: skip
        return all(word in text for word in wanted.casefold().split())


class Numbered(Part):
    """An entry in its register."""

    number: int
    added: str
    """When, in this machine's time, as 2031-04-30 14:05:09."""
    entry: Entry
    earlier: int = 0
    """How many entries of the same record went before."""


def entry_of(
    record: Record,
    record_path: Path,
    items: Iterable[OpenItem],
    standing: RecordStanding,
    verdict: Verdict,
    holds_to_nm: float | None,
    judged_under: str,
) -> Entry:
    """Return the entry of a record whose bracket was looked at."""
    written = entry_as_written(record, record_path)
    return written.but(
        verdict=verdict, holds_to_nm=holds_to_nm, judged_under=judged_under[:400], standing=standing.word,
        open_items=len(tuple(items)),
    )  # fmt: skip


def entry_as_written(record: Record, record_path: Path) -> Entry:
    """Return the entry of a record alone: what is written down in it, nothing looked at again."""
    then = record.computed
    unsettled = [item for item in record.check_list if item.state in ("open", "not met")]
    return Entry(
        record_file=str(record_path.absolute()),
        bracket_file=record.bracket_file,
        title=record.title,
        bracket_hash=record.bracket_hash,
        verdict="" if then is None else then.verdict,
        holds_to_nm=None if then is None else then.holds_to_nm,
        judged_under="" if then is None else then.judged_under,
        standing=f"{record.decision}, as written down",
        decision=record.decision,
        certifier=record.certifier,
        date=record.date,
        open_items=len(unsettled),
        due=still_due(record),
        program=record.program,
    )


def as_a_list_says(entry: Entry) -> Entry:
    """Return an entry that was read from a list, marked so: no record was looked at, and lists are edited."""
    standing = entry.standing or entry.decision
    if standing.endswith(_LISTED):
        return entry
    return entry.but(standing=f"{standing[: 400 - len(_LISTED)]}{_LISTED}")


def overdue_first(entries: Iterable[Numbered], today: datetime.date) -> tuple[Numbered, ...]:
    """Return entries as they are listed: the longest overdue first, then the newest."""

    def order(one: Numbered) -> tuple[int, str, int]:
        late = one.entry.overdue(today)
        return (0, late[0].by, -one.number) if late else (1, "", -one.number)

    return tuple(sorted(entries, key=order))


def other_records(one: Numbered, newest: Iterable[Numbered]) -> str:
    """Return which other records are of the very same inputs, and how they stand; empty if none is.

    Two records of one bracket may say different things, and their titles are alike.
    """
    others = [
        f"{other.number} ({other.entry.standing or other.entry.decision})"
        for other in newest
        if other.entry.bracket_hash
        and other.entry.bracket_hash == one.entry.bracket_hash
        and other.entry.record_file != one.entry.record_file
    ]
    if not others:
        return ""
    more = f" and {len(others) - _MOST_OTHERS} more" if len(others) > _MOST_OTHERS else ""
    word = "record" if len(others) == 1 else "records"
    return f"other {word} of the same inputs: {', '.join(others[:_MOST_OTHERS])}{more}"
