"""The bracket as a linkage.

Plates and casing as rigid bodies, connections as joints, welds as full ties, dash bar and anchors immovable.

Free motions, lash and the limit of friction are all questions put to it; none needs a stiffness.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from geometry.bracket import Bracket
from geometry.placing import BoltPlace
from geometry.stiffness_ranges import ALL_LOW, ALONG, SIDEWAYS, HighEnds, bearing_range, picked
from geometry.weld_places import WeldPlace, place_welds
from solver.load_cases import casing_reference, weight_n
from solver.rigid import Floats, axes_along, carry, turned

CASING = "casing"


class Weighted(Protocol):
    """A plate as far as its weight goes."""

    @property
    def mass_kg(self) -> float:
        """Return its mass."""

    @property
    def mass_centre_mm(self) -> Floats:
        """Return its mass centre in space."""


@dataclass(frozen=True)
class Joint:
    """One connection between a plate and its partner."""

    place: BoltPlace
    axes: Floats
    """(3, 3), third column along the bolt from the mating face toward the partner."""
    relative: Floats
    """(6, 6 bodies): motion of the plate relative to its partner at the mating face, in `axes`: shift, then
    turn."""


@dataclass(frozen=True)
class Linkage:
    """Rigid bodies and their joints. A motion of the whole is six numbers a body, about its own origin."""

    bodies: tuple[str, ...]
    """The casing first, then the plates' names."""
    origins_mm: Floats
    """(bodies, 3)."""
    joints: tuple[Joint, ...]
    column: Floats
    """(h, 6 bodies): shifts of the shaft that the column's bearings forbid."""
    radius_mm: float
    """Root mean square distance of the connections from their middle: it scales turns to shifts."""
    welded: Floats
    """(6 w, 6 bodies): motion of each welded plate relative to its partner, all of it forbidden."""

    @property
    def size(self) -> int:
        """Return the number of freedoms."""
        return 6 * len(self.bodies)

    @property
    def turn_scale(self) -> Floats:
        """Return (6 bodies,) factors from a motion whose turns are in mm at the radius to one in rad."""
        return np.tile([1.0, 1.0, 1.0, *([1.0 / self.radius_mm] * 3)], len(self.bodies))

    def forbidden(self, *, stuck: bool = False) -> Floats:
        """Return (m, 6 bodies) rows of forbidden relative motion in mm.

        All but spin at each joint, or spin too if stuck.
        """
        kept = 6 if stuck else 5
        weights = np.array([1.0, 1.0, 1.0, *([self.radius_mm] * 3)])[:kept, None]
        rows = [weights * joint.relative[:kept] for joint in self.joints]
        return np.vstack([*rows, self.column, self.ties]) * self.turn_scale

    @property
    def ties(self) -> Floats:
        """Return (6 w, 6 bodies) what welds forbid, turns in mm at the radius."""
        ties = self.welded.copy()
        ties[np.arange(len(ties)) % 6 >= 3] *= self.radius_mm
        return ties

    def loads(self, plates: Sequence[Weighted], coefficients: Floats) -> Floats:
        """Return (6 bodies,) wrenches of the nine unit loads on the bodies, about their origins.

        Plates in body order.
        """
        vector = np.zeros(self.size)
        vector[:6] = coefficients[:6]
        for i, plate in enumerate(plates, start=1):
            pull = weight_n(plate.mass_kg) * coefficients[6:]
            vector[6 * i : 6 * i + 3] = pull
            vector[6 * i + 3 : 6 * i + 6] = np.cross(plate.mass_centre_mm - self.origins_mm[i], pull)
        return vector


def linkage_of(bracket: Bracket, places: Sequence[BoltPlace], *, out: Collection[str] = ()) -> Linkage:
    """Return the linkage of a bracket whose bolts stand at `places`; bolts in `out` join nothing.

    What may have no stiffness at all, by the low end of its range, holds nothing here.
    """
    names = (CASING, *(plate.name for plate in bracket.plates))
    index = {name: i for i, name in enumerate(names[1:], start=1)}
    placed = [p for p in places if p.bolt not in out and p.plate in index]
    welds = [w for w in place_welds(bracket) if w.weld.plate in index] if bracket.welds else []
    origins = np.zeros((len(names), 3))
    origins[0] = casing_reference(bracket)
    for name, i in index.items():
        at = [p.mating_mm for p in placed if p.plate == name]
        at += [w.ends_mm.mean(axis=0) for w in welds if w.weld.plate == name] if not at else []
        if at:
            origins[i] = np.mean(at, axis=0)
    nuts = {p.bolt: p for p in placed if p.side == "nut"}
    heads = [p for p in placed if p.side == "head" and (p.partner != "hole" or p.bolt in nuts)]
    joints = []
    for place in heads:
        rows = np.zeros((6, 6 * len(names)))
        body = index[place.plate]
        rows[:, 6 * body : 6 * body + 6] = carry(origins[body], place.mating_mm)
        if place.partner == "boss":
            rows[:, :6] -= carry(origins[0], place.mating_mm)
        elif place.partner == "hole":
            other = index[nuts[place.bolt].plate]
            rows[:, 6 * other : 6 * other + 6] -= carry(origins[other], place.mating_mm)
        axes = axes_along(place.axis)
        joints.append(Joint(place, axes, turned(axes) @ rows))
    at_mm = np.array([p.mating_mm for p in heads]).reshape(-1, 3)
    spread = at_mm - at_mm.mean(axis=0) if len(at_mm) else at_mm
    radius = float(np.sqrt(np.mean(np.sum(spread**2, axis=1)))) if len(at_mm) > 1 else 0.0
    column = _column(bracket, origins[0], len(names), ALL_LOW)
    ties = [_tie(weld, index, origins) for weld in welds]
    welded = np.vstack(ties) if ties else np.zeros((0, 6 * len(names)))
    return Linkage(names, origins, tuple(joints), column, max(radius, 1.0), welded)


def _tie(weld: WeldPlace, index: Mapping[str, int], origins: Floats) -> Floats:
    """Return the (6, 6 bodies) motion of a welded plate relative to what it is welded to."""
    middle = weld.ends_mm.mean(axis=0)
    rows = np.zeros((6, 6 * len(origins)))
    body = index[weld.weld.plate]
    rows[:, 6 * body : 6 * body + 6] = carry(origins[body], middle)
    if weld.partner == "plate":
        other = index[weld.partner_name]
        rows[:, 6 * other : 6 * other + 6] -= carry(origins[other], middle)
    return rows


def column_taken(linkage: Linkage, bracket: Bracket, high: HighEnds) -> Linkage:
    """Return the linkage with the column held by whatever has stiffness at that end of its range."""
    return replace(linkage, column=_column(bracket, linkage.origins_mm[0], len(linkage.bodies), high))


def _column(bracket: Bracket, origin: Floats, bodies: int, high: HighEnds) -> Floats:
    held: list[tuple[float, list[int]]] = []
    column = bracket.column
    if column.held_by == "bearings":
        held = [
            (b.station_mm, [0, 1])
            for i, b in enumerate(column.bearings)
            if picked(b.stiffness_n_per_mm, bearing_range(i), high) > 0.0
        ]
    elif column.held_by == "donor mount" and column.mount is not None:
        sideways = [0, 1] if picked(column.mount.sideways_n_per_mm, SIDEWAYS, high) > 0.0 else []
        along = [2] if picked(column.mount.along_n_per_mm, ALONG, high) > 0.0 else []
        held = [(column.mount.station_mm, sideways + along)]
    blocks = [np.zeros((0, 6 * bodies))]
    for station, directions in held:
        rows = np.zeros((len(directions), 6 * bodies))
        rows[:, :6] = carry(origin, [0.0, 0.0, station])[directions]
        blocks.append(rows)
    return np.vstack(blocks)
