"""Changes of bolts: size, grade and number, with what follows them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Final

import numpy as np

from app.editing.names import names_on, numbered
from app.editing.refused import EditRefused
from app.ladder.changed import Changed
from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_grade, bolt_size, grade_mismatch
from geometry.bracket import Bracket
from geometry.fixing import AtBoss, AtDashBar, AtHole, Bolt
from geometry.nuts import most_prevailing_nm
from geometry.plate import Hole, Plate

USUAL_TORQUE_FACTOR: Final = 0.16
USUAL_PROOF_SHARE: Final = 0.7
"""A usual torque is 0.16 x diameter x 0.7 of the proof load: common practice, no source."""
_MOST: Final = 24
_IN_LINE_MM: Final = 0.5


def usual_torque_nm(size: BoltSize, grade: str) -> float:
    """Return the usual tightening torque: 0.16 x diameter x 0.7 of the proof load, to half an N.m."""
    proof_n = bolt_grade(grade).proof_mpa * size.stress_area_mm2
    torque = USUAL_TORQUE_FACTOR * size.diameter_mm / 1000.0 * USUAL_PROOF_SHARE * proof_n
    return round(2.0 * torque) / 2.0 if torque >= 5.0 else round(torque, 1)


def with_size(bracket: Bracket, only: str | None, text: str) -> Changed:
    """Return the bracket with bolts of another size; their holes follow by ISO 273 medium, torques as usual.

    A bolt into a boss keeps its size, for the casing is tapped for it. EditRefused for an unknown size, and
    where no bolt can change.
    """
    try:
        size = bolt_size(text)
    except UnknownBoltError as error:
        raise EditRefused(str(error)) from error
    _refuse_unknown(bracket, only)
    kept = [b.name for b in bracket.bolts if isinstance(b.joins, AtBoss) and _meant(b, only)]
    changing = [b for b in bracket.bolts if not isinstance(b.joins, AtBoss) and _meant(b, only)]
    if not changing:
        raise EditRefused(
            "no bolt can change its size: those into bosses have the size the casing is tapped for"
        )
    said = [
        f"holes of bolts {_and([b.name for b in changing])} are {size.hole_medium_mm:g} mm, ISO 273 medium"
    ]
    if kept:
        said.append(f"bolts {_and(kept)} go into bosses and keep their size")
    for bolt in changing:
        bracket = _holes_for(bracket, bolt, size)
        changed = bolt.but(size=size.name, washer="standard" if bolt.washer != "none" else "none")
        bracket = bracket.with_bolt(_tightened(_with_its_nut(bolt, changed, said), said))
    return Changed(bracket, tuple(dict.fromkeys(said)))


def with_grade(bracket: Bracket, only: str | None, text: str) -> Changed:
    """Return the bracket with bolts of another grade, tightened as usual; EditRefused for an unknown one."""
    try:
        grade = bolt_grade(text).name
    except UnknownBoltError as error:
        raise EditRefused(str(error)) from error
    _refuse_unknown(bracket, only)
    changing = [b for b in bracket.bolts if _meant(b, only)]
    said: list[str] = []
    for bolt in changing:
        changed = _with_its_nut(bolt, bolt.but(grade=grade), said)
        bracket = bracket.with_bolt(_tightened(changed, said))
    return Changed(bracket, tuple(dict.fromkeys(said)))


def with_number(bracket: Bracket, only: str | None, text: str) -> Changed:
    """Return the bracket with so many bolts from each plate to the dash bar, spread evenly between the outer.

    EditRefused where a plate's bolts to the bar stand in no line, and for a number below two.
    """
    if not text.strip().isdecimal() or not 2 <= int(text) <= _MOST:
        raise EditRefused(
            f"{text} bolts cannot be spread along the bar: give a whole number from 2 to {_MOST}"
        )
    said: list[str] = []
    for plate in bracket.plates:
        rows = [b for b in bracket.bolts if b.plate == plate.name and isinstance(b.joins, AtDashBar)]
        if rows and only in (None, plate.name):
            bracket = _spread(bracket, plate, rows, int(text))
            said.append(f"plate {plate.name} has {int(text)} bolts to the bar, evenly between the outer two")
    if not said:
        raise EditRefused("there are no bolts to a dash bar whose number could change")
    return Changed(bracket, tuple(said))


def _spread(bracket: Bracket, plate: Plate, bolts: Sequence[Bolt], count: int) -> Bracket:
    holes = [plate.opening(bolt.hole) for bolt in bolts]
    if len(holes) < 2 or not all(isinstance(hole, Hole) for hole in holes):
        raise EditRefused(
            f"plate {plate.name} needs two or more round holes to the bar to spread bolts between"
        )
    places = np.array([hole.centre_mm for hole in holes if isinstance(hole, Hole)])
    first, last = _ends_of_row(places, plate.name)
    gone = {bolt.hole for bolt in bolts}
    model, hole = bolts[0], holes[0]
    openings = [opening for opening in plate.openings if opening.name not in gone]
    plate = plate.but(openings=tuple(openings))
    others = [b for b in bracket.bolts if b not in bolts]
    made: list[Bolt] = []
    for share in np.linspace(0.0, 1.0, count):
        x, y = first + share * (last - first)
        name = numbered("bar", names_on(plate))
        plate = plate.with_opening(hole.but(name=name, centre_mm=(round(float(x), 4), round(float(y), 4))))
        made.append(model.but(name=numbered("bar", [b.name for b in (*others, *made)]), hole=name))
    return bracket.with_plate(plate).but(bolts=(*others, *made))


def _ends_of_row(places: np.ndarray, plate: str) -> tuple[np.ndarray, np.ndarray]:
    """Return the two places farthest apart; EditRefused unless all lie on the line between them."""
    apart = np.linalg.norm(places[:, None] - places[None], axis=2)
    i, j = np.unravel_index(int(apart.argmax()), apart.shape)
    first, last = places[min(i, j)], places[max(i, j)]
    way = (last - first) / max(float(np.linalg.norm(last - first)), 1e-9)
    off = (places - first) @ np.array([-way[1], way[0]])
    if float(np.abs(off).max()) > _IN_LINE_MM:
        raise EditRefused(
            f"the bolts of plate {plate} to the bar stand in no line: change their number by hand"
        )
    return first, last


def _holes_for(bracket: Bracket, bolt: Bolt, size: BoltSize) -> Bracket:
    """Return the bracket with every round hole the bolt goes through made ISO 273 medium for a size."""
    ends = [(bolt.plate, bolt.hole)]
    if isinstance(bolt.joins, AtHole):
        ends.append((bolt.joins.plate, bolt.joins.opening))
    for plate_name, hole_name in ends:
        plate = next((p for p in bracket.plates if p.name == plate_name), None)
        hole = None if plate is None else next((o for o in plate.openings if o.name == hole_name), None)
        if plate is not None and isinstance(hole, Hole):
            bracket = bracket.with_plate(plate.with_opening(hole.but(diameter_mm=size.hole_medium_mm)))
    return bracket


def _with_its_nut(bolt: Bolt, changed: Bolt, said: list[str]) -> Bolt:
    """Return the changed bolt; what its nut was measured to take goes where it has another nut now."""
    most = most_prevailing_nm(changed)
    same = bolt.size == changed.size and most_prevailing_nm(bolt) == most
    if same or bolt.prevailing_nm is None:
        return changed
    if most > 0.0:
        said.append(
            f"{changed.size} {changed.grade or '(grade blank)'} has another locking nut than was measured:"
            f" it may take {most:g} N.m of the torque"
        )
    return changed.but(prevailing_nm=None)


def _tightened(bolt: Bolt, said: list[str]) -> Bolt:
    """Return the bolt with the usual torque for its size and grade; one without any preload keeps none."""
    if bolt.grade is None or (bolt.tightening_nm is None and bolt.preload_n is None):
        return bolt
    size = bolt_size(bolt.size)
    if mismatch := grade_mismatch(size, bolt_grade(bolt.grade)):
        raise EditRefused(f"bolt {bolt.name}: {mismatch}")
    torque = usual_torque_nm(size, bolt.grade)
    said.append(f"{size.name} {bolt.grade} tightened to {torque:g} N.m, the usual torque")
    return bolt.but(tightening_nm=torque, preload_n=None)


def _refuse_unknown(bracket: Bracket, only: str | None) -> None:
    names = [bolt.name for bolt in bracket.bolts]
    if not names:
        raise EditRefused("there is no bolt to change: add one first")
    if only is not None and only not in names:
        raise EditRefused(f"there is no bolt {only}; there is: {', '.join(names)}")


def _meant(bolt: Bolt, only: str | None) -> bool:
    return only is None or bolt.name == only


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


Change = Callable[[Bracket, str | None, str], Changed]
"""A bracket, the one thing meant (None: all of them) and the value as typed."""


def order_of_size(text: str) -> float:
    """Return what bolt sizes are put in order by: their stress area; infinity for an unknown one."""
    try:
        return bolt_size(text).stress_area_mm2
    except UnknownBoltError:
        return math.inf


def order_of_grade(text: str) -> float:
    """Return what grades are put in order by: their proof stress; infinity for an unknown one."""
    try:
        return bolt_grade(text).proof_mpa
    except UnknownBoltError:
        return math.inf
