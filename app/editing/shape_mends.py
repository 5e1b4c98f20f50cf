"""Mends of shapes: tight bends, corners that cannot be made, doubled names, an envelope inside out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from app.editing.folds import change_fold, usual_radius_mm
from app.editing.loops import Corners, corners_of, room_mm, with_corners
from app.editing.mend import Mend, is_about
from app.editing.names import free_name, names_on, plate_of, with_plate_changed
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.fixing import Bolt
from geometry.flat_pattern import LEAST_EDGE_MM
from geometry.plate import CutOut, FoldLine, Plate

_Named = TypeVar("_Named", Bolt, FoldLine)


def bend_tight(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend that gives a fold the least inside radius of its material."""
    for plate, fold in _folds(bracket):
        if is_about(finding, f"plate {plate.name}, fold line {fold.name}"):
            least = float(finding.values["least_mm"])
            words = f"give fold {fold.name} an inside radius of {least:g} mm, the least for {plate.material}"
            return _with_radius(plate, fold, least, words)
    return None


def shape_impossible(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend of a corner, an edge or a fold that cannot be made."""
    kind = finding.values.get("kind")
    if kind == "fold_radius":
        for plate, fold in _folds(bracket):
            if is_about(finding, f"plate {plate.name}, fold {fold.name}"):
                radius = usual_radius_mm(plate, bracket.materials)
                return _with_radius(
                    plate, fold, radius, f"give fold {fold.name} an inside radius of {radius:g} mm"
                )
        return None
    maker = {
        "corner_radius": _smaller_radius,
        "corner_radius_at_arc": _sharp,
        "arc_in_line": _straight,
    }.get(str(kind))
    for loop in _loops(bracket):
        if kind == "edge_of_no_length" and is_about(finding, loop.where):
            return _without_doubles(loop)
        for index in range(len(loop.corners)):
            if maker is not None and is_about(finding, f"{loop.where}, corner {index + 1}"):
                return maker(loop, index)
    return None


def name_doubled(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend that gives folds or bolts of one name a name each; nothing refers to theirs."""
    what = finding.values.get("what")
    for name in {bolt.name for bolt in bracket.bolts}:
        if what == "bolts" and is_about(finding, f"bracket, {name}"):
            return Mend(f"give each bolt {name} a name of its own", partial(_bolts_apart, name=name))
    for plate, fold in _folds(bracket):
        if what == "fold lines" and is_about(finding, f"plate {plate.name}, {fold.name}"):
            return Mend(
                f"give each fold {fold.name} a name of its own",
                partial(_folds_apart, plate_name=plate.name, name=fold.name),
            )
    return None


def envelope(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend that swaps the two ends of a casing's envelope along an axis."""
    casing, axis = bracket.casing, "XYZ".find(str(finding.values.get("axis")))
    if casing is None or axis < 0 or casing.envelope.low_mm[axis] == casing.envelope.high_mm[axis]:
        return None

    def apply(changed: Bracket) -> Bracket:
        if changed.casing is None:
            return changed
        low, high = list(changed.casing.envelope.low_mm), list(changed.casing.envelope.high_mm)
        low[axis], high[axis] = sorted((low[axis], high[axis]))
        box = changed.casing.envelope.but(low_mm=tuple(low), high_mm=tuple(high))
        return changed.but(casing=changed.casing.but(envelope=box))

    return Mend(f"swap the two ends of the envelope along {'XYZ'[axis]}", apply)


@dataclass(frozen=True)
class _Loop:
    """One outline or cut-out of a bracket, and how findings call it."""

    plate: Plate
    name: str | None
    where: str
    corners: Corners


def _loops(bracket: Bracket) -> Iterator[_Loop]:
    for plate in bracket.plates:
        yield _Loop(plate, None, f"plate {plate.name}, outline", plate.outline)
        for opening in plate.openings:
            if isinstance(opening, CutOut):
                where = f"plate {plate.name}, {opening.kind} {opening.name}"
                yield _Loop(plate, opening.name, where, opening.corners)


def _folds(bracket: Bracket) -> Iterator[tuple[Plate, FoldLine]]:
    for plate in bracket.plates:
        for fold in plate.folds:
            yield plate, fold


def _on_loop(loop: _Loop, words: str, change: Callable[[Corners], Corners]) -> Mend:
    def apply(bracket: Bracket) -> Bracket:
        plate = plate_of(bracket, loop.plate.name)
        changed = with_corners(plate, loop.name, change(corners_of(plate, loop.name)))
        return with_plate_changed(bracket, plate.name, changed)

    return Mend(words, apply)


def _smaller_radius(loop: _Loop, index: int) -> Mend | None:
    room = room_mm(loop.corners, index)
    if room is None or room < 0.1:
        return None
    radius = math.floor(room * 100.0) / 100.0
    words = f"round corner {index + 1} with {radius:g} mm, the largest that fits"
    return _on_loop(loop, words, lambda corners: _put(corners, index, radius_mm=radius))


def _sharp(loop: _Loop, index: int) -> Mend:
    words = f"leave out the radius of corner {index + 1}, at the end of an arc"
    return _on_loop(loop, words, lambda corners: _put(corners, index, radius_mm=0.0))


def _straight(loop: _Loop, index: int) -> Mend:
    words = f"make edge {index + 1} straight, which it is already"
    return _on_loop(loop, words, lambda corners: _put(corners, index, arc_via_mm=None))


def _put(corners: Corners, index: int, **changes: float | None) -> Corners:
    return (*corners[:index], corners[index].but(**changes), *corners[index + 1 :])


def _without_doubles(loop: _Loop) -> Mend | None:
    def change(corners: Corners) -> Corners:
        # Of two at one place the second stays: the edge that goes on from there is its own.
        count = len(corners)
        return tuple(
            corner
            for k, corner in enumerate(corners)
            if math.dist(corner.at_mm, corners[(k + 1) % count].at_mm) >= LEAST_EDGE_MM
        )

    if len(change(loop.corners)) < 3:
        return None
    return _on_loop(loop, "remove one of the two corners at the same place", change)


def _with_radius(plate: Plate, fold: FoldLine, radius_mm: float, words: str) -> Mend:
    def apply(bracket: Bracket) -> Bracket:
        changed = change_fold(plate_of(bracket, plate.name), fold.name, inside_radius_mm=radius_mm)
        return with_plate_changed(bracket, plate.name, changed)

    return Mend(words, apply)


def _bolts_apart(bracket: Bracket, name: str) -> Bracket:
    taken = {bolt.name for bolt in bracket.bolts}
    return bracket.but(bolts=_apart(bracket.bolts, name, taken))


def _folds_apart(bracket: Bracket, plate_name: str, name: str) -> Bracket:
    plate = plate_of(bracket, plate_name)
    folds = _apart(plate.folds, name, names_on(plate))
    return with_plate_changed(bracket, plate_name, plate.but(folds=folds))


def _apart(things: Iterable[_Named], name: str, taken: set[str]) -> tuple[_Named, ...]:
    """Return the things, all but the first of that name under names that are not taken."""
    told, seen, used = [], False, set(taken)
    for thing in things:
        if thing.name == name and seen:
            called = free_name(name, used)
            used.add(called)
            told.append(thing.but(name=called))
        else:
            seen = seen or thing.name == name
            told.append(thing)
    return tuple(told)
