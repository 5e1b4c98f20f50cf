"""The places of a plate that catch the pointer, and what they are called."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from app.editing.loops import corners_of, edge_of
from app.editing.moved_shapes import middle_of
from app.editing.selected import Selected
from app.editing.sheet_places import bosses_on_sheet, casing_centre
from geometry.bracket import Bracket
from geometry.part import FlatPlace
from geometry.plate import CutOut, Plate


@dataclass(frozen=True)
class CatchPlace:
    """One place."""

    at_mm: FlatPlace
    name: str
    """Such as `boss B`, `corner 3`."""
    words: str
    """What is said where it catches: `at boss B`."""
    rank: int
    """Which wins where two are one place: the lower."""
    lines_up: bool = True
    """Whether one can be caught in line with it."""


Ignored = tuple[Selected | str, ...]


def catch_places(bracket: Bracket, plate: Plate, ignore: Ignored) -> tuple[CatchPlace, ...]:
    """Return all places of a plate that catch, without those that are ignored."""
    named = (item if isinstance(item, str) else item.name for item in ignore)
    gone = {name for name in named if name is not None}
    return (
        *_bosses(bracket, plate),
        *_openings(plate, gone),
        *_corners(plate, None, ignore),
        *(
            place
            for opening in plate.openings
            if isinstance(opening, CutOut) and opening.name not in gone
            for place in _corners(plate, opening.name, ignore)
        ),
    )


def edges_at(plate: Plate, at: FlatPlace) -> Iterator[tuple[str, FlatPlace]]:
    """Yield name and direction, away from it, of every edge that ends at a place."""
    for loop in (None, *(opening.name for opening in plate.openings if isinstance(opening, CutOut))):
        corners = corners_of(plate, loop)
        for index in range(len(corners)):
            edge = edge_of(corners, index)
            if edge.length_mm < 1e-6:
                continue
            if math.dist(corners[index].at_mm, at) < 1e-6:
                yield _edge_name(loop, index), edge.direction(0.0)
            if math.dist(corners[(index + 1) % len(corners)].at_mm, at) < 1e-6:
                ux, uy = edge.direction(1.0)
                yield _edge_name(loop, index), (-ux, -uy)


def thing(kind: str, name: str) -> str:
    """Return a thing in words without saying its kind twice: `hole left`, but `hole 4` for one named so."""
    return name if name.casefold().startswith(kind) else f"{kind} {name}"


def _bosses(bracket: Bracket, plate: Plate) -> Iterator[CatchPlace]:
    # Of two behind each other the one that touches the sheet is meant.
    for boss in sorted(bosses_on_sheet(bracket, plate.name), key=lambda b: abs(b.off_mm)):
        name = thing("boss", boss.name)
        yield CatchPlace(boss.at_mm, name, f"at {name}", 0)
    if bracket.casing is not None:
        yield CatchPlace(casing_centre(plate), "the shaft axis", "on the shaft axis", 1)


def _openings(plate: Plate, gone: set[str]) -> Iterator[CatchPlace]:
    for opening in plate.openings:
        if opening.name in gone:
            continue
        name = thing(opening.kind, opening.name)
        word = "middle" if isinstance(opening, CutOut) else "centre"
        yield CatchPlace(middle_of(opening), name, f"at the {word} of {name}", 2)


def _corners(plate: Plate, loop: str | None, ignore: Ignored) -> Iterator[CatchPlace]:
    corners = corners_of(plate, loop)
    count = len(corners)
    still, moving = _moving(ignore, loop, count)
    of = "" if loop is None else f" of {thing('cut-out', loop)}"
    for index, corner in enumerate(corners):
        if index not in still:
            name = f"corner {index + 1}{of}"
            yield CatchPlace(corner.at_mm, name, f"at {name}", 3)
        edge = edge_of(corners, index)
        if index not in moving and edge.length_mm > 1e-6:
            x, y = (float(value) for value in edge.at(np.array([0.5]))[0])
            name = f"the middle of {_edge_name(loop, index)}"
            yield CatchPlace((x, y), name, f"at {name}", 4, lines_up=False)


def _moving(ignore: Ignored, loop: str | None, count: int) -> tuple[set[int], set[int]]:
    """Return the corners and the edges of a loop that a gesture moves."""
    corners: set[int] = set()
    for item in ignore:
        if isinstance(item, str) or item.loop != loop:
            continue
        if item.kind == "plate" and loop is None:
            corners |= set(range(count))
        elif item.kind == "corner" and item.index is not None:
            corners.add(item.index % count)
        elif item.kind == "edge" and item.index is not None:
            corners |= {item.index % count, (item.index + 1) % count}
    return corners, corners | {(index - 1) % count for index in corners}


def _edge_name(loop: str | None, index: int) -> str:
    return f"edge {index + 1}" + ("" if loop is None else f" of {thing('cut-out', loop)}")
