"""Holes that are bolted at once: to a boss of the casing or to the dash bar.

The bolt's grade and tightening stay blank: nobody has said them yet.
"""

from __future__ import annotations

from app.editing.checked import checked_place
from app.editing.loops import opening_of
from app.editing.names import free_name, in_the_habit, names_on, numbered, plate_of, with_plate_changed
from app.editing.refused import EditRefused
from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.casing import Boss
from geometry.fixing import AtBoss, AtDashBar, Bolt, Partner
from geometry.part import FlatPlace
from geometry.plate import Hole


def add_bolted_hole(bracket: Bracket, plate_name: str, at: FlatPlace, boss_name: str) -> Bracket:
    """Return the bracket with a hole in a plate and a bolt through it into a boss, both last.

    The hole is ISO 273 medium for the boss's thread and takes the boss's name if it is free. EditRefused if
    the boss is not there, takes a bolt already, or is tapped with an unknown thread.
    """
    boss = _free_boss(bracket, boss_name)
    size = _size(boss.thread, f"boss {boss.name}")
    taken = names_on(plate_of(bracket, plate_name))
    name = boss.name if boss.name not in taken else numbered("hole", taken)
    return _bolted(bracket, plate_name, at, name, size, AtBoss(boss=boss.name))


def add_hole_to_bar(bracket: Bracket, plate_name: str, at: FlatPlace, size: str) -> Bracket:
    """Return the bracket with a hole in a plate and a bolt of that size through it to the dash bar.

    The hole is ISO 273 medium and named on from the plate's other holes to the bar, or `bar 1`. EditRefused
    for an unknown size and where there is no dash bar.
    """
    if bracket.dash_bar is None:
        raise EditRefused(
            f"plate {plate_name} cannot be bolted to a dash bar that is not there; add it first"
        )
    known = _size(size, "the bolt")
    taken = names_on(plate_of(bracket, plate_name))
    here = [b.hole for b in bracket.bolts if isinstance(b.joins, AtDashBar) and b.plate == plate_name]
    name = free_name(in_the_habit(here, "bar"), taken)
    return _bolted(bracket, plate_name, at, name, known, AtDashBar())


def bolt_hole_to_boss(bracket: Bracket, plate_name: str, opening: str, boss_name: str) -> Bracket:
    """Return the bracket with a bolt through a hole that is there, into a boss.

    EditRefused if either is not there or takes a bolt already, or if the opening is no hole.
    """
    boss = _free_boss(bracket, boss_name)
    there = opening_of(plate_of(bracket, plate_name), opening)
    if not isinstance(there, Hole):
        raise EditRefused(
            f"{there.kind} {opening} of plate {plate_name} takes no bolt; make a round hole there"
        )
    size = _size(boss.thread, f"boss {boss.name}")
    return _with_bolt(bracket, plate_name, opening, size, AtBoss(boss=boss.name))


def next_bolt_name(bracket: Bracket) -> str:
    """Return the name of the next bolt: the file's own numbering carried on, or bare numbers from 1."""
    return in_the_habit((bolt.name for bolt in bracket.bolts), "")


def _bolted(
    bracket: Bracket, plate_name: str, at: FlatPlace, name: str, size: BoltSize, joins: Partner
) -> Bracket:
    plate = plate_of(bracket, plate_name)
    hole = Hole(name=name, centre_mm=checked_place(at, "a hole"), diameter_mm=size.hole_medium_mm)
    drilled = with_plate_changed(bracket, plate_name, plate.but(openings=(*plate.openings, hole)))
    return _with_bolt(drilled, plate_name, name, size, joins)


def _with_bolt(bracket: Bracket, plate_name: str, hole: str, size: BoltSize, joins: Partner) -> Bracket:
    bolt = Bolt(name=next_bolt_name(bracket), size=size.name, plate=plate_name, hole=hole, joins=joins)
    return bracket.but(bolts=(*bracket.bolts, bolt))


def _free_boss(bracket: Bracket, name: str) -> Boss:
    if bracket.casing is None:
        raise EditRefused(f"there is no casing and so no boss {name}; add the casing first")
    try:
        boss = bracket.casing.boss(name)
    except KeyError as fault:
        raise EditRefused(f"{fault.args[0]}; choose one of these") from None
    for bolt in bracket.bolts:
        if isinstance(bolt.joins, AtBoss) and bolt.joins.boss == name:
            raise EditRefused(f"boss {name} takes bolt {bolt.name} already; remove that one first")
    return boss


def _size(name: str, what: str) -> BoltSize:
    try:
        return bolt_size(name)
    except UnknownBoltError as fault:
        raise EditRefused(f"no hole can be chosen for {what}: {fault}") from None
