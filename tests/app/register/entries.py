"""Entries for tests of the register; invented."""

from __future__ import annotations

from app.record.record import Due
from app.register.entry import Entry


def entry(number: int = 1, **changes: object) -> Entry:
    """Return an entry of a record of its own."""
    return Entry(
        record_file=f"/cars/car {number}.record.json",
        bracket_file=f"car {number}.bracket.json",
        title=f"car {number}",
        bracket_hash=f"{number:064x}",
        verdict="pass",
        holds_to_nm=71.25,
        judged_under="lane 4",
        standing="accepted",
        decision="accept",
        certifier="R. Inventley (invented)",
        date="2031-04-30",
        program="0.1",
    ).but(**changes)


def due(words: str, by: str) -> Due:
    """Return something to be done by a day."""
    return Due(words=words, by=by)
