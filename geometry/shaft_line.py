"""The steering shaft as a chain of joints: their angles, and how the planes of their bends are turned.

All angles of turning are about the shaft piece, seen in the direction from the wheel, clockwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.casing import ShaftJoint
from geometry.installation import JointInLine, ShaftLine
from geometry.part import Place

Floats = NDArray[np.float64]

LEAST_PIECE_MM: Final = 1.0
"""Shorter pieces have no direction that anybody can measure."""
ON_AXIS_MM: Final = 5.0
"""A measured place this near to the shaft axis of the casing lies on it."""
_STRAIGHT_DEG: Final = 0.5
"""A joint bent less has no plane of its own."""


class ShaftLineError(ValueError):
    """A line of places that is no shaft, in a sentence."""


@dataclass(frozen=True)
class BentJoint:
    """A joint as it is bent."""

    name: str
    angle_deg: float | None
    """None is a blank."""
    plane_turn_deg: float | None
    """How far the plane of its bend is turned from the last joint's, about the piece between them; 0 for the
    first joint; None is a blank."""
    phase_deg: float | None
    most_angle_deg: float | None
    measured: bool
    """Whether its angle comes from measured places."""


def bent_joints(line: ShaftLine) -> tuple[BentJoint, ...]:
    """Return every joint of the line, from the wheel on. Raises ShaftLineError for places that are none."""
    if line.places_mm:
        return _from_places(line)
    return tuple(_typed(line.joints, i) for i in range(len(line.joints)))


def joints_on_casing(line: ShaftLine, station_mm: float) -> tuple[ShaftJoint, ...]:
    """Return the bent joints at the ends of the piece that runs through the casing, as they load it.

    They come from measured places alone; none where no piece lies along the shaft axis at the casing's
    station. Raises ShaftLineError.
    """
    if len(line.places_mm) < 3:
        return ()
    joints = bent_joints(line)
    pieces = _pieces(line.places_mm)
    for i in range(len(pieces)):
        ends = line.places_mm[i], line.places_mm[i + 1]
        if not _through(ends, station_mm):
            continue
        found = []
        for place, joint in ((i, i - 1), (i + 1, i)):
            if not 0 <= joint < len(joints):
                continue
            bent = joints[joint]
            angle = bent.angle_deg or 0.0
            away = pieces[i - 1] if place == i else pieces[i + 1]
            plane = math.degrees(math.atan2(away[1], away[0]))
            found.append(
                ShaftJoint(
                    name=bent.name, station_mm=line.places_mm[place][2], angle_deg=angle, plane_deg=plane
                )
            )
        return tuple(found)
    return ()


def _through(ends: tuple[Place, Place], station_mm: float) -> bool:
    near_axis = all(math.hypot(x, y) <= ON_AXIS_MM for x, y, _ in ends)
    low, high = sorted(z for _, _, z in ends)
    return near_axis and low <= station_mm <= high


def _typed(joints: tuple[JointInLine, ...], i: int) -> BentJoint:
    joint = joints[i]
    turn: float | None = 0.0
    if i > 0:
        before = joints[i - 1].plane_deg
        turn = None if joint.plane_deg is None or before is None else joint.plane_deg - before
    return BentJoint(joint.name, joint.angle_deg, turn, joint.phase_deg, joint.most_angle_deg, False)


def _from_places(line: ShaftLine) -> tuple[BentJoint, ...]:
    pieces = _pieces(line.places_mm)
    normals = [np.cross(a, b) for a, b in pairwise(pieces)]
    angles = [
        math.degrees(math.atan2(float(np.linalg.norm(n)), float(a @ b)))
        for n, (a, b) in zip(normals, pairwise(pieces), strict=True)
    ]
    if len(line.joints) > len(angles):
        raise ShaftLineError(
            f"{len(line.joints)} shaft joints are described and the places leave room for {len(angles)}:"
            " give the two ends and the middle of every joint"
        )
    found = []
    for i, angle in enumerate(angles):
        if angle >= 90.0:
            raise ShaftLineError(f"the places turn the shaft by {angle:.0f} deg at once: check their order")
        told = line.joints[i] if i < len(line.joints) else JointInLine(name=str(i + 1))
        turn = 0.0 if i == 0 else _turned(normals[i - 1], normals[i], pieces[i], angles[i - 1], angle)
        found.append(BentJoint(told.name, angle, turn, told.phase_deg, told.most_angle_deg, True))
    return tuple(found)


def _pieces(places: tuple[Place, ...]) -> list[Floats]:
    if len(places) < 2:
        raise ShaftLineError("one place makes no shaft: give its two ends and the middle of every joint")
    steps = np.diff(np.asarray(places, dtype=float), axis=0)
    lengths = np.linalg.norm(steps, axis=1)
    if (lengths < LEAST_PIECE_MM).any():
        at = int(np.argmin(lengths)) + 1
        raise ShaftLineError(f"places {at} and {at + 1} of the shaft are the same: give each its own")
    return list(steps / lengths[:, None])


def _turned(before: Floats, after: Floats, along: Floats, angle_before: float, angle: float) -> float:
    """Return how far one plane is turned from another about a direction, degrees; 0 if one has none."""
    if min(angle_before, angle) < _STRAIGHT_DEG:
        return 0.0
    sine = float(np.cross(before, after) @ along)
    return math.degrees(math.atan2(sine, float(before @ after)))
