"""One bolt with all that its checks need.

Size, grade, preload range, the ring it clamps, its play in its hole.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely

from geometry.bolt_tables import BoltGrade, BoltSize, UnknownBoltError, bolt_grade, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import AtBoss, Bolt
from geometry.flat_pattern import edges_round, flat_pattern
from geometry.materials import material
from geometry.partner_face import washer_thickness_mm
from geometry.placing import BoltPlace
from geometry.plate import Plate
from geometry.thread_engagement import engaged_mm
from solver.bar_walls import beside_on_wall, wall_bending_n
from solver.bolt_preload import preload_of
from solver.grip import Grip
from solver.head_pressure import NOT_KNOWN, Pressed, borne_n, pressed_area_mm2
from solver.joint_rules import HoleFit, hole_fit, packing_share, slip_share
from solver.mating_faces import borne_by_face
from solver.plies import Ply, bar_ply, clamped_sheets
from solver.ring_contact import Ring
from solver.spacer_ends import borne_by_spacer, far_end_mm
from solver.thread_rules import LEAD_PITCHES, Stripping, boss_tensile_mpa, full_flanks_mm, stripping

UNKNOWN_GRADE_TENSILE_MPA = 800.0
"""Bearing of a plate needs the bolt's strength only to tell which is softer; a blank grade bars the verdict
anyway."""


@dataclass(frozen=True)
class ClampedBolt:
    """A bolt as the checks see it."""

    bolt: Bolt
    size: BoltSize
    grade: BoltGrade | None
    preload_low_n: float | None
    preload_high_n: float | None
    settling_n: float
    """What its high end may still lose when the clamped faces bed in; 0 of one that is stated."""
    preload_words: str
    friction: float | None
    ring: Ring
    """The ring on the mating face, or on that of the spacer's ends which tips first."""
    clearance_mm: float
    """From the middle of the hole until the bolt is hard against it."""
    bearing_n: float
    """EN 1993-1-8 bearing of the weakest plate or wall it goes through, for a force in any direction."""
    bearing_plate: str
    pulled_through_n: float
    """What the weakest plate or wall bears before its head is pulled through it."""
    pulled_through: str
    """That plate, or the wall of a dash bar."""
    pull_through_rule: str = ""
    """As `bearing_rule`."""
    bearing_rule: str = ""
    """The rule that lets this hole bear less than EN 1993-1-8 does; empty where that governs."""
    thread: Stripping | None = None
    """What its thread in a boss bears; None where it goes into none, or depth or grade is blank."""
    thread_words: str = ""
    slip_share: float = 1.0
    """k_s: what of its friction counts in its holes, the least of them."""
    surely_n: float | None = None
    """What it is drawn to at the low end of its scatter, whether or not it and its thread bear that."""
    pressed_n: float = math.inf
    """What the softest face under its head, nut, spacer or plate bears, or the spacer; inf where not
    known."""
    pressed_on: str = ""
    pressed_wider: str = ""
    """What to take a wider one of where that is too little."""
    wall_n: float = math.inf
    """What the wall of a hollow dash bar bears square to it, without a factor; inf where there is none."""
    wall_beside: tuple[str, ...] = ()
    """Other bolts that bend the same part of that wall."""

    @property
    def opening_arm_mm(self) -> float:
        """Return e of the ring."""
        return self.ring.kernel_mm

    @property
    def friction_radius_mm(self) -> float:
        """Return the radius at which the ring's friction resists spin."""
        return self.ring.friction_radius_mm

    @property
    def ring_outer_mm(self) -> float:
        """Return the outer radius of the ring."""
        return self.ring.outer_mm / 2.0

    @property
    def packing_share(self) -> float:
        """Return what its spacer leaves of its shear strength."""
        spacer = self.bolt.spacer
        return 1.0 if spacer is None else packing_share(self.size.diameter_mm, spacer.length_mm)

    @property
    def grip(self) -> Grip:
        """Return what friction can hold; nothing where preload or friction is not known."""
        return Grip(
            self.friction or 0.0, self.preload_low_n or 0.0, self.friction_radius_mm, self.clearance_mm
        )


def clamped_bolts(bracket: Bracket, places: Sequence[BoltPlace]) -> dict[str, ClampedBolt]:
    """Return every bolt that has a place, by name.

    Raises UnknownBoltError or RingError, which findings tell beforehand.
    """
    by_bolt: dict[str, list[BoltPlace]] = {}
    for place in places:
        by_bolt.setdefault(place.bolt, []).append(place)
    clear = {plate.name: edge_distances_mm(plate, places) for plate in bracket.plates}
    return {
        name: _clamped(bracket, bracket.bolt(name), sides, places, clear) for name, sides in by_bolt.items()
    }


def edge_distances_mm(plate: Plate, places: Sequence[BoltPlace]) -> Mapping[str, tuple[float, float]]:
    """Return, per bolt of a plate, the least distance to an edge and to another bolt's hole centre.

    Both are taken in the flat pattern. The edge is the outline or any opening but the bolt's own hole.
    """
    here = [p for p in places if p.plate == plate.name]
    polygon = flat_pattern(plate).polygon
    found = {}
    for place in here:
        centre = shapely.Point(place.flat_mm)
        edge = min(float(shapely.distance(ring, centre)) for ring in edges_round(polygon, place.flat_mm))
        others = [math.dist(p.flat_mm, place.flat_mm) for p in here if p.bolt != place.bolt]
        found[place.bolt] = (edge, min(others, default=float("inf")))
    return found


def _clamped(
    bracket: Bracket,
    bolt: Bolt,
    sides: Sequence[BoltPlace],
    places: Sequence[BoltPlace],
    clear: Mapping[str, Mapping[str, tuple[float, float]]],
) -> ClampedBolt:
    size = bolt_size(bolt.size)
    grade = None
    if bolt.grade is not None:
        try:
            grade = bolt_grade(bolt.grade)
        except UnknownBoltError:
            grade = None
    head = next(p for p in sides if p.side == "head")
    pressed = _pressed(bracket, bolt, size, sides)
    preload = preload_of(bolt, size, grade, sides)
    plies = [ply for place in sides for ply in _plies(bracket, place, places, clear, size)]
    bolt_mpa = grade.design_tensile_mpa if grade else UNKNOWN_GRADE_TENSILE_MPA
    (bearing, rule), name = min((ply.bears_n(size, bolt_mpa), ply.name) for ply in plies)
    (pulled_n, pulled_rule), pulled = min((ply.pulled_through_n(size), ply.name) for ply in plies)
    thread, thread_words = _thread(bracket, bolt, size, grade, head.clamp_length_mm)
    return ClampedBolt(
        bolt,
        size,
        grade,
        # What its head sinks into holds no more.
        None if preload.low_n is None else min(preload.low_n, pressed.borne_n),
        preload.high_n,
        preload.settling_n,
        preload.words,
        bolt.face_friction,
        _ring(bracket, bolt, head),
        sum(max(p.hole_radius_mm - size.diameter_mm / 2.0, 0.0) for p in sides),
        bearing,
        name,
        pulled_n,
        pulled,
        pulled_rule,
        rule,
        thread,
        thread_words,
        min(slip_share(_fit(bracket, place, size)) for place in sides),
        preload.surely_n,
        pressed.borne_n,
        pressed.name,
        pressed.wider,
        wall_bending_n(bracket, head),
        beside_on_wall(bracket.dash_bar, head, places),
    )


def _ring(bracket: Bracket, bolt: Bolt, head: BoltPlace) -> Ring:
    """Return the ring a bolt clamps: of a spacer's ends the one that tips first.

    The near end has the plate's hole in it, the far one its own bore and no more than it stands on.
    """
    near = Ring(2.0 * head.mating_outer_mm, 2.0 * head.mating_inner_mm)
    if bolt.spacer is None:
        return near
    far = Ring(far_end_mm(bracket, bolt, bolt.spacer), bolt.spacer.inner_mm)
    return min(near, far, key=lambda ring: ring.kernel_mm)


def _plies(
    bracket: Bracket,
    place: BoltPlace,
    places: Sequence[BoltPlace],
    clear: Mapping[str, Mapping[str, tuple[float, float]]],
    size: BoltSize,
) -> list[Ply]:
    """Return the plate at one side of a bolt and, where it goes to the dash bar, the wall of that."""
    plate, fit = bracket.plate(place.plate), _fit(bracket, place, size)
    strength = material(plate.material or "", bracket.materials).tensile_mpa(plate.thickness_mm) or 0.0
    own = Ply(
        plate.name,
        plate.thickness_mm,
        strength,
        2.0 * place.hole_radius_mm,
        *clear[place.plate][place.bolt],
        fit,
    )
    wall = bar_ply(bracket, place, places, fit)
    return [own] if wall is None else [own, wall]


def _pressed(bracket: Bracket, bolt: Bolt, size: BoltSize, sides: Sequence[BoltPlace]) -> Pressed:
    """Return what the softest of spacer and faces bears.

    Faces are those under head, nut and spacer, and that of a boss or pad that the plate stands on.
    """
    found = []
    for sheet in clamped_sheets(bracket, sides):
        area = pressed_area_mm2(
            2.0 * sheet.place.head_outer_mm,
            2.0 * sheet.place.head_inner_mm,
            size.head_face_mm,
            washer_thickness_mm(bolt, size),
        )
        borne = borne_n(sheet.kind, sheet.tensile_mpa, area)
        found.append(Pressed(borne, sheet.name, "or thicker washer"))
    found += [*borne_by_spacer(bracket, bolt, sides), *borne_by_face(bracket, bolt, size, sides)]
    return min(found, default=NOT_KNOWN)


def _thread(
    bracket: Bracket, bolt: Bolt, size: BoltSize, grade: BoltGrade | None, clamp_mm: float
) -> tuple[Stripping | None, str]:
    """Return what a bolt's thread in its boss bears, and from what length and strength."""
    if not isinstance(bolt.joins, AtBoss) or bracket.casing is None or grade is None:
        return None, ""
    boss = bracket.casing.boss(bolt.joins.boss)
    engaged = engaged_mm(boss, bolt, size, clamp_mm)
    if engaged is None:
        return None, ""
    strength = boss_tensile_mpa(boss)
    borne = stripping(size, full_flanks_mm(size, engaged), strength, grade.tensile_mpa)
    bought = "as it is to be bought: its length is blank" if bolt.length_mm is None else "by its length"
    words = (
        f"thread of the {borne.weaker} strips first; {engaged:.1f} mm engaged {bought},"
        f" {LEAD_PITCHES:g} of a pitch of it without full flanks;"
        f" {boss.metal} {'taken as the weakest usual,' if boss.tensile_mpa is None else 'of a stated'}"
        f" {strength:g} MPa"
    )
    return borne, words


def _fit(bracket: Bracket, place: BoltPlace, size: BoltSize) -> HoleFit:
    if bracket.plate(place.plate).opening(place.hole).kind == "slot":
        return "long slot"
    return hole_fit(size, 2.0 * place.hole_radius_mm)
