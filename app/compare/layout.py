"""What is laid side by side: the drawn layout of a file, a variant in it, or its sawn twin.

Glossary
--------
layout      one bracket and the name it goes by in a comparison
sawn twin   the bracket with its plate cut in two, every bolt staying with its piece
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from app.editing.plate_measures import outline_box
from app.editing.refused import EditRefused
from app.editing.saw import saw
from app.editing.variants import as_variant, variants_of
from geometry.bracket import Bracket
from geometry.flat_segments import ShapeError
from geometry.part import FlatPlace
from geometry.plate import Plate

LEAST: Final = 2
MOST: Final = 4
"""Layouts side by side: more are no longer seen at once."""
_STEPS: Final = 24
"""Places the saw is tried at, from the middle of the plate outward."""


@dataclass(frozen=True)
class Layout:
    """One bracket by the name it is compared under."""

    name: str
    bracket: Bracket


def drawn_layout(bracket: Bracket, name: str) -> Layout:
    """Return the layout that is drawn; with other layouts in the file its own name follows the file's."""
    own = f"{name} ({bracket.layout})" if bracket.layout else name
    return Layout(own, bracket)


def variant_layout(bracket: Bracket, variant: str, name: str = "") -> Layout:
    """Return a variant as a layout; EditRefused, naming those there are, if there is none of that name."""
    return Layout(f"{name} ({variant})" if name else variant, as_variant(bracket, variant))


def variant_layouts(bracket: Bracket, name: str = "") -> tuple[Layout, ...]:
    """Return every variant kept in a bracket as a layout."""
    return tuple(variant_layout(bracket, variant, name) for variant in variants_of(bracket))


def sawn_layout(bracket: Bracket, name: str = "") -> Layout:
    """Return the sawn twin of a bracket as a layout; EditRefused if no plate of it can be sawn."""
    return Layout(f"{name} (sawn)" if name else "sawn", sawn_twin(bracket))


def sawn_twin(bracket: Bracket) -> Bracket:
    """Return the bracket with the plate that has most bolts sawn in two, as near its middle as it goes.

    Both pieces keep a bolt. EditRefused if no straight line across a plate does that.
    """
    counts = Counter(bolt.plate for bolt in bracket.bolts)
    for plate in sorted(bracket.plates, key=lambda p: -counts[p.name]):
        for from_mm, to_mm in _lines_across(plate):
            try:
                sawn = saw(bracket, plate.name, from_mm, to_mm)
            except (EditRefused, ShapeError):
                continue
            if _each_has_a_bolt(bracket, sawn):
                return sawn
    raise EditRefused(
        "no plate can be sawn in two with a bolt in each piece; saw it by hand with the Saw tool"
    )


def told_apart(layouts: Sequence[Layout]) -> tuple[Layout, ...]:
    """Return the layouts with a number behind every name that another has too."""
    counts = Counter(layout.name for layout in layouts)
    seen: Counter[str] = Counter()
    apart = []
    for layout in layouts:
        seen[layout.name] += 1
        number = f" no. {seen[layout.name]}" if counts[layout.name] > 1 else ""
        apart.append(replace(layout, name=f"{layout.name}{number}"))
    return tuple(apart)


def _lines_across(plate: Plate) -> Iterable[tuple[FlatPlace, FlatPlace]]:
    """Yield lines across the plate: up and down near the middle first, then from side to side."""
    (x0, y0), (x1, y1) = outline_box(plate)
    for step in range(_STEPS):
        off = ((step + 1) // 2) * (1 if step % 2 else -1) * (x1 - x0) / (2.0 * _STEPS)
        middle = (x0 + x1) / 2.0 + off
        yield (middle, y0 - 10.0), (middle, y1 + 10.0)
    for step in range(_STEPS):
        off = ((step + 1) // 2) * (1 if step % 2 else -1) * (y1 - y0) / (2.0 * _STEPS)
        middle = (y0 + y1) / 2.0 + off
        yield (x0 - 10.0, middle), (x1 + 10.0, middle)


def _each_has_a_bolt(before: Bracket, sawn: Bracket) -> bool:
    there = {plate.name for plate in before.plates}
    pieces = [plate.name for plate in sawn.plates if plate.name not in there]
    return all(any(bolt.plate == piece for bolt in sawn.bolts) for piece in pieces)
