"""Edits of openings: make, move, size, name and take away holes, slots and cut-outs.

A new opening stands last in its plate; its name is one that no opening or fold of the plate has.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from app.editing.bolting import add_bolted_hole, add_hole_to_bar, next_bolt_name
from app.editing.checked import checked_length, checked_place
from app.editing.clips import Clip, PlateClip, copied, copied_plate, pasted, pasted_plate
from app.editing.loops import Opening, opening_of, with_opening_changed
from app.editing.moved_shapes import Axis, shifted
from app.editing.names import checked_name, names_on, numbered, plate_of, with_plate_changed
from app.editing.outline import drawn_corners
from app.editing.refused import EditRefused
from app.editing.repeats import mirror_opening, mirror_plate, repeat_in_line, repeat_round
from app.editing.sheet_places import BarOnSheet, BossOnSheet, bar_on_sheet, bosses_on_sheet
from app.editing.welding import with_plate_named, without_plate
from geometry.bracket import Bracket
from geometry.fixing import AtHole, Bolt
from geometry.part import FlatPlace
from geometry.plate import CutOut, Hole, Slot

__all__ = [
    "Axis",
    "BarOnSheet",
    "BossOnSheet",
    "Clip",
    "PlateClip",
    "add_bolted_hole",
    "add_cut_out",
    "add_hole",
    "add_hole_to_bar",
    "add_rectangle",
    "add_slot",
    "bar_on_sheet",
    "bolts_through",
    "bosses_on_sheet",
    "copied",
    "copied_plate",
    "mirror_opening",
    "mirror_plate",
    "move_opening",
    "next_bolt_name",
    "pasted",
    "pasted_plate",
    "remove_opening",
    "remove_plate",
    "rename",
    "rename_plate",
    "repeat_in_line",
    "repeat_round",
    "resize_hole",
    "resize_slot",
]


def add_hole(
    bracket: Bracket, plate_name: str, at: FlatPlace, diameter_mm: float, name: str | None = None
) -> Bracket:
    """Return the bracket with a hole in a plate; without a name it becomes `hole 4` after `hole 3`."""
    place = checked_place(at, "a hole")
    diameter = checked_length(diameter_mm, "a hole's diameter")
    called = _called(bracket, plate_name, name, "hole")
    return _with_new(bracket, plate_name, Hole(name=called, centre_mm=place, diameter_mm=diameter))


def add_slot(
    bracket: Bracket,
    plate_name: str,
    at: FlatPlace,
    length_mm: float,
    width_mm: float,
    angle_deg: float = 0.0,
    name: str | None = None,
) -> Bracket:
    """Return the bracket with a slot in a plate, `length_mm` over all; EditRefused if wider than long."""
    slot = Slot(
        name=_called(bracket, plate_name, name, "slot"),
        centre_mm=checked_place(at, "a slot"),
        length_mm=_slot_length(length_mm, width_mm),
        width_mm=width_mm,
        angle_deg=_angle(angle_deg),
    )
    return _with_new(bracket, plate_name, slot)


def add_rectangle(
    bracket: Bracket, plate_name: str, low: FlatPlace, high: FlatPlace, name: str | None = None
) -> Bracket:
    """Return the bracket with a rectangular cut-out between two opposite corners.

    Its corners are rounded to the thickness, or to half its shorter side. EditRefused if it has no size.
    """
    (x0, y0), (x1, y1) = (checked_place(at, "a corner of a rectangle") for at in (low, high))
    if min(abs(x1 - x0), abs(y1 - y0)) < 0.01:
        raise EditRefused(
            f"a rectangle of {abs(x1 - x0):g} x {abs(y1 - y0):g} mm encloses nothing; draw it wider"
        )
    return add_cut_out(bracket, plate_name, [(x0, y0), (x1, y0), (x1, y1), (x0, y1)], name)


def add_cut_out(
    bracket: Bracket, plate_name: str, corners: Sequence[FlatPlace], name: str | None = None
) -> Bracket:
    """Return the bracket with a cut-out of the clicked corners, closed by itself.

    Corners where the material turns inward are rounded to the thickness, or to what fits.
    """
    plate = plate_of(bracket, plate_name)
    called = _called(bracket, plate_name, name, "cut-out")
    made = drawn_corners(corners, plate.thickness_mm, "a cut-out", material_inside=False)
    return _with_new(bracket, plate_name, CutOut(name=called, corners=made))


def move_opening(bracket: Bracket, plate_name: str, opening: str, by: FlatPlace) -> Bracket:
    """Return the bracket with an opening moved by a step; bolts through it keep to it."""
    return _changed(bracket, plate_name, opening, shifted(_found(bracket, plate_name, opening), by))


def remove_opening(bracket: Bracket, plate_name: str, opening: str) -> Bracket:
    """Return the bracket without an opening and without the bolts through it."""
    _found(bracket, plate_name, opening)
    gone = {id(bolt) for bolt in bolts_through(bracket, plate_name, opening)}
    bare = _changed(bracket, plate_name, opening, None)
    return bare.but(bolts=tuple(bolt for bolt in bare.bolts if id(bolt) not in gone))


def bolts_through(bracket: Bracket, plate_name: str, opening: str) -> tuple[Bolt, ...]:
    """Return the bolts that go through an opening, at their head or at their nut."""
    return tuple(
        bolt
        for bolt in bracket.bolts
        if (bolt.plate, bolt.hole) == (plate_name, opening)
        or (
            isinstance(bolt.joins, AtHole) and (bolt.joins.plate, bolt.joins.opening) == (plate_name, opening)
        )
    )


def resize_hole(bracket: Bracket, plate_name: str, opening: str, diameter_mm: float) -> Bracket:
    """Return the bracket with a hole of another diameter; EditRefused for an opening that is no hole."""
    hole = _found(bracket, plate_name, opening)
    if not isinstance(hole, Hole):
        raise EditRefused(
            f"{hole.kind} {opening} of plate {plate_name} has no diameter; change its other measures"
        )
    diameter = checked_length(diameter_mm, "a hole's diameter")
    return _changed(bracket, plate_name, opening, hole.but(diameter_mm=diameter))


def resize_slot(
    bracket: Bracket,
    plate_name: str,
    opening: str,
    *,
    length_mm: float | None = None,
    width_mm: float | None = None,
    angle_deg: float | None = None,
) -> Bracket:
    """Return the bracket with a slot of other measures; None keeps one as it is."""
    slot = _found(bracket, plate_name, opening)
    if not isinstance(slot, Slot):
        raise EditRefused(
            f"{slot.kind} {opening} of plate {plate_name} is no slot; change its own measures instead"
        )
    width = slot.width_mm if width_mm is None else width_mm
    changed = slot.but(
        length_mm=_slot_length(slot.length_mm if length_mm is None else length_mm, width),
        width_mm=width,
        angle_deg=slot.angle_deg if angle_deg is None else _angle(angle_deg),
    )
    return _changed(bracket, plate_name, opening, changed)


def rename(bracket: Bracket, plate_name: str, opening: str, new: str) -> Bracket:
    """Return the bracket with an opening renamed; bolts through it follow."""
    plate = plate_of(bracket, plate_name)
    there = opening_of(plate, opening)
    called = checked_name(new, names_on(plate) - {opening}, f"opening {opening}")
    renamed = _changed(bracket, plate_name, opening, there.but(name=called))
    return renamed.but(bolts=tuple(_following(b, plate_name, opening, called) for b in renamed.bolts))


def rename_plate(bracket: Bracket, plate_name: str, new: str) -> Bracket:
    """Return the bracket with a plate renamed; bolts through its holes and welds on it follow."""
    plate = plate_of(bracket, plate_name)
    taken = {other.name for other in bracket.plates} - {plate_name}
    called = checked_name(new, taken, f"plate {plate_name}")
    bolts = []
    for bolt in bracket.bolts:
        joins = bolt.joins
        if isinstance(joins, AtHole) and joins.plate == plate_name:
            joins = joins.but(plate=called)
        bolts.append(bolt.but(plate=called if bolt.plate == plate_name else bolt.plate, joins=joins))
    made = with_plate_changed(bracket, plate_name, plate.but(name=called)).but(bolts=tuple(bolts))
    return with_plate_named(made, plate_name, called)


def remove_plate(bracket: Bracket, plate_name: str) -> Bracket:
    """Return the bracket without a plate and without the bolts through it and the welds on it."""
    plate_of(bracket, plate_name)
    kept = tuple(
        bolt
        for bolt in bracket.bolts
        if bolt.plate != plate_name
        and not (isinstance(bolt.joins, AtHole) and bolt.joins.plate == plate_name)
    )
    return without_plate(with_plate_changed(bracket, plate_name, None).but(bolts=kept), plate_name)


def _found(bracket: Bracket, plate_name: str, opening: str) -> Opening:
    return opening_of(plate_of(bracket, plate_name), opening)


def _changed(bracket: Bracket, plate_name: str, opening: str, changed: Opening | None) -> Bracket:
    plate = plate_of(bracket, plate_name)
    return with_plate_changed(bracket, plate_name, with_opening_changed(plate, opening, changed))


def _with_new(bracket: Bracket, plate_name: str, opening: Opening) -> Bracket:
    plate = plate_of(bracket, plate_name)
    return with_plate_changed(bracket, plate_name, plate.but(openings=(*plate.openings, opening)))


def _called(bracket: Bracket, plate_name: str, name: str | None, stem: str) -> str:
    taken = names_on(plate_of(bracket, plate_name))
    return numbered(stem, taken) if name is None else checked_name(name, taken, f"the {stem}")


def _slot_length(length_mm: float, width_mm: float) -> float:
    length = checked_length(length_mm, "a slot's length")
    width = checked_length(width_mm, "a slot's width")
    if length < width:
        raise EditRefused(
            f"a slot {length:g} mm long over all cannot be {width:g} mm wide; give a length of at least"
            " its width"
        )
    return length


def _angle(angle_deg: float) -> float:
    if not math.isfinite(angle_deg):
        raise EditRefused(f"a slot cannot lie at {angle_deg} deg; give an angle such as 45")
    return (float(angle_deg) + 90.0) % 180.0 - 90.0


def _following(bolt: Bolt, plate_name: str, old: str, new: str) -> Bolt:
    joins = bolt.joins
    if isinstance(joins, AtHole) and (joins.plate, joins.opening) == (plate_name, old):
        joins = joins.but(opening=new)
    at_head = (bolt.plate, bolt.hole) == (plate_name, old)
    return bolt.but(hole=new if at_head else bolt.hole, joins=joins)
