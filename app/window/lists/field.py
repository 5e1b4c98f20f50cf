"""One value of the bracket that stands in a list or a note and can be edited there. No Qt.

Glossary
--------
path        where a value stands in the bracket: names of fields, names of parts, or places in a pair;
            ("bolts", "3", "tightening_nm"). "+" stands for a part that is not there yet
piece       a bit of a sentence: words, or a field
blank       a field without which there is no verdict; it is drawn as an open box
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from geometry.bracket import Bracket
from geometry.part import Part

Path = tuple[str | int, ...]
Kind = Literal[
    "quantity",
    "range",
    "number",
    "whole number",
    "place",
    "places",
    "share",
    "words",
    "choice",
    "size",
    "grade",
    "material",
    "washer",
    "spacer",
    "section",
]
OPEN_BOX = "____"


@dataclass(frozen=True)
class Field:
    """A value, where it stands, and how it is typed and told."""

    paths: tuple[Path, ...]
    """More than one where alike parts share a row: what is typed goes to all of them."""
    spoken: str
    """What it is, as it is told to somebody who does not see the sheet."""
    value: object
    """None is nothing given."""
    kind: Kind = "quantity"
    unit: str = ""
    choices: tuple[str, ...] = ()
    blank: bool = False
    """Whether it is empty and bars a verdict."""
    instead: str = "not given"
    """What is written where there is no value and none is needed."""
    may_be_empty: bool = False
    varies: bool = False
    """Whether the parts that share it have different values."""
    usual: str = ""
    """The default in words, where the value is off it."""
    looser: bool = False
    """Whether it is off the default on the side that lets more pass."""

    @property
    def path(self) -> Path:
        """Return the first of its paths."""
        return self.paths[0]


Piece = str | Field


@dataclass(frozen=True)
class Line:
    """A sentence of words and fields."""

    key: str
    pieces: tuple[Piece, ...] = ()
    number: int = 0
    """Of a note; 0 for a sentence that has none."""

    @property
    def fields(self) -> tuple[Field, ...]:
        """Return the fields of the sentence in order."""
        return tuple(piece for piece in self.pieces if isinstance(piece, Field))


@dataclass(frozen=True)
class Drafts:
    """Numbers typed for parts that need more of them before they can be there."""

    given: dict[Path, object] = field(default_factory=dict)

    def get(self, path: Path) -> object:
        """Return what was typed there, or None."""
        return self.given.get(path)


def got(bracket: Bracket, path: Path) -> object:
    """Return the value at a path; KeyError if a part of that name is not there."""
    here: object = bracket
    for step in path:
        here = _step(here, step)
    return here


def put(bracket: Bracket, path: Path, value: object) -> Bracket:
    """Return the bracket with another value at a path.

    KeyError if a part of that name is not there; pydantic.ValidationError for a value that cannot be.
    """
    return _put(bracket, path, lambda _: value)  # type: ignore[return-value]


def put_all(bracket: Bracket, paths: tuple[Path, ...], value: object) -> Bracket:
    """Return the bracket with the same value at every path."""
    for path in paths:
        bracket = put(bracket, path, value)
    return bracket


def taken_out(bracket: Bracket, path: Path) -> Bracket:
    """Return the bracket without the named part that a path ends at."""
    name = path[-1]

    def without(parts: object) -> object:
        return tuple(p for p in parts if p.name != name)  # type: ignore[attr-defined]

    return _put(bracket, path[:-1], without)  # type: ignore[return-value]


def _step(here: object, step: str | int) -> object:
    if isinstance(here, tuple):
        return here[_place(here, step)]
    return getattr(here, str(step))


def _place(parts: tuple[object, ...], step: str | int) -> int:
    if isinstance(step, int):
        return step
    for place, part in enumerate(parts):
        if getattr(part, "name", None) == step:
            return place
    raise KeyError(f"there is no {step!r} any more")


def _put(here: object, path: Path, change: Callable[[object], object]) -> object:
    if not path:
        return change(here)
    step, rest = path[0], path[1:]
    if isinstance(here, tuple):
        place = _place(here, step)
        return (*here[:place], _put(here[place], rest, change), *here[place + 1 :])
    if not isinstance(here, Part):
        raise KeyError(f"nothing is given there yet, so {step!r} cannot be changed")
    return here.but(**{str(step): _put(getattr(here, str(step)), rest, change)})
