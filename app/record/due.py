"""What is to be done by a day: a condition of the decision, or a line of the check-list that is open.

A condition is typed with its day behind it, `refit bolt 3 by 2031-05-30`, and once it is done with that day
too, `refit bolt 3 by 2031-05-30, done 2031-05-28`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from typing import Final

from app.editing.refused import EditRefused
from app.record.record import Due, Record

_DAY: Final = r"\d{4}-\d{2}-\d{2}"
_DONE: Final = rf"(?:,?\s+done\s+(?P<done>{_DAY}))?"
_TYPED: Final = re.compile(rf"(?P<words>.*[^\s,]),?\s+by\s+(?P<by>{_DAY}){_DONE}\.?")


def with_conditions(record: Record, lines: Iterable[str]) -> Record:
    """Return the record with these conditions, one a line; EditRefused for a day there is not."""
    words: list[str] = []
    due: list[Due] = []
    for line in lines:
        found = _TYPED.fullmatch(line.strip())
        said = line.strip() if found is None else found["words"]
        if not said or said in words:
            continue
        words.append(said)
        if found is not None:
            due.append(Due(words=said, by=_a_day(found["by"]), done=_a_day(found["done"] or "")))
    about_lines = tuple(d for d in record.due if d.words not in record.conditions and d.words not in words)
    return record.but(conditions=tuple(words), due=(*about_lines, *due))


def with_line_due(record: Record, place: int, day: str) -> Record:
    """Return the record with the day a line of the check-list is to be settled by; empty takes it away."""
    words = record.check_list[place].words
    rest = tuple(d for d in record.due if d.words != words)
    return record.but(due=(*rest, Due(words=words, by=_a_day(day.strip()))) if day.strip() else rest)


def line_due(record: Record, place: int) -> str:
    """Return the day a line of the check-list is to be settled by; empty if none is set."""
    words = record.check_list[place].words
    return next((d.by for d in record.due if d.words == words), "")


def conditions_told(record: Record) -> tuple[str, ...]:
    """Return each condition with its day behind it, as it is typed."""
    days = {d.words: d for d in record.due}
    return tuple(_told(words, days.get(words)) for words in record.conditions)


def still_due(record: Record) -> tuple[Due, ...]:
    """Return what is not done yet, soonest first: conditions not done and lines not settled."""
    settled = {item.words for item in record.check_list if item.state in ("met", "not applicable")}
    waiting = [d for d in record.due if not d.done and d.words not in settled]
    return tuple(sorted(waiting, key=lambda d: (d.by, d.words)))


def is_overdue(due: Due, today: date) -> bool:
    """Return whether its day has passed."""
    return not due.done and due.by < today.isoformat()


def is_a_day(text: str) -> bool:
    """Return whether the calendar has that day, written as 2031-05-30."""
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _told(words: str, due: Due | None) -> str:
    if due is None:
        return words
    return f"{words} by {due.by}" + (f", done {due.done}" if due.done else "")


def _a_day(text: str) -> str:
    if not text:
        return ""
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise EditRefused(f"{text} is no day: type it as 2031-05-30") from None
