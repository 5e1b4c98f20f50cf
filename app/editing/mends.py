"""Mends of findings, offered where it is certain what to do."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from app.editing.bolt_mends import bolt_offset, boss_unused, hole_size, slot_to_hole
from app.editing.corner_shapes import round_corner, sharp_inside_corners
from app.editing.loops import between_straight_edges, corners_of, room_mm
from app.editing.mend import Mend
from app.editing.names import plate_of, with_plate_changed
from app.editing.refused import EditRefused
from app.editing.shape_mends import bend_tight, envelope, name_doubled, shape_impossible
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from geometry.part import FlatPlace
from geometry.plate import CutOut, Plate

__all__ = ["Mend", "SharpCorner", "mend_of", "sharp_corners"]

_Maker = Callable[[Bracket, Finding], Mend | None]

_MAKERS: Final[Mapping[str, _Maker]] = {
    "bend-tight": bend_tight,
    "shape-impossible": shape_impossible,
    "name-doubled": name_doubled,
    "envelope-inside-out": envelope,
    "hole-too-small": hole_size,
    "hole-tight": hole_size,
    "hole-loose": hole_size,
    "bolt-in-slot": slot_to_hole,
    "bolt-offset": bolt_offset,
    "boss-unused": boss_unused,
}


@dataclass(frozen=True, eq=False)
class SharpCorner:
    """A corner where the material turns inward without a radius: no finding, but a mend is at hand."""

    plate: str
    loop: str | None
    index: int
    at_mm: FlatPlace
    mend: Mend | None
    """None where an arc or a lack of room leaves no radius to give."""


def mend_of(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend of a finding about a bracket; None where it is not certain what to do.

    It is tried first, so this takes about twice as long as looking for findings: the mend makes that finding
    vanish and brings none that stops the analysis, unless the next fault of a shape that could not be made.
    """
    maker = _MAKERS.get(finding.code)
    mend = None if maker is None else maker(bracket, finding)
    return mend if mend is not None and _helps(bracket, finding, mend) else None


def sharp_corners(bracket: Bracket, plate_name: str) -> tuple[SharpCorner, ...]:
    """Return every sharp inside corner of a plate, outline first, each with the mend that rounds it.

    The radius is the thickness, or the largest that fits. EditRefused if there is no such plate.
    """
    plate = plate_of(bracket, plate_name)
    loops = (None, *(opening.name for opening in plate.openings if isinstance(opening, CutOut)))
    return tuple(
        SharpCorner(
            plate_name, loop, index, corners_of(plate, loop)[index].at_mm, _rounding(plate, index, loop)
        )
        for loop in loops
        for index in sharp_inside_corners(plate, loop)
    )


def _rounding(plate: Plate, index: int, loop: str | None) -> Mend | None:
    corners = corners_of(plate, loop)
    room = room_mm(corners, index) if between_straight_edges(corners, index) else None
    if room is None or room < 0.1:
        return None
    radius = plate.thickness_mm if room >= plate.thickness_mm else int(room * 100.0) / 100.0

    def apply(bracket: Bracket) -> Bracket:
        changed = round_corner(plate_of(bracket, plate.name), index, radius, loop)
        return with_plate_changed(bracket, plate.name, changed)

    return Mend(f"round the corner with {radius:g} mm", apply)


def _helps(bracket: Bracket, finding: Finding, mend: Mend) -> bool:
    try:
        mended = mend.apply(bracket)
    except EditRefused:
        return False
    after = findings_of(mended)
    if any((there.code, there.where) == (finding.code, finding.where) for there in after):
        return False
    stops = {(there.code, there.where) for there in findings_of(bracket) if there.severity == "stop"}
    new = {(there.code, there.where) for there in after if there.severity == "stop"} - stops
    return all(code == finding.code == "shape-impossible" for code, _ in new)
