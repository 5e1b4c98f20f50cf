"""Mends of holes and bolts: sizes, slots, holes out of line, bosses with a hole at them but no bolt."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from app.editing.bolting import bolt_hole_to_boss
from app.editing.loops import opening_of, with_opening_changed
from app.editing.mend import Mend, is_about
from app.editing.names import plate_of, with_plate_changed
from app.editing.openings import bolts_through, resize_hole
from app.editing.sheet_places import bosses_on_sheet
from geometry.bolt_tables import UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings_bolt_faces import GAP_MM
from geometry.fixing import AtHole, Bolt
from geometry.placing import place_bolts
from geometry.plate import Hole, Slot


def hole_size(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend that gives a hole ISO 273 medium for its bolt."""
    for bolt, plate, hole in _ends(bracket):
        if not is_about(finding, f"bolt {bolt.name}, hole {hole} of plate {plate}"):
            continue
        medium = _medium_mm(bolt)
        if medium is None or not isinstance(_opening(bracket, plate, hole), Hole):
            return None
        words = f"make hole {hole} {medium:g} mm, ISO 273 medium for {bolt.size}"
        return Mend(words, partial(resize_hole, plate_name=plate, opening=hole, diameter_mm=medium))
    return None


def slot_to_hole(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend that makes a slot a bolt goes through a round hole, at the slot's middle."""
    for bolt, plate_name, name in _ends(bracket):
        slot = _opening(bracket, plate_name, name)
        if not is_about(finding, f"bolt {bolt.name}") or not isinstance(slot, Slot):
            continue
        if name != finding.values["hole"]:
            continue
        hole = Hole(name=name, centre_mm=slot.centre_mm, diameter_mm=float(finding.values["diameter_mm"]))

        words = f"make slot {name} a round hole of {hole.diameter_mm:g} mm"
        return Mend(words, partial(_replaced, plate_name=plate_name, hole=hole))
    return None


def bolt_offset(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend that moves a hole in line with the boss or anchor its bolt goes to.

    None where two plates are bolted together: either hole may be the wrong one.
    """
    for place in place_bolts(bracket):
        if not is_about(finding, f"bolt {place.bolt}") or place.partner not in ("boss", "anchor"):
            continue
        hole = _opening(bracket, place.plate, place.hole)
        if not isinstance(hole, Hole) or len(bolts_through(bracket, place.plate, place.hole)) != 1:
            return None
        x, y, _ = (float(value) for value in place.frame.T @ (place.partner_mm - place.mating_mm))
        cx, cy = hole.centre_mm
        moved = hole.but(centre_mm=(round(cx + x, 6), round(cy + y, 6)))
        by = math.hypot(x, y)
        words = f"move hole {hole.name} by {by:.2f} mm to {place.partner} {place.partner_name}"
        return Mend(words, partial(_replaced, plate_name=place.plate, hole=moved))
    return None


def boss_unused(bracket: Bracket, finding: Finding) -> Mend | None:
    """Return the mend that bolts a boss through a hole that lies right on it."""
    if bracket.casing is None:
        return None
    boss = next((b for b in bracket.casing.bosses if is_about(finding, f"boss {b.name}")), None)
    if boss is None:
        return None
    try:
        size = bolt_size(boss.thread)
    except UnknownBoltError:
        return None
    for plate in bracket.plates:
        for there in bosses_on_sheet(bracket, plate.name):
            if there.name != boss.name or abs(there.off_mm) > GAP_MM:
                continue
            for hole in plate.openings:
                if not isinstance(hole, Hole) or bolts_through(bracket, plate.name, hole.name):
                    continue
                fits = size.hole_fine_mm - 0.05 <= hole.diameter_mm <= size.hole_coarse_mm + 0.05
                clearance = (hole.diameter_mm - size.diameter_mm) / 2.0
                if fits and math.dist(hole.centre_mm, there.at_mm) <= clearance:
                    return Mend(
                        f"bolt it through hole {hole.name} of plate {plate.name}",
                        partial(
                            bolt_hole_to_boss,
                            plate_name=plate.name,
                            opening=hole.name,
                            boss_name=boss.name,
                        ),
                    )
    return None


def _replaced(bracket: Bracket, plate_name: str, hole: Hole) -> Bracket:
    plate = with_opening_changed(plate_of(bracket, plate_name), hole.name, hole)
    return with_plate_changed(bracket, plate_name, plate)


def _ends(bracket: Bracket) -> Iterator[tuple[Bolt, str, str]]:
    """Yield each bolt with plate and hole, at its head and, where it joins two plates, at its nut."""
    for bolt in bracket.bolts:
        yield bolt, bolt.plate, bolt.hole
        if isinstance(bolt.joins, AtHole):
            yield bolt, bolt.joins.plate, bolt.joins.opening


def _opening(bracket: Bracket, plate_name: str, name: str) -> object:
    plate = next((p for p in bracket.plates if p.name == plate_name), None)
    if plate is None or all(opening.name != name for opening in plate.openings):
        return None
    return opening_of(plate, name)


def _medium_mm(bolt: Bolt) -> float | None:
    try:
        return bolt_size(bolt.size).hole_medium_mm
    except UnknownBoltError:
        return None
