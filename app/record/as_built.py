"""The bracket as it was built: what was measured put in place of what was drawn, and the differences told."""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from typing import Final, TypeVar

from pydantic import ValidationError

from app.editing.bar_pull import BarReadings, bar_answer
from app.editing.refused import EditRefused
from app.record.record import BarPull, Measured, Record
from app.wording.figures import plain
from app.wording.plate_name import plate_called
from geometry.bracket import Bracket
from geometry.plate import Hole, Slot

_SAME_MM: Final = 0.005
_LEAST_SHARE: Final = 0.4
_MOST_SHARE: Final = 1.6
"""Of the thickness drawn: what is read beyond is another sheet or another unit, and is not judged."""


@dataclass(frozen=True)
class AsBuilt:
    """A second bracket beside the drawn one."""

    bracket: Bracket
    differences: tuple[str, ...]
    """Each a sentence; none if everything measured is as drawn."""
    misfits: tuple[str, ...]
    """What was measured of things the bracket has not, each a sentence."""

    @property
    def differs(self) -> bool:
        """Return whether there is anything to judge beside the bracket as drawn."""
        return bool(self.differences)


def as_built(bracket: Bracket, record: Record) -> AsBuilt:
    """Return the bracket with what the record measured of it."""
    building = _Building(bracket)
    for step in (
        building.take_thicknesses,
        building.take_holes,
        building.take_torques,
        building.take_bar_pull,
    ):
        step(record.measured)
    # Names come from strangers' files.
    return AsBuilt(
        building.bracket, tuple(map(plain, building.differences)), tuple(map(plain, building.misfits))
    )


def readings_of(pull: BarPull | None) -> BarReadings | None:
    """Return the readings of a pull; None while any of them is missing."""
    if pull is None or pull.pull_n is None or pull.middle_mm is None:
        return None
    if pull.from_end_mm is None or pull.to_end_mm is None:
        return None
    return BarReadings(pull.pull_n, pull.middle_mm, (pull.from_end_mm, pull.to_end_mm), pull.where)


_Reading = TypeVar("_Reading")
_Of = TypeVar("_Of", bound=Hashable)


def _by(readings: Iterable[_Reading], of: Callable[[_Reading], _Of]) -> dict[_Of, list[_Reading]]:
    """Return the readings of each thing, in their order."""
    found: dict[_Of, list[_Reading]] = {}
    for reading in readings:
        found.setdefault(of(reading), []).append(reading)
    return found


class _Building:
    def __init__(self, bracket: Bracket) -> None:
        self.bracket = bracket
        self.differences: list[str] = []
        self.misfits: list[str] = []

    def take_thicknesses(self, measured: Measured) -> None:
        """Take each plate as thick as where it was found thinnest."""
        thinnest: dict[str, float] = {}
        for reading in measured.thicknesses:
            plate = next((p for p in self.bracket.plates if p.name == reading.plate), None)
            if plate is None:
                self.misfits.append(f"a thickness is noted of plate {reading.plate}, which there is not")
            elif not _LEAST_SHARE <= reading.thickness_mm / plate.thickness_mm <= _MOST_SHARE:
                self.misfits.append(
                    f"{plate_called(plate.name)} is noted as {reading.thickness_mm:.4g} mm thick where"
                    f" {plate.thickness_mm:g} is drawn: mm for inches, or another plate; measure it again"
                )
            else:
                known = thinnest.get(plate.name, reading.thickness_mm)
                thinnest[plate.name] = min(known, reading.thickness_mm)
        for name, thickness_mm in thinnest.items():
            drawn_mm = self.bracket.plate(name).thickness_mm
            if abs(drawn_mm - thickness_mm) > _SAME_MM:
                self._put_plate(name, thickness_mm=thickness_mm)
                self.differences.append(
                    f"{plate_called(name)} is {thickness_mm:g} mm thick, drawn {drawn_mm:g}"
                )

    def take_holes(self, measured: Measured) -> None:
        noted = _by(measured.holes, lambda reading: (reading.plate, reading.opening))
        for (plate_name, opening_name), (reading, *others) in noted.items():
            if any(math.dist(reading.centre_mm, other.centre_mm) > _SAME_MM for other in others):
                self._told_twice(f"the place of hole {opening_name} of plate {plate_name}")
                continue
            plate = next((p for p in self.bracket.plates if p.name == reading.plate), None)
            opening = None
            if plate is not None:
                opening = next((o for o in plate.openings if o.name == reading.opening), None)
            if plate is None or not isinstance(opening, Hole | Slot):
                self.misfits.append(
                    f"a hole {reading.opening} is noted of plate {reading.plate}, which there is not"
                )
                continue
            off = math.dist(opening.centre_mm, reading.centre_mm)
            if off <= _SAME_MM:
                continue
            moved = plate.with_opening(opening.but(centre_mm=reading.centre_mm))
            self.bracket = self.bracket.with_plate(moved)
            x, y = (now - drawn for now, drawn in zip(reading.centre_mm, opening.centre_mm, strict=True))
            self.differences.append(
                f"hole {opening.name} of plate {plate.name} is {off:.2f} mm off its place"
                f" ({x:+.2f} along x, {y:+.2f} along y)"
            )

    def take_torques(self, measured: Measured) -> None:
        for reading, *others in _by(measured.torques, lambda reading: reading.bolt).values():
            if not all(math.isclose(reading.tightening_nm, other.tightening_nm) for other in others):
                self._told_twice(f"the torque of bolt {reading.bolt}")
                continue
            bolt = next((b for b in self.bracket.bolts if b.name == reading.bolt), None)
            if bolt is None:
                self.misfits.append(f"a torque is noted of bolt {reading.bolt}, which there is not")
                continue
            if bolt.tightening_nm is not None and math.isclose(bolt.tightening_nm, reading.tightening_nm):
                continue
            drawn = "nothing" if bolt.tightening_nm is None else f"{bolt.tightening_nm:g} N.m"
            said = f"bolt {bolt.name} is tightened with {reading.tightening_nm:g} N.m, drawn {drawn}"
            if bolt.preload_n is not None:
                said += "; the preload stated in its place no longer counts"
            # what was read on the bolt goes before what somebody stated of it
            self.bracket = self.bracket.with_bolt(
                bolt.but(tightening_nm=reading.tightening_nm, preload_n=None)
            )
            self.differences.append(said)

    def take_bar_pull(self, measured: Measured) -> None:
        read = readings_of(measured.bar_pull)
        bar = self.bracket.dash_bar
        if measured.bar_pull is None:
            return
        if read is None:
            self.misfits.append("the pull at the dash bar is not read whole: pull, middle and both ends")
            return
        try:
            answer = bar_answer(self.bracket, read)
        except EditRefused as refused:
            said = str(refused).rstrip(".")
            self.misfits.append(f"the pull at the dash bar gives no stiffness: {said[:1].lower()}{said[1:]}")
            return
        if bar is not None and bar.ends != answer.ends:
            drawn = " and ".join(end.kind for end in bar.ends)
            self.bracket = self.bracket.but(dash_bar=bar.but(ends=answer.ends))
            said = answer.words.rstrip(".")
            self.differences.append(f"{said[:1].lower()}{said[1:]}; drawn {drawn}")

    def _told_twice(self, what: str) -> None:
        """Note that nobody can tell which of several readings is so."""
        self.misfits.append(f"{what} is noted more than once, each time otherwise: leave the one that is so")

    def _put_plate(self, name: str, **changes: object) -> None:
        try:
            self.bracket = self.bracket.with_plate(self.bracket.plate(name).but(**changes))
        except ValidationError:
            self.misfits.append(f"what was measured of plate {name} makes no plate: look at it again")
