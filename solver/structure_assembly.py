"""Puts the small dense system together: numbers its unknowns and adds the stiffness of every part once.

The words are those of `structure`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

import numpy as np

from geometry.bracket import Bracket
from geometry.fixing import Bolt, Spacer
from geometry.materials import material as material_of
from geometry.placing import BoltPlace
from geometry.stiffness_ranges import (
    ALL_LOW,
    ALONG,
    SIDEWAYS,
    HighEnds,
    bar_range_names,
    bearing_range,
    picked,
)
from geometry.weld_places import WeldBody
from solver.beam import beam_stiffness, ring_section
from solver.condensed_plate import CondensedPlate
from solver.dash_bar import BarModel, bar_model, station_along_mm
from solver.load_cases import casing_reference
from solver.rigid import Floats, axes_along, carry
from solver.structure import Connection, Structure, WeldJoint

STEEL_MODULUS_MPA = 210_000.0
STEEL_POISSON = 0.3


def build_structure(
    bracket: Bracket,
    plates: Sequence[CondensedPlate],
    *,
    high: HighEnds = ALL_LOW,
    rigid_bar: bool = False,
    out: Collection[str] = (),
) -> Structure:
    """Return the assembled system.

    Ranges in `high` are taken at their high end; `rigid_bar` takes dash bar as immovable; `out` names bolts
    taken out. Raises ValueError if there is no casing.
    """
    return next(build_structures(bracket, plates, [high], rigid_bar=rigid_bar, out=out))


def build_structures(
    bracket: Bracket,
    plates: Sequence[CondensedPlate],
    ends: Sequence[HighEnds],
    *,
    rigid_bar: bool = False,
    out: Collection[str] = (),
) -> Iterator[Structure]:
    """Yield the assembled system for each of some high ends; see `build_structure`.

    Where only what holds the column differs, the rest is put together once.
    """
    if bracket.casing is None:
        raise ValueError("there is no casing: add one")
    of_bar = frozenset(bar_range_names(bracket))
    without: dict[HighEnds, Structure] = {}
    for high in ends:
        bar = high & of_bar
        if bar not in without:
            without[bar] = _Assembly(bracket, tuple(plates), bar, rigid_bar, frozenset(out)).structure()
        yield _with_column(without[bar], bracket, high)


def _with_column(structure: Structure, bracket: Bracket, high: HighEnds) -> Structure:
    stiffness = structure.stiffness.copy()
    for way, spring in column_springs(bracket, structure.casing_way, structure.casing_at_mm, high):
        stiffness += way.T @ (spring[:, None] * way)
    return replace(structure, stiffness=stiffness)


class _Assembly:
    """Numbers the unknowns and adds the stiffness of every part once, but for what holds the column."""

    def __init__(
        self,
        bracket: Bracket,
        plates: tuple[CondensedPlate, ...],
        high: HighEnds,
        rigid_bar: bool,
        out: frozenset[str],
    ) -> None:
        self.bracket, self.plates, self.high, self.out = bracket, plates, high, out
        self.bolts = {bolt.name: bolt for bolt in bracket.bolts}
        self.bodies = {
            (p.bolt, p.side): (i, j) for i, plate in enumerate(plates) for j, p in enumerate(plate.places)
        }
        self.bar = None if rigid_bar else self._bar()
        self.count = 6
        self.bar_first = 6
        if self.bar is not None:
            self.count += self.bar.stiffness.shape[0]
        self.free_bodies: dict[tuple[int, int], int] = {}
        heads = [(i, j, p) for i, plate in enumerate(plates) for j, p in enumerate(plate.places)]
        for i, j, place in heads:
            if self._independent(place):
                self.free_bodies[i, j] = self.count
                self.count += 6
        self.weld_bodies = self._weld_bodies()
        self.stuck = self.count
        self.slips: dict[tuple[int, int], int] = {}
        for i, j, place in heads:
            if place.side == "head" and place.bolt not in out:
                self.slips[i, j] = self.count
                self.count += 3

    def structure(self) -> Structure:
        """Return the assembled system."""
        stiffness = np.zeros((self.count, self.count))
        casing_way = self._columns(0, np.eye(6))
        at = casing_reference(self.bracket)
        if self.bar is not None:
            size = self.bar.stiffness.shape[0]
            stiffness[6 : 6 + size, 6 : 6 + size] += self.bar.stiffness
        connections, ways = [], []
        for i, plate in enumerate(self.plates):
            rows = []
            for j, place in enumerate(plate.places):
                way = self._body_way(i, j, place)
                rows.append(way)
                if place.side == "head":
                    connections.append(self._connection(i, j, place))
                    stiffness += self._spacer(place, way, self._partner_way(i, j, place))
            rows += [self._weld_way(body) for body in plate.welds]
            whole = np.vstack(rows) if rows else np.zeros((0, self.count))
            ways.append(whole)
            stiffness += whole.T @ plate.stiffness @ whole
        stiffness = 0.5 * (stiffness + stiffness.T)
        return Structure(
            stiffness,
            self.stuck,
            casing_way,
            at,
            tuple(ways),
            self.plates,
            tuple(connections),
            self.bar,
            self.bar_first,
            tuple(
                WeldJoint(body.segment, i, len(plate.places) + j)
                for i, plate in enumerate(self.plates)
                for j, body in enumerate(plate.welds)
                if body.on == "edge"
            ),
        )

    def _weld_bodies(self) -> dict[tuple[str, int], int]:
        """Number the segments that join two plates: neither of them is immovable nor has freedoms yet."""
        numbered: dict[tuple[str, int], int] = {}
        for plate in self.plates:
            for body in plate.welds:
                if body.on == "edge" and body.segment.place.partner == "plate":
                    numbered[_segment_key(body)] = self.count
                    self.count += 6
        return numbered

    def _weld_way(self, body: WeldBody) -> Floats:
        """Return the motion of a segment: what it is welded to moves it."""
        first = self.weld_bodies.get(_segment_key(body))
        if first is not None:
            return self._columns(first, np.eye(6))
        place = body.segment.place
        bar = self.bracket.dash_bar
        if place.partner == "dash bar" and self.bar is not None and bar is not None:
            node = self.bar.node_at(station_along_mm(bar, body.segment.at_mm))
            own = self._columns(self.bar_first, self.bar.motions[node])
            return carry(self.bar.places_mm[node], body.segment.at_mm) @ own
        return np.zeros((6, self.count))

    def _bar(self) -> BarModel | None:
        bar = self.bracket.dash_bar
        if bar is None:
            return None
        stations = [
            p.station_mm
            for plate in self.plates
            for p in plate.places
            if p.partner == "dash bar" and p.station_mm is not None
        ]
        stations += [
            station_along_mm(bar, body.segment.at_mm)
            for plate in self.plates
            for body in plate.welds
            if body.segment.place.partner == "dash bar"
        ]
        steel = material_of(bar.material, self.bracket.materials)
        return bar_model(bar, stations, steel.elastic_modulus_mpa, steel.poisson, self.high)

    def _independent(self, place: BoltPlace) -> bool:
        return place.side == "nut" or place.bolt in self.out or self.bolts[place.bolt].spacer is not None

    def _columns(self, first: int, matrix: Floats) -> Floats:
        way = np.zeros((6, self.count))
        way[:, first : first + matrix.shape[1]] = matrix
        return way

    def _body_way(self, plate: int, body: int, place: BoltPlace) -> Floats:
        first = self.free_bodies.get((plate, body))
        if first is not None:
            return self._columns(first, np.eye(6))
        return self._partner_way(plate, body, place)

    def _partner_way(self, plate: int, body: int, place: BoltPlace) -> Floats:
        """Return the motion at the partner's face: the partner's own, and the slips of this connection."""
        at = place.mating_mm + place.axis * self._spacer_length(place)
        way = np.zeros((6, self.count))
        if place.partner == "boss":
            way = carry(casing_reference(self.bracket), at) @ self._columns(0, np.eye(6))
        elif place.partner == "dash bar" and self.bar is not None and place.station_mm is not None:
            node = self.bar.node_at(place.station_mm)
            way = carry(self.bar.places_mm[node], at) @ self._columns(self.bar_first, self.bar.motions[node])
        elif place.partner == "hole" and (other := self.bodies.get((place.bolt, "nut"))) is not None:
            nut = self.plates[other[0]].places[other[1]]
            way = carry(nut.mating_mm, at) @ self._columns(self.free_bodies[other], np.eye(6))
        first = self.slips.get((plate, body))
        if first is not None:
            axes = axes_along(place.axis)
            way[:3, first] = axes[:, 0]
            way[:3, first + 1] = axes[:, 1]
            way[3:, first + 2] = axes[:, 2]
        return way

    def _spacer_length(self, place: BoltPlace) -> float:
        spacer = self.bolts[place.bolt].spacer
        return 0.0 if spacer is None or place.side == "nut" else spacer.length_mm

    def _spacer(self, place: BoltPlace, near: Floats, far: Floats) -> Floats:
        bolt = self.bolts[place.bolt]
        if bolt.spacer is None or place.bolt in self.out:
            return np.zeros((self.count, self.count))
        both = np.vstack([near, far])
        return np.asarray(both.T @ spacer_stiffness(bolt, bolt.spacer, place, self.bracket) @ both)

    def _connection(self, plate: int, body: int, place: BoltPlace) -> Connection:
        other = self.bodies.get((place.bolt, "nut"))
        return Connection(
            place.bolt,
            plate,
            body,
            other,
            axes_along(place.axis),
            place.mating_mm,
            self.slips.get((plate, body)),
            self._spacer_length(place),
            place,
        )


def _segment_key(body: WeldBody) -> tuple[str, int]:
    return body.segment.place.weld.name, body.segment.number


def column_springs(
    bracket: Bracket, casing_way: Floats, at_mm: Floats, high: HighEnds
) -> list[tuple[Floats, Floats]]:
    """Return the springs by which the column holds the shaft: ways (k, n) from the unknowns, N/mm (k,)."""
    springs = []
    column = bracket.column
    if column.held_by == "bearings":
        for i, bearing in enumerate(column.bearings):
            stiffness = picked(bearing.stiffness_n_per_mm, bearing_range(i), high)
            way = carry(at_mm, [0.0, 0.0, bearing.station_mm]) @ casing_way
            springs.append((way[:2], np.full(2, stiffness)))
    if column.held_by == "donor mount" and column.mount is not None:
        mount = column.mount
        way = carry(at_mm, [0.0, 0.0, mount.station_mm]) @ casing_way
        sideways = picked(mount.sideways_n_per_mm, SIDEWAYS, high)
        along = picked(mount.along_n_per_mm, ALONG, high)
        springs.append((way[:3], np.array([sideways, sideways, along])))
    return springs


def spacer_stiffness(bolt: Bolt, spacer: Spacer, place: BoltPlace, bracket: Bracket) -> Floats:
    """Return the (12, 12) stiffness between plate face and partner face.

    With preload both ends stay closed and the tube carries; without any it is the bare shank of the bolt.
    """
    axes = axes_along(place.axis)
    if bolt.preload_n is None and bolt.tightening_nm is None:
        shank = ring_section(place.bolt_diameter_mm, 0.0)
        return beam_stiffness(shank, spacer.length_mm, STEEL_MODULUS_MPA, STEEL_POISSON, axes)
    tube = ring_section(spacer.outer_mm, spacer.inner_mm)
    metal = material_of(spacer.material, bracket.materials)
    return beam_stiffness(tube, spacer.length_mm, metal.elastic_modulus_mpa, metal.poisson, axes)
