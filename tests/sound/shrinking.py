"""A bracket that something is wrong with, made as small as it will go while the same stays wrong."""

from __future__ import annotations

import time
from collections.abc import Iterator

from pydantic import ValidationError

from geometry.bracket import Bracket
from geometry.fixing import AtHole
from geometry.installation import Installation
from geometry.loads import Fatigue, Limits
from geometry.other_loads import OtherLoads
from geometry.plate import Plate
from geometry.weld import AtPlate
from tests.sound.the_way import Asked, kind_of, whole_way

SECONDS = 300.0
"""By the clock, after which the smallest found so far is good enough."""


def shrunk(bracket: Bracket, asked: Asked, seconds: float = SECONDS) -> tuple[Bracket, str]:
    """Return the smallest bracket found with the first problem of this one, and the problem; "" if none."""
    problems = whole_way(bracket, asked).problems
    if not problems:
        return bracket, ""
    kind, end = kind_of(problems[0]), time.monotonic() + seconds
    smaller = True
    while smaller and time.monotonic() < end:
        smaller = False
        for less in _smaller(bracket):
            if time.monotonic() > end:
                break
            if less != bracket and kind in map(kind_of, whole_way(less, asked).problems):
                bracket, smaller = less, True
                break
    return bracket, problems[0]


def _smaller(bracket: Bracket) -> Iterator[Bracket]:
    """Yield the bracket with one thing less, the largest first; what cannot be drawn is left out."""
    for one in _less(bracket):
        try:
            yield one()
        except ValidationError:
            continue


def _less(bracket: Bracket) -> Iterator:  # type: ignore[type-arg]
    for plate in bracket.plates:
        yield lambda p=plate: without_plate(bracket, p.name)
    for bolt in bracket.bolts:
        yield lambda b=bolt: bracket.without_bolt(b.name)
    for weld in bracket.welds:
        yield lambda w=weld: bracket.without_weld(w.name)
    for plate in bracket.plates:
        used = {b.hole for b in bracket.bolts if b.plate == plate.name} | {
            b.joins.opening
            for b in bracket.bolts
            if isinstance(b.joins, AtHole) and b.joins.plate == plate.name
        }
        for name in [o.name for o in plate.openings if o.name not in used] + [f.name for f in plate.folds]:
            yield lambda p=plate, n=name: bracket.with_plate(p.without(n))
        if len(plate.outline) > 4:
            for i in range(len(plate.outline)):
                yield lambda p=plate, i=i: bracket.with_plate(_without_corner(p, i))
    loads = bracket.loads
    for part in (
        {"installation": Installation()},
        {"fit_up": None},
        {"limits": Limits()},
        {"shaft_joints": ()},
        {"variants": ()},
        {"loads": loads.but(extra=())},
        {"loads": loads.but(other=OtherLoads())},
        {"loads": loads.but(fatigue=Fatigue(), engine=None)},
        {"title": "smaller"},
    ):
        yield lambda part=part: bracket.but(**part)
    if bracket.dash_bar is not None and bracket.dash_bar.stays:
        bar = bracket.dash_bar
        yield lambda: bracket.but(dash_bar=bar.but(stays=()))


def without_plate(bracket: Bracket, name: str) -> Bracket:
    """Return the bracket without a plate and all that was joined to it."""
    bolts = tuple(
        b
        for b in bracket.bolts
        if b.plate != name and not (isinstance(b.joins, AtHole) and b.joins.plate == name)
    )
    welds = tuple(
        w
        for w in bracket.welds
        if w.plate != name and not (isinstance(w.joins, AtPlate) and w.joins.plate == name)
    )
    plates = tuple(p for p in bracket.plates if p.name != name)
    return bracket.but(plates=plates, bolts=bolts, welds=welds)


def _without_corner(plate: Plate, index: int) -> Plate:
    return plate.but(outline=tuple(c for i, c in enumerate(plate.outline) if i != index))
