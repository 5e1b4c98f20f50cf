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
from functools import lru_cache
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole, Bolt
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.footprint import Footprint
from geometry.partner_face import (
    HoleInSpace,
    PartnerFace,
    PartnerKind,
    anchor_face,
    bar_face,
    boss_face,
    washer_radii_mm,
    washer_thickness_mm,
)
from geometry.plate import CutOut, Plate

Floats = NDArray[np.float64]

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
    """What the bolt clamps: washers, plates, spacer, pad, the wall of a dash bar."""
    bolt_diameter_mm: float

    @property
    def spread_mm(self) -> float:
        """Return the radius of the larger of the two rings."""
        return max(self.mating_outer_mm, self.head_outer_mm)


@lru_cache(maxsize=8)
def place_bolts(bracket: Bracket) -> tuple[BoltPlace, ...]:
    """Return the place of every bolt that can be placed, in the order of bracket.bolts.

    Kept for the brackets seen lately: findings, checks and every picture of one ask the same.

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


class _Holes:
    """Finds holes in space; a plate's fold map is made once."""

    def __init__(self, bracket: Bracket) -> None:
        self.bracket = bracket
        self.plates = {
            plate.name: (index, plate) for index, plate in reversed(list(enumerate(bracket.plates)))
        }
        self.maps: dict[str, FoldMap | None] = {}

    def find(self, plate_name: str, opening_name: str) -> HoleInSpace | None:
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
        return HoleInSpace(plate, index, opening.name, opening.centre_mm, radius, back, front, frame)

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
            face = boss_face(bracket, bolt.joins.boss)
        case AtDashBar():
            face = bar_face(bracket, bolt, size, hole)
        case AtAnchor():
            face = anchor_face(bracket, bolt, size)
    return () if face is None else (_side(bolt, size, hole, face, "head", bolt.joins.to),)


def _two_plates(bolt: Bolt, size: BoltSize, head: HoleInSpace, nut: HoleInSpace) -> tuple[BoltPlace, ...]:
    outer = washer_radii_mm(bolt, size)[1]
    places = []
    for side, here, there in (("head", head, nut), ("nut", nut, head)):
        toward_front = float((here.middle_mm - there.middle_mm) @ there.normal) > 0.0
        at = there.front_mm if toward_front else there.back_mm
        clamped = there.plate.thickness_mm + washer_thickness_mm(bolt, size)
        normal = there.normal if toward_front else -there.normal
        face = PartnerFace(
            "hole", f"{there.plate.name} {there.name}", at, normal, outer, there.radius_mm, clamped
        )
        places.append(_side(bolt, size, here, face, "head" if side == "head" else "nut", "hole"))
    return tuple(places)


def _side(
    bolt: Bolt,
    size: BoltSize,
    hole: HoleInSpace,
    face: PartnerFace,
    side: Literal["head", "nut"],
    kind: PartnerKind,
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


def _mates_in_front(hole: HoleInSpace, face: PartnerFace) -> bool:
    """Tell by where the partner stands; where it stands at the hole's middle, by which way it looks."""
    if face.front is not None:
        return face.front
    if face.at_mm is not None:
        height = float((face.at_mm - hole.middle_mm) @ hole.normal)
        if abs(height) > _SAME_PLACE_MM:
            return height > 0.0
    return face.toward is not None and float(face.toward @ hole.normal) < 0.0
