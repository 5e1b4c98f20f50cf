"""Where each bolt stands in space, and what it clamps.

Glossary
--------
head side     at the plate a bolt's own `plate` names; nut side: at the other of two plates bolted together
mating face   the face of a plate that is toward the partner; the other is the washer face
partner face  where the partner begins: a boss, the bar's surface, an anchor, the other plate's mating face
gap           from mating face to partner face along the bolt, before any spacer; below nought they overlap
offset        how far, square to the bolt, the partner is out of line with the hole
tilt          how far the partner's face is out of parallel with the plate
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.bar_face import bar_normal, depth_to_bar
from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.casing import Boss, Casing
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole, Bolt, Washer
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.footprint import Footprint
from geometry.plate import CutOut, Plate

Floats = NDArray[np.float64]
PartnerKind = Literal["boss", "dash bar", "anchor", "hole"]

_SAME_PLACE_MM: Final = 1e-6


@dataclass(frozen=True, eq=False)
class BoltPlace:
    """One side of one bolt: the hole it goes through, in space, and its partner there."""

    bolt: str
    side: Literal["head", "nut"]
    plate: str
    plate_index: int
    """Place of the plate in bracket.plates."""
    hole: str
    flat_mm: tuple[float, float]
    """Centre of the hole in the flat pattern."""
    hole_radius_mm: float
    """Half the hole's diameter, or half a slot's width."""
    thickness_mm: float
    mating_side: Literal["front", "back"]
    mating_mm: Floats
    """(3,) centre of the mating face."""
    axis: Floats
    """(3,) unit vector from the mating face toward the partner."""
    frame: Floats
    """(3, 3) columns: the plate's x, y and front normal at the hole."""
    partner: PartnerKind
    partner_name: str
    partner_mm: Floats
    """(3,) centre of the partner face."""
    station_mm: float | None
    """Along the dash bar from its `from_mm`, kept within its ends; None for other partners."""
    beyond_mm: float
    """How far past the end of the dash bar the hole lies; 0 within it."""
    misses: bool
    """Whether the line of the bolt passes the dash bar by."""
    offset_mm: float
    tilt_deg: float
    gap_mm: float
    mating_inner_mm: float
    """Radius the ring of contact begins at on the mating face, or on the spacer's end."""
    mating_outer_mm: float
    head_inner_mm: float
    """Radius the ring under washer, head or nut begins at."""
    head_outer_mm: float
    clamp_length_mm: float
    """What the bolt clamps: washers, plates, spacer, the wall of a dash bar."""
    bolt_diameter_mm: float

    @property
    def spread_mm(self) -> float:
        """Return the radius of the larger of the two rings."""
        return max(self.mating_outer_mm, self.head_outer_mm)


def place_bolts(bracket: Bracket) -> tuple[BoltPlace, ...]:
    """Return the place of every bolt that can be placed, in the order of bracket.bolts.

    Where two plates are bolted together there are two, one for each side. A bolt that names what is not
    there, is of unknown size or goes through a plate with an impossible shape is left out: the findings say
    why.
    """
    holes = _Holes(bracket)
    return tuple(place for bolt in bracket.bolts for place in _place(bracket, bolt, holes))


def footprints_of(places: Iterable[BoltPlace], plate: str) -> tuple[Footprint, ...]:
    """Return the rings that bolts clamp on a plate, one for each of its places, in their order."""
    return tuple(footprint_of(place) for place in places if place.plate == plate)


def footprint_of(place: BoltPlace) -> Footprint:
    """Return the rings that a bolt clamps on its plate: contact on the mating face, washer on the other."""
    mating, washer = (
        (place.mating_outer_mm, place.mating_inner_mm),
        (place.head_outer_mm, place.head_inner_mm),
    )
    front, back = (mating, washer) if place.mating_side == "front" else (washer, mating)
    return Footprint(
        name=place.bolt,
        centre_mm=place.flat_mm,
        hole_radius_mm=place.hole_radius_mm,
        front_outer_mm=front[0],
        back_outer_mm=back[0],
        front_inner_mm=front[1],
        back_inner_mm=back[1],
    )


def casing_to_space(casing: Casing, place_mm: tuple[float, float, float]) -> Floats:
    """Return where a place given in the casing's axes stands in space."""
    return np.asarray(
        _clocked(casing) @ np.asarray(place_mm, dtype=float) + np.array([0.0, 0.0, casing.station_mm])
    )


def boss_in_space(casing: Casing, boss: Boss) -> tuple[Floats, Floats]:
    """Return the centre of a boss's face in space and the unit vector out of it.

    ValueError for a direction of no length.
    """
    direction = np.asarray(boss.direction, dtype=float)
    length = float(np.linalg.norm(direction))
    if not length > 0.0:
        raise ValueError(f"boss {boss.name} has a direction of no length: say which way its face looks")
    return casing_to_space(casing, boss.at_mm), np.asarray(_clocked(casing) @ direction / length)


def washer_radii_mm(bolt: Bolt, size: BoltSize) -> tuple[float, float]:
    """Return the inner and outer radius of what presses on the plate: the washer, or the bare head."""
    if isinstance(bolt.washer, Washer):
        return bolt.washer.inner_mm / 2.0, bolt.washer.outer_mm / 2.0
    if bolt.washer == "none":
        return size.diameter_mm / 2.0, size.head_face_mm / 2.0
    return size.washer_inner_mm / 2.0, size.washer_outer_mm / 2.0


def washer_thickness_mm(bolt: Bolt, size: BoltSize) -> float:
    """Return the thickness of the bolt's washer, 0 without one."""
    if isinstance(bolt.washer, Washer):
        return bolt.washer.thickness_mm
    return 0.0 if bolt.washer == "none" else size.washer_thickness_mm


@dataclass(frozen=True, eq=False)
class _Hole:
    """A hole in space."""

    plate: Plate
    index: int
    name: str
    flat_mm: tuple[float, float]
    radius_mm: float
    back_mm: Floats
    front_mm: Floats
    frame: Floats

    @property
    def middle_mm(self) -> Floats:
        return np.asarray((self.back_mm + self.front_mm) / 2.0)

    @property
    def normal(self) -> Floats:
        return np.asarray(self.frame[:, 2])


@dataclass(frozen=True, eq=False)
class _Face:
    """The partner's face as far as a hole is concerned."""

    kind: PartnerKind
    name: str
    at_mm: Floats | None
    """None: the anchor stands wherever the mating face is."""
    toward: Floats | None
    """Unit vector out of the face, toward the plate; None if it has none."""
    outer_mm: float
    inner_mm: float = 0.0
    clamped_mm: float = 0.0
    station_mm: float | None = None
    beyond_mm: float = 0.0
    misses: bool = False
    front: bool | None = None
    """Whether it is in front of the plate, where that is known better than from `at_mm`."""


class _Holes:
    """Finds holes in space; a plate's fold map is made once."""

    def __init__(self, bracket: Bracket) -> None:
        self.bracket = bracket
        self.plates = {
            plate.name: (index, plate) for index, plate in reversed(list(enumerate(bracket.plates)))
        }
        self.maps: dict[str, FoldMap | None] = {}

    def find(self, plate_name: str, opening_name: str) -> _Hole | None:
        if plate_name not in self.plates:
            return None
        index, plate = self.plates[plate_name]
        opening = next((o for o in plate.openings if o.name == opening_name), None)
        fold_map = self._map(plate)
        if opening is None or isinstance(opening, CutOut) or fold_map is None:
            return None
        radius = (
            opening.diameter_mm if opening.kind == "hole" else min(opening.width_mm, opening.length_mm)
        ) / 2.0
        x, y = opening.centre_mm
        try:
            back, front = fold_map.to_space(np.array([[x, y, 0.0], [x, y, plate.thickness_mm]]))
            frame = fold_map.frame_at(x, y)
        except ShapeError:
            return None
        return _Hole(plate, index, opening.name, opening.centre_mm, radius, back, front, frame)

    def _map(self, plate: Plate) -> FoldMap | None:
        if plate.name not in self.maps:
            try:
                self.maps[plate.name] = fold_map_of(plate)
            except ShapeError:
                self.maps[plate.name] = None
        return self.maps[plate.name]


def _place(bracket: Bracket, bolt: Bolt, holes: _Holes) -> tuple[BoltPlace, ...]:
    try:
        size = bolt_size(bolt.size)
    except UnknownBoltError:
        return ()
    hole = holes.find(bolt.plate, bolt.hole)
    if hole is None:
        return ()
    match bolt.joins:
        case AtHole():
            other = holes.find(bolt.joins.plate, bolt.joins.opening)
            if other is None or other.index == hole.index:
                return ()
            return _two_plates(bolt, size, hole, other)
        case AtBoss():
            face = _boss_face(bracket, bolt.joins.boss)
        case AtDashBar():
            face = _bar_face(bracket, bolt, size, hole)
        case AtAnchor():
            face = _anchor_face(bracket, bolt, size)
    return () if face is None else (_side(bolt, size, hole, face, "head", bolt.joins.to),)


def _two_plates(bolt: Bolt, size: BoltSize, head: _Hole, nut: _Hole) -> tuple[BoltPlace, ...]:
    outer = washer_radii_mm(bolt, size)[1]
    places = []
    for side, here, there in (("head", head, nut), ("nut", nut, head)):
        toward_front = float((here.middle_mm - there.middle_mm) @ there.normal) > 0.0
        at = there.front_mm if toward_front else there.back_mm
        clamped = there.plate.thickness_mm + washer_thickness_mm(bolt, size)
        normal = there.normal if toward_front else -there.normal
        face = _Face("hole", f"{there.plate.name} {there.name}", at, normal, outer, there.radius_mm, clamped)
        places.append(_side(bolt, size, here, face, "head" if side == "head" else "nut", "hole"))
    return tuple(places)


def _side(
    bolt: Bolt, size: BoltSize, hole: _Hole, face: _Face, side: Literal["head", "nut"], kind: PartnerKind
) -> BoltPlace:
    front = _mates_in_front(hole, face)
    mating = hole.front_mm if front else hole.back_mm
    axis = hole.normal if front else -hole.normal
    partner_at = mating if face.at_mm is None else face.at_mm
    reach = partner_at - mating
    gap = float(reach @ axis)
    tilt = 0.0
    if face.toward is not None:
        tilt = math.degrees(math.acos(min(1.0, max(-1.0, float(-face.toward @ axis)))))
    inner, outer = max(hole.radius_mm, face.inner_mm, size.diameter_mm / 2.0), face.outer_mm
    spacer_mm = 0.0
    if bolt.spacer is not None:
        spacer_mm = bolt.spacer.length_mm
        inner = max(hole.radius_mm, bolt.spacer.inner_mm / 2.0)
        outer = bolt.spacer.outer_mm / 2.0
    washer_inner, washer_outer = washer_radii_mm(bolt, size)
    return BoltPlace(
        bolt=bolt.name,
        side=side,
        plate=hole.plate.name,
        plate_index=hole.index,
        hole=hole.name,
        flat_mm=hole.flat_mm,
        hole_radius_mm=hole.radius_mm,
        thickness_mm=hole.plate.thickness_mm,
        mating_side="front" if front else "back",
        mating_mm=mating,
        axis=axis,
        frame=hole.frame,
        partner=kind,
        partner_name=face.name,
        partner_mm=partner_at,
        station_mm=face.station_mm,
        beyond_mm=face.beyond_mm,
        misses=face.misses,
        offset_mm=float(np.linalg.norm(reach - gap * axis)),
        tilt_deg=tilt,
        gap_mm=gap,
        mating_inner_mm=inner,
        mating_outer_mm=outer,
        head_inner_mm=max(hole.radius_mm, washer_inner),
        head_outer_mm=washer_outer,
        clamp_length_mm=washer_thickness_mm(bolt, size)
        + hole.plate.thickness_mm
        + spacer_mm
        + face.clamped_mm,
        bolt_diameter_mm=size.diameter_mm,
    )


def _mates_in_front(hole: _Hole, face: _Face) -> bool:
    """Tell by where the partner stands; where it stands at the hole's middle, by which way it looks."""
    if face.front is not None:
        return face.front
    if face.at_mm is not None:
        height = float((face.at_mm - hole.middle_mm) @ hole.normal)
        if abs(height) > _SAME_PLACE_MM:
            return height > 0.0
    return face.toward is not None and float(face.toward @ hole.normal) < 0.0


def _boss_face(bracket: Bracket, name: str) -> _Face | None:
    casing = bracket.casing
    boss = None if casing is None else next((b for b in casing.bosses if b.name == name), None)
    if casing is None or boss is None:
        return None
    try:
        at, toward = boss_in_space(casing, boss)
    except ValueError:
        return None
    return _Face("boss", boss.name, at, toward, boss.face_diameter_mm / 2.0)


def _anchor_face(bracket: Bracket, bolt: Bolt, size: BoltSize) -> _Face | None:
    name = bolt.joins.anchor if isinstance(bolt.joins, AtAnchor) else ""
    anchor = next((a for a in bracket.anchors if a.name == name), None)
    if anchor is None:
        return None
    at = None if anchor.at_mm is None else np.asarray(anchor.at_mm, dtype=float)
    return _Face("anchor", anchor.name, at, None, _pad_radius_mm(bolt, size))


def _bar_face(bracket: Bracket, bolt: Bolt, size: BoltSize, hole: _Hole) -> _Face | None:
    bar = bracket.dash_bar
    if bar is None:
        return None
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    length = float(np.linalg.norm(end - start))
    if not length > 0.0:
        return None
    along = (end - start) / length
    asked = float((hole.middle_mm - start) @ along)
    station = min(max(asked, 0.0), length)
    nearest = start + station * along
    height = float((nearest - hole.middle_mm) @ hole.normal)
    way = hole.normal if height > 0.0 else -hole.normal
    mating = hole.front_mm if height > 0.0 else hole.back_mm
    depth = depth_to_bar(bar, along, mating - start, way)
    at = nearest if depth is None else mating + depth * way
    return _Face(
        "dash bar",
        bar.name,
        at,
        bar_normal(bar, along, way),
        _pad_radius_mm(bolt, size),
        clamped_mm=bar.section.wall_mm,
        station_mm=station,
        beyond_mm=max(-asked, asked - length, 0.0),
        misses=depth is None,
        front=height > 0.0,
    )


def _pad_radius_mm(bolt: Bolt, size: BoltSize) -> float:
    return washer_radii_mm(bolt, size)[1] if bolt.pad_diameter_mm is None else bolt.pad_diameter_mm / 2.0


def _clocked(casing: Casing) -> Floats:
    angle = math.radians(casing.clocking_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    return np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
