"""Where on a flat pattern a finding belongs: at the place it gives, or at the thing it names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from app.editing.moved_shapes import middle_of
from app.window.flat.on_sheet import OnSheet
from geometry.finding import Finding
from geometry.flat_segments import Flat
from geometry.plate import Plate

_BOLT: Final = re.compile(r"^bolt (?P<bolt>.+?)(?:, hole (?P<hole>.+) of plate (?P<plate>.+))?$")
_BOSS: Final = re.compile(r"^boss (?P<boss>.+)$")


def place_on_sheet(finding: Finding, sheet: OnSheet) -> Flat | None:
    """Return the flat place of a finding; None if it is about something that is not on this sheet."""
    plate, where = sheet.plate, finding.where
    if bolt := _BOLT.match(where):
        return _bolt_place(sheet, bolt["bolt"], bolt["hole"], bolt["plate"])
    for run in sheet.welds:
        if where == f"weld {run.weld}" and run.on_edge:
            return _middle(*run.ends)
    if boss := _BOSS.match(where):
        return next((b.at_mm for b in sheet.bosses if b.name == boss["boss"]), None)
    if where != f"plate {plate.name}" and not where.startswith(f"plate {plate.name},"):
        return None
    x, y = finding.values.get("x"), finding.values.get("y")
    if isinstance(x, int | float) and isinstance(y, int | float):
        return (float(x), float(y))
    for words, at in _named_places(plate):
        if where == f"plate {plate.name}, {words}":
            return at
    return _upper_right(plate)


def _bolt_place(sheet: OnSheet, bolt: str, hole: str | None, plate: str | None) -> Flat | None:
    if hole is not None:
        if plate != sheet.plate.name:
            return None
        opening = next((o for o in sheet.plate.openings if o.name == hole), None)
        return None if opening is None else middle_of(opening)
    return next((ring.at_mm for ring in sheet.rings if ring.bolt == bolt), None)


def _named_places(plate: Plate) -> Iterator[tuple[str, Flat]]:
    """Return how findings name the things of a plate, and where these are."""
    for opening in plate.openings:
        at = middle_of(opening)
        yield f"opening {opening.name}", at
        yield f"{opening.kind} {opening.name}", at
        if opening.kind == "cut-out":
            for number, corner in enumerate(opening.corners, 1):
                yield f"{opening.kind} {opening.name}, corner {number}", corner.at_mm
    for fold in plate.folds:
        yield f"fold line {fold.name}", _middle(fold.from_mm, fold.to_mm)
        yield f"fold {fold.name}", _middle(fold.from_mm, fold.to_mm)
    for number, corner in enumerate(plate.outline, 1):
        yield f"outline, corner {number}", corner.at_mm
        yield f"corner {number}", corner.at_mm


def _middle(a: Flat, b: Flat) -> Flat:
    return ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)


def _upper_right(plate: Plate) -> Flat:
    return max((corner.at_mm for corner in plate.outline), key=lambda at: at[0] + at[1])
