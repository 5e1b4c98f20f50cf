"""What a bolt meets: the face of a boss, an anchor or the dash bar, and the washer on its plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.bar_face import bar_normal, clamped_of_bar_mm, depth_to_bar
from geometry.bolt_tables import BoltSize
from geometry.bracket import Bracket
from geometry.casing_in_space import boss_in_space
from geometry.fixing import AtAnchor, AtBoss, AtHole, Bolt, Washer
from geometry.plate import Plate

Floats = NDArray[np.float64]
PartnerKind = Literal["boss", "dash bar", "anchor", "hole"]


@dataclass(frozen=True, eq=False)
class HoleInSpace:
    """A hole of a plate in space."""

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
        """Return the middle of the hole, halfway through the plate."""
        return np.asarray((self.back_mm + self.front_mm) / 2.0)

    @property
    def normal(self) -> Floats:
        """Return the unit vector out of the plate's front."""
        return np.asarray(self.frame[:, 2])


@dataclass(frozen=True, eq=False)
class PartnerFace:
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


def stands_on_mm(bracket: Bracket, bolt: Bolt) -> float | None:
    """Return the diameter of what a bolt's plate, or its spacer, stands on; None where that has no end.

    A boss has its face, a dash bar or an anchor its pad, if one is given.
    """
    if not isinstance(bolt.joins, AtBoss):
        return None if isinstance(bolt.joins, AtHole) else bolt.pad_diameter_mm
    bosses = () if bracket.casing is None else bracket.casing.bosses
    return next((b.face_diameter_mm for b in bosses if b.name == bolt.joins.boss), None)


def boss_face(bracket: Bracket, name: str) -> PartnerFace | None:
    """Return the face of a boss; None if it is not there or has no direction."""
    casing = bracket.casing
    boss = None if casing is None else next((b for b in casing.bosses if b.name == name), None)
    if casing is None or boss is None:
        return None
    try:
        at, toward = boss_in_space(casing, boss)
    except ValueError:
        return None
    return PartnerFace("boss", boss.name, at, toward, boss.face_diameter_mm / 2.0)


def anchor_face(bracket: Bracket, bolt: Bolt, size: BoltSize) -> PartnerFace | None:
    """Return the face of the anchor a bolt joins; None if it is not there."""
    name = bolt.joins.anchor if isinstance(bolt.joins, AtAnchor) else ""
    anchor = next((a for a in bracket.anchors if a.name == name), None)
    if anchor is None:
        return None
    at = None if anchor.at_mm is None else np.asarray(anchor.at_mm, dtype=float)
    pad = bolt.pad_height_mm or 0.0
    return PartnerFace("anchor", anchor.name, at, None, _pad_radius_mm(bolt, size), clamped_mm=pad)


def bar_face(bracket: Bracket, bolt: Bolt, size: BoltSize, hole: HoleInSpace) -> PartnerFace | None:
    """Return where the dash bar meets a bolt through a hole; None without a bar of some length."""
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
    return PartnerFace(
        "dash bar",
        bar.name,
        at,
        bar_normal(bar, along, way),
        _pad_radius_mm(bolt, size),
        clamped_mm=clamped_of_bar_mm(bar, along, way) + (bolt.pad_height_mm or 0.0),
        station_mm=station,
        beyond_mm=max(-asked, asked - length, 0.0),
        misses=depth is None,
        front=height > 0.0,
    )


def _pad_radius_mm(bolt: Bolt, size: BoltSize) -> float:
    return washer_radii_mm(bolt, size)[1] if bolt.pad_diameter_mm is None else bolt.pad_diameter_mm / 2.0
