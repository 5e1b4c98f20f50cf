"""One entry of what can be measured, and how its words are read and shown. No Qt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from app.editing.entry import entered
from app.editing.refused import EditRefused
from app.record.record import Record
from geometry.units import convert

Put = Callable[[Record, str], Record]


@dataclass(frozen=True)
class Row:
    """One entry."""

    section: str
    words: str
    drawn: str
    """What the file says of it; empty if nothing."""
    stands: str
    """What is written down; empty if nothing is."""
    put: Put
    """Write down what was typed; EditRefused or ValueError with a sentence if it cannot be."""


def with_measured(record: Record, **changes: object) -> Record:
    """Return the record with other things measured."""
    return record.but(measured=record.measured.but(**changes))


def place_typed(text: str, inch: bool) -> tuple[float, float]:
    """Return a place of the flat pattern that was typed, mm; EditRefused if it is none."""
    x, y = parts_typed(text, 2, "place", inch=inch)
    return x, y


def parts_typed(text: str, count: int, what: str, *, inch: bool) -> tuple[float, ...]:
    """Return so many numbers typed with ; between them; EditRefused if they are not."""
    parts = [part for part in text.split(";") if part.strip()]
    if len(parts) != count:
        example = "; ".join(("12.5", "-30", "0")[:count])
        raise EditRefused(f"{text!r} is no {what}: type {count} numbers with ; between, such as {example}")
    return tuple(entered(part, "mm", bare="in" if inch else "mm") for part in parts)


def place_words(at: tuple[float, ...], inch: bool) -> str:
    """Return a place as it can be typed again."""
    if inch:
        return "; ".join(f"{round(convert(value, 'mm', 'in'), 4) + 0.0:g}" for value in at) + " in"
    return "; ".join(f"{round(value, 3):g}" for value in at)
