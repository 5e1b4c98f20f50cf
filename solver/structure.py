"""The small dense system.

Condensed plates, casing, dash bar, spacers, bearings, and the connections and welds between them.

Glossary
--------
unknowns    motions that are independent while every connection is stuck, then three slips for every
            connection
slip        sliding of one connection: two shears (mm) square to the bolt, and spin (rad) about it
way         the (6, n) matrix from the unknowns to the motion of one body
stuck       all slips are nought
all slipped spins are free, shears are nought: each bolt is a pin
welded      a segment of a weld moves with what it is welded to in every state; it has no slips
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg import cho_factor, cho_solve, eigh

from geometry.bracket import Bracket
from geometry.fixing import Bolt, Spacer
from geometry.materials import material as material_of
from geometry.placing import BoltPlace
from geometry.weld_places import WeldBody, WeldSegment
from solver.beam import beam_stiffness, ring_section
from solver.condensed_plate import CondensedPlate
from solver.dash_bar import BarModel, Stiffness, bar_model
from solver.load_cases import UNIT_LOADS, casing_reference
from solver.rigid import Floats, axes_along, carry

STEEL_MODULUS_MPA = 210_000.0
STEEL_POISSON = 0.3


@dataclass(frozen=True)
class Connection:
    """One bolt with what it clamps, on the plate that its head side sits on."""

    bolt: str
    plate: int
    body: int
    other: tuple[int, int] | None
    """Plate and body of the nut side, where the partner is another plate."""
    axes: Floats
    """(3, 3), third column along the bolt from the mating face toward the partner."""
    at_mm: Floats
    first_slip: int | None
    """Unknown of the first of its three slips; None for a bolt that is out."""
    spacer_mm: float
    """Length of the spacer, 0 without one."""
    place: BoltPlace


@dataclass(frozen=True)
class WeldJoint:
    """One segment of a weld, on the plate whose edge it is."""

    segment: WeldSegment
    plate: int
    body: int


@dataclass(frozen=True)
class Structure:
    """The assembled system."""

    stiffness: Floats
    """(n, n) over the unknowns."""
    stuck: int
    """Number of unknowns while stuck: they come first."""
    casing_way: Floats
    casing_at_mm: Floats
    plate_ways: tuple[Floats, ...]
    """Per plate (6 bodies, n)."""
    plates: tuple[CondensedPlate, ...]
    connections: tuple[Connection, ...]
    bar: BarModel | None
    bar_first: int
    welds: tuple[WeldJoint, ...] = ()

    @property
    def unit_loads(self) -> Floats:
        """Return the (n, 9) load vectors of the nine unit loads."""
        loads = np.zeros((self.stiffness.shape[0], UNIT_LOADS))
        loads[:, :6] = self.casing_way.T
        for way, plate in zip(self.plate_ways, self.plates, strict=True):
            loads[:, 6:] += way.T @ plate.weight_wrench
        return loads

    @property
    def spins(self) -> Floats:
        """Return the unknowns that are spins."""
        return np.array([c.first_slip + 2 for c in self.connections if c.first_slip is not None], dtype=int)


@dataclass(frozen=True)
class Response:
    """Motions of everything under load vectors, one column each."""

    unknowns: Floats
    structure: Structure

    @property
    def casing(self) -> Floats:
        """Return the (6, columns) motion of the casing about its reference point."""
        return np.asarray(self.structure.casing_way @ self.unknowns)

    def bodies(self, plate: int) -> Floats:
        """Return the (6 bodies, columns) motions of a plate's bolt bodies."""
        return np.asarray(self.structure.plate_ways[plate] @ self.unknowns)

    def bar(self) -> Floats:
        """Return the motions of the dash bar's nodes, (6 nodes, columns); none without a bar."""
        model = self.structure.bar
        if model is None:
            return np.zeros((0, self.unknowns.shape[1]))
        first = self.structure.bar_first
        return model.node_motions(self.unknowns[first : first + model.stiffness.shape[0]])


def build_structure(
    bracket: Bracket,
    plates: Sequence[CondensedPlate],
    *,
    stiffness: Stiffness = "low",
    rigid_bar: bool = False,
    out: Collection[str] = (),
) -> Structure:
    """Return the assembled system.

    `stiffness` picks the side of every range; `rigid_bar` takes dash bar as immovable; `out` names bolts
    taken out. Raises ValueError if there is no casing.
    """
    if bracket.casing is None:
        raise ValueError("there is no casing: add one")
    return _Assembly(bracket, tuple(plates), stiffness, rigid_bar, frozenset(out)).structure()


def respond_stuck(structure: Structure, loads: Floats) -> Response:
    """Return the response with every connection stuck; LinAlgError if something is loose even so."""
    return respond_slipped(structure, loads, ())


def respond_slipped(structure: Structure, loads: Floats, bolts: Collection[str]) -> Response:
    """Return the response with the spins of some bolts free and all other connections stuck."""
    spins = [c.first_slip + 2 for c in structure.connections if c.bolt in bolts and c.first_slip is not None]
    active = np.r_[np.arange(structure.stuck), np.array(spins, dtype=int)]
    unknowns = np.zeros_like(loads)
    unknowns[active] = solve_stiff(structure.stiffness[np.ix_(active, active)], loads[active])
    return Response(unknowns, structure)


def respond_all_slipped(structure: Structure, loads: Floats, free: int) -> tuple[Response, Floats]:
    """Return the response with every spin free, and the (n, free) motions that nothing resists.

    `free` is the number of free motions, known from rigid bodies alone. A load that drives one has no answer:
    its column is then meaningless and the caller leaves it out.
    """
    active = np.concatenate([np.arange(structure.stuck), structure.spins])
    stiffness = structure.stiffness[np.ix_(active, active)]
    loose = np.zeros((len(active), 0))
    if free:
        scale = 1.0 / np.sqrt(np.maximum(np.diag(stiffness), 1e-12 * float(np.max(np.diag(stiffness)))))
        _, vectors = eigh(stiffness * np.outer(scale, scale), subset_by_index=(0, free - 1))
        loose = scale[:, None] * vectors
        held = vectors / scale[:, None]
        stiffness = stiffness + held @ held.T
    unknowns = np.zeros_like(loads)
    unknowns[active] = solve_stiff(stiffness, loads[active])
    motions = np.zeros((loads.shape[0], free))
    motions[active] = loose
    return Response(unknowns, structure), motions


def plate_wrenches(structure: Structure, plate: int, bodies: Floats, gravities: Floats) -> Floats:
    """Return the (6 bodies, columns) wrenches on a plate's bolt bodies, about the middle of each mating face.

    `gravities` (3, columns) is the weight that acts on the plate itself.
    """
    model = structure.plates[plate]
    return np.asarray(model.stiffness @ bodies - model.weight_wrench @ gravities)


def solve_stiff(stiffness: Floats, loads: Floats) -> Floats:
    """Return the motions (n, k) under loads (n, k) on a stiffness (n, n); LinAlgError if not positive."""
    scale = 1.0 / np.sqrt(np.diag(stiffness))
    factor = cho_factor(stiffness * np.outer(scale, scale), lower=True)
    return np.asarray(scale[:, None] * cho_solve(factor, scale[:, None] * loads))


class _Assembly:
    """Numbers the unknowns and adds the stiffness of every part once."""

    def __init__(
        self,
        bracket: Bracket,
        plates: tuple[CondensedPlate, ...],
        stiffness: Stiffness,
        rigid_bar: bool,
        out: frozenset[str],
    ) -> None:
        self.bracket, self.plates, self.side, self.out = bracket, plates, stiffness, out
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
        for way, spring in column_springs(self.bracket, casing_way, at, self.side):
            stiffness += way.T @ (spring[:, None] * way)
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
        if place.partner == "dash bar" and self.bar is not None:
            node = self.bar.node_at(_bar_station_mm(self.bracket, body.segment.at_mm))
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
            _bar_station_mm(self.bracket, body.segment.at_mm)
            for plate in self.plates
            for body in plate.welds
            if body.segment.place.partner == "dash bar"
        ]
        steel = material_of(bar.material, self.bracket.materials)
        return bar_model(bar, stations, steel.elastic_modulus_mpa, steel.poisson, self.side)

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


def _bar_station_mm(bracket: Bracket, at_mm: Floats) -> float:
    """Return how far along the dash bar from its first end a place is; 0 without a bar."""
    bar = bracket.dash_bar
    if bar is None:
        return 0.0
    start, span = np.asarray(bar.from_mm), np.subtract(bar.to_mm, bar.from_mm)
    return float((at_mm - start) @ span / np.linalg.norm(span))


def column_springs(
    bracket: Bracket, casing_way: Floats, at_mm: Floats, stiffness: Stiffness
) -> list[tuple[Floats, Floats]]:
    """Return the springs by which the column holds the shaft: ways (k, n) from the unknowns, N/mm (k,)."""
    side = 0 if stiffness == "low" else 1
    springs = []
    column = bracket.column
    if column.held_by == "bearings":
        for bearing in column.bearings:
            way = carry(at_mm, [0.0, 0.0, bearing.station_mm]) @ casing_way
            springs.append((way[:2], np.full(2, bearing.stiffness_n_per_mm[side])))
    if column.held_by == "donor mount" and column.mount is not None:
        mount = column.mount
        way = carry(at_mm, [0.0, 0.0, mount.station_mm]) @ casing_way
        sideways = mount.sideways_n_per_mm[side]
        springs.append((way[:3], np.array([sideways, sideways, mount.along_n_per_mm[side]])))
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
