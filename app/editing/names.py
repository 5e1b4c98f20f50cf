"""Plates by name, and new names that nothing has yet."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from typing import Final

from app.editing.kept_welds import kept_to_edges
from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.plate import Plate

LONGEST_NAME: Final = 80
_NUMBERED: Final = re.compile(r"(?P<stem>.*?)(?P<number>\d{1,6})")


def plate_of(bracket: Bracket, name: str) -> Plate:
    """Return the plate of that name; EditRefused, naming those there are, if there is none."""
    try:
        return bracket.plate(name)
    except KeyError as fault:
        raise EditRefused(f"{fault.args[0]}; choose one of these") from None


def with_plate_changed(bracket: Bracket, name: str, changed: Plate | None) -> Bracket:
    """Return the bracket with the first plate of that name replaced, or taken out for None.

    Its welds stay on the edges they are on.
    """
    place = next(k for k, plate in enumerate(bracket.plates) if plate.name == name)
    put = () if changed is None else (changed,)
    made = bracket.but(plates=(*bracket.plates[:place], *put, *bracket.plates[place + 1 :]))
    return made if changed is None else kept_to_edges(made, bracket.plates[place], changed)


def names_on(plate: Plate) -> set[str]:
    """Return the names of all openings and folds of a plate; a new one takes none of them."""
    return {opening.name for opening in plate.openings} | {fold.name for fold in plate.folds}


def numbered(stem: str, taken: Iterable[str]) -> str:
    """Return `stem 4` where `stem 3` is the highest taken, or `stem 1`; an empty stem gives bare numbers."""
    lead = f"{stem} " if stem else stem
    return _counted(lead, taken)


def in_the_habit(names: Iterable[str], otherwise: str) -> str:
    """Return the next name in the habit of those there are: the last numbered one's stem, counted on.

    With none numbered, the stem `otherwise` is counted from 1.
    """
    known = list(names)
    for name in reversed(known):
        match = _NUMBERED.fullmatch(name)
        if match and not match["stem"].endswith("M"):  # a thread such as M8 is no number
            return _counted(match["stem"], known)
    return numbered(otherwise, known)


def free_name(wanted: str, taken: Collection[str]) -> str:
    """Return the wanted name, with a number behind it if it is taken."""
    if wanted not in taken:
        return wanted
    match = _NUMBERED.fullmatch(wanted)
    if match and not match["stem"]:
        return _counted("", taken)
    stem = match["stem"] if match else f"{wanted} "
    number = 2
    while (name := f"{stem[: LONGEST_NAME - 7]}{number}") in taken:
        number += 1
    return name


def checked_name(name: str, taken: Collection[str], what: str) -> str:
    """Return a name that somebody typed; EditRefused if it is empty, too long or taken."""
    clean = name.strip()
    if not clean:
        raise EditRefused(f"{what} cannot go without a name; type one")
    if len(clean) > LONGEST_NAME:
        raise EditRefused(f"{what} cannot have a name of {len(clean)} letters; type at most {LONGEST_NAME}")
    if clean in taken:
        raise EditRefused(f"the name {clean!r} is taken already; give {what} another")
    return clean


def _counted(stem: str, names: Iterable[str]) -> str:
    taken = set(names)
    matches = (_NUMBERED.fullmatch(name) for name in taken)
    numbers = [int(match["number"]) for match in matches if match and match["stem"] == stem]
    name = f"{stem}{max(numbers, default=0) + 1}"
    return name if len(name) <= LONGEST_NAME else free_name(stem[: LONGEST_NAME - 10], taken)
