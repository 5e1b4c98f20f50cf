"""What the shaft joints do: their angles, how unevenly the shaft runs, what pushes on the casing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from geometry.bracket import Bracket
from geometry.installation import ShaftLine
from geometry.shaft_line import BentJoint, ShaftLineError, bent_joints, joints_on_casing
from solver.around.line import AroundGroup, AroundLine, blank
from solver.around.ripple import (
    SOURCE,
    Floats,
    chain_map,
    equivalent_angle_deg,
    speed_extremes,
)

_GROUP: AroundGroup = "shaft joints"
_PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Ripple:
    """How unevenly the far end of the line runs while the wheel turns evenly."""

    whole: Floats
    """(2, 2) matrix of the chain, for `ripple.speed_ratio`."""
    low: float
    high: float
    equivalent_deg: float
    worst_single_low: float
    """Least ratio of the joint that is bent most, were it alone."""


def shaft_joint_lines(bracket: Bracket) -> Iterator[AroundLine]:
    """Yield everything there is to say of the shaft joints."""
    line = bracket.installation.shaft
    if line is None:
        yield blank(
            _GROUP, "shaft", "nobody has said anything of the shaft joints between wheel and steering box"
        )
        return
    try:
        joints = bent_joints(line)
    except ShaftLineError as error:
        yield AroundLine(_GROUP, "shaft", "open", str(error))
        return
    if not joints:
        yield from _no_joints(line)
        return
    for joint in joints:
        yield _angle_line(joint)
    yield from _ripple_lines(line, joints)
    yield _sliding_line(line)
    yield from _side_couples(bracket, line)


def ripple_of(line: ShaftLine) -> Ripple | None:
    """Return how unevenly the line runs; None while an angle, a plane or a phase is blank.

    Raises ShaftLineError for places that are no line.
    """
    joints = bent_joints(line)
    angles = [j.angle_deg for j in joints]
    if not joints or any(a is None for a in angles) or any(_off(j) is None for j in joints[1:]):
        return None
    known = [a for a in angles if a is not None]
    off = [turned for j in joints[1:] if (turned := _off(j)) is not None]
    whole = chain_map(known, off)
    low, high = speed_extremes(whole)
    return Ripple(whole, low, high, equivalent_angle_deg(whole), math.cos(math.radians(max(known))))


def _off(joint: BentJoint) -> float | None:
    if joint.phase_deg is None or joint.plane_turn_deg is None:
        return None
    return joint.phase_deg - joint.plane_turn_deg


def _no_joints(line: ShaftLine) -> Iterator[AroundLine]:
    if len(line.places_mm) == 2:
        yield AroundLine(
            _GROUP, "shaft", "told", "the shaft is measured as one straight piece without joints"
        )
    else:
        yield blank(_GROUP, "shaft", "neither places along the shaft nor its joints are given")


def _angle_line(joint: BentJoint) -> AroundLine:
    name = f"angle of joint {joint.name}"
    if joint.angle_deg is None:
        return blank(_GROUP, name, "its angle is blank: measure it, or places along the shaft")
    how = "from the measured places" if joint.measured else "as typed"
    said = f"{joint.angle_deg:.1f} deg, {how}"
    if joint.most_angle_deg is None:
        return blank(_GROUP, name, f"{said}; the largest angle its maker allows is blank")
    within = joint.angle_deg <= joint.most_angle_deg
    return AroundLine(
        _GROUP,
        name,
        "met" if within else "fails",
        f"{said}, {'within' if within else 'beyond'} the {joint.most_angle_deg:g} deg its maker allows",
        "the joint's maker, as given in the file",
        joint.angle_deg,
        joint.most_angle_deg,
        "deg",
    )


def _ripple_lines(line: ShaftLine, joints: tuple[BentJoint, ...]) -> Iterator[AroundLine]:
    ripple = ripple_of(line)
    if ripple is None:
        wanting = [j.name for j in joints if j.angle_deg is None]
        unphased = [j.name for j in joints[1:] if _off(j) is None]
        what = [f"the angle of {', '.join(wanting)}"] if wanting else []
        what += [f"phase or plane of {', '.join(unphased)}"] if unphased else []
        yield blank(
            _GROUP, "evenness", f"how evenly the shaft runs hangs on what is blank: {' and '.join(what)}"
        )
        return
    if len(joints) > 1:
        worst = max(joints[1:], key=lambda j: _from_even(_off(j) or 0.0))
        off = _from_even(_off(worst) or 0.0)
        yield AroundLine(
            _GROUP,
            "phasing",
            "told",
            f"joint {worst.name} is {off:.0f} deg from where it would best even out the one before it",
            SOURCE,
            off,
            None,
            "deg",
        )
    limit = line.most_ripple
    swing = max(ripple.high - 1.0, 1.0 - ripple.low)
    within = swing <= limit
    yield AroundLine(
        _GROUP,
        "evenness",
        "met" if within else "broken",
        f"the far end runs between {ripple.low:.3f} and {ripple.high:.3f} of the wheel's speed twice a"
        " turn, as"
        f" through one joint at {ripple.equivalent_deg:.1f} deg; {limit:.0%} is allowed"
        + ("" if within else ", so the wheel feels heavy and light: turn the phase or lessen the angles"),
        f"{SOURCE}; limit: {_PRACTICE}",
        swing,
        limit,
        "",
    )


def _from_even(off_deg: float) -> float:
    """Return how far out of phase that is, from 0 to 90: half a turn of a fork is none."""
    return abs((off_deg + 90.0) % 180.0 - 90.0)


def _sliding_line(line: ShaftLine) -> AroundLine:
    name = "thrust into the casing"
    if line.sliding_joint is None:
        return blank(_GROUP, name, "whether a sliding joint takes up length below the casing is blank")
    if line.sliding_joint == "yes":
        return AroundLine(
            _GROUP, name, "met", "a sliding joint takes up length, so no thrust comes up", _PRACTICE
        )
    return AroundLine(
        _GROUP,
        name,
        "broken",
        "no sliding joint takes up length: whatever moves the steering box pushes into the casing and the"
        " bracket; fit one",
        _PRACTICE,
    )


def _side_couples(bracket: Bracket, line: ShaftLine) -> Iterator[AroundLine]:
    casing, couple = bracket.casing, bracket.loads.couple.value_nm
    if casing is None or couple is None:
        return
    found = joints_on_casing(line, casing.station_mm)
    if len(line.places_mm) >= 3 and not found:
        yield blank(
            _GROUP,
            "side couple",
            "no measured piece runs along the shaft axis through the casing, so the side couple of its joints"
            " is not in the load cases: give the places in the bracket's own axes",
        )
    if not line.places_mm and line.joints and not bracket.shaft_joints:
        yield blank(
            _GROUP,
            "side couple",
            "which joint sits at the casing is not known without measured places, so no side couple is in the"
            " load cases: measure places along the shaft",
        )
    for joint in found:
        if joint.angle_deg == 0.0:
            continue
        carried = bracket.loads.couple_factor * couple * bracket.loads.shaft_share
        side = carried * math.tan(math.radians(joint.angle_deg))
        yield AroundLine(
            _GROUP,
            f"side couple of joint {joint.name}",
            "told",
            f"up to {side:.1f} N.m across the shaft at {joint.angle_deg:.1f} deg, factor included; it is in"
            " the load cases, with what other joints on that shaft do",
            f"T tan(angle), {SOURCE}",
            side,
            None,
            "N.m",
        )
