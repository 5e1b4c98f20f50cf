"""The whole bracket for the other hand of drive: X becomes -X.

A mirrored plate is drawn seen from its own front again: its flat pattern is mirrored left to right and its
x axis keeps pointing the way its flat x does. So front stays front, and a fold that was turned up stays up.
"""

from __future__ import annotations

import math

from geometry.bar_section import Open
from geometry.bracket import Bracket
from geometry.casing import Boss, Casing, Envelope, ShaftJoint
from geometry.fixing import Anchor, DashBar
from geometry.flat_segments import Flat
from geometry.installation import Installation, JointInLine, KeptClear, ShaftLine
from geometry.loads import ExtraCase
from geometry.part import Place
from geometry.plate import Corner, CutOut, FoldLine, Hole, Plate, Slot
from geometry.variant import Variant
from geometry.weld import Weld


def for_other_hand(bracket: Bracket) -> Bracket:
    """Return the bracket mirrored in the vertical plane of the shaft; twice gives the same bracket."""
    loads = bracket.loads.but(extra=tuple(_case(case) for case in bracket.loads.extra))
    return bracket.but(
        plates=tuple(_plate(plate) for plate in bracket.plates),
        casing=None if bracket.casing is None else _casing(bracket.casing),
        shaft_joints=tuple(_joint(joint) for joint in bracket.shaft_joints),
        installation=_installation(bracket.installation),
        dash_bar=None if bracket.dash_bar is None else _bar(bracket.dash_bar),
        anchors=tuple(_anchor(anchor) for anchor in bracket.anchors),
        welds=tuple(_weld(weld) for weld in bracket.welds),
        loads=loads,
        variants=tuple(_variant(variant) for variant in bracket.variants),
    )


def _against(value: float) -> float:
    """Return the value with the other sign; nought has none."""
    return -value if value else 0.0


def _the_other_way(plane_deg: float) -> float:
    """Return a direction about the shaft as its mirror image has it, free of what rounding adds to it."""
    return round(180.0 - plane_deg, 9)


def _space(place: Place) -> Place:
    return (_against(place[0]), place[1], place[2])


def _flat(place: Flat) -> Flat:
    return (_against(place[0]), place[1])


def _plate(plate: Plate) -> Plate:
    placement = plate.placement
    x, y = placement.x_axis, placement.y_axis
    still = placement.still_at_mm
    return plate.but(
        outline=tuple(_corner(corner) for corner in plate.outline),
        openings=tuple(_opening(opening) for opening in plate.openings),
        folds=tuple(_fold(fold) for fold in plate.folds),
        placement=placement.but(
            origin_mm=_space(placement.origin_mm),
            # The flat pattern's x is mirrored as well, so its axis is mirrored twice.
            x_axis=(x[0], _against(x[1]), _against(x[2])),
            y_axis=_space(y),
            still_at_mm=None if still is None else _flat(still),
        ),
    )


def _corner(corner: Corner) -> Corner:
    via = corner.arc_via_mm
    return corner.but(at_mm=_flat(corner.at_mm), arc_via_mm=None if via is None else _flat(via))


def _opening(opening: Hole | Slot | CutOut) -> Hole | Slot | CutOut:
    if isinstance(opening, CutOut):
        return opening.but(corners=tuple(_corner(corner) for corner in opening.corners))
    if isinstance(opening, Slot):
        return opening.but(centre_mm=_flat(opening.centre_mm), angle_deg=_against(opening.angle_deg))
    return opening.but(centre_mm=_flat(opening.centre_mm))


def _fold(fold: FoldLine) -> FoldLine:
    return fold.but(from_mm=_flat(fold.from_mm), to_mm=_flat(fold.to_mm))


def _weld(weld: Weld) -> Weld:
    return weld.but(from_mm=_flat(weld.from_mm), to_mm=_flat(weld.to_mm))


def _casing(casing: Casing) -> Casing:
    low, high = casing.envelope.low_mm, casing.envelope.high_mm
    return casing.but(
        clocking_deg=_against(casing.clocking_deg),
        bosses=tuple(_boss(boss) for boss in casing.bosses),
        envelope=Envelope(
            low_mm=(_against(high[0]), low[1], low[2]), high_mm=(_against(low[0]), high[1], high[2])
        ),
        mass_centre_mm=_space(casing.mass_centre_mm),
    )


def _boss(boss: Boss) -> Boss:
    return boss.but(at_mm=_space(boss.at_mm), direction=_space(boss.direction))


def _joint(joint: ShaftJoint) -> ShaftJoint:
    return joint.but(plane_deg=_the_other_way(joint.plane_deg))


def _installation(around: Installation) -> Installation:
    shaft, room = around.shaft, around.room
    return around.but(
        shaft=None if shaft is None else _shaft(shaft),
        room=None
        if room is None
        else room.but(
            kept_clear=tuple(_block(block) for block in room.kept_clear),
            pivot_mm=None if room.pivot_mm is None else _space(room.pivot_mm),
        ),
    )


def _shaft(line: ShaftLine) -> ShaftLine:
    return line.but(
        places_mm=tuple(_space(place) for place in line.places_mm),
        joints=tuple(_joint_in_line(joint) for joint in line.joints),
    )


def _joint_in_line(joint: JointInLine) -> JointInLine:
    plane, phase = joint.plane_deg, joint.phase_deg
    # A yoke turned to the left is turned to the right in a mirror.
    return joint.but(
        plane_deg=None if plane is None else _the_other_way(plane),
        phase_deg=None if phase is None else _against(phase),
    )


def _block(block: KeptClear) -> KeptClear:
    low, high = block.low_mm, block.high_mm
    return block.but(low_mm=(_against(high[0]), low[1], low[2]), high_mm=(_against(low[0]), high[1], high[2]))


def _bar(bar: DashBar) -> DashBar:
    stays = tuple(stay.but(direction=_space(stay.direction)) for stay in bar.stays)
    mirrored = bar.but(from_mm=_space(bar.from_mm), to_mm=_space(bar.to_mm), up=_space(bar.up), stays=stays)
    if not isinstance(bar.section, Open):
        return mirrored
    # An open section's sides are told by the bar's own way: counted from its other end they are mirrored too.
    length = math.dist(bar.from_mm, bar.to_mm)
    return mirrored.but(
        from_mm=mirrored.to_mm,
        to_mm=mirrored.from_mm,
        ends=bar.ends[::-1],
        stays=tuple(s.but(station_mm=max(round(length - s.station_mm, 6), 0.0)) for s in stays),
    )


def _anchor(anchor: Anchor) -> Anchor:
    return anchor if anchor.at_mm is None else anchor.but(at_mm=_space(anchor.at_mm))


def _case(case: ExtraCase) -> ExtraCase:
    # A couple about the shaft turns the other way in a mirror, a force along it does not.
    return case.but(
        couple_nm=_against(case.couple_nm), force_n=_space(case.force_n), at_mm=_space(case.at_mm)
    )


def _variant(variant: Variant) -> Variant:
    return variant.but(
        plates=tuple(_plate(plate) for plate in variant.plates),
        anchors=tuple(_anchor(anchor) for anchor in variant.anchors),
        welds=tuple(_weld(weld) for weld in variant.welds),
    )
