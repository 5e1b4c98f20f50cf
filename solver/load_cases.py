"""What the bracket has to hold, as load cases on the casing.

Every case is linear in nine unit loads: a force along X, Y, Z on the casing at its reference point (N), a
moment about X, Y, Z (N.mm), and the plates' own weight along X, Y, Z (in multiples of it). The couple's part
is kept apart from the rest, so that the couple alone can be raised.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from geometry.bracket import Bracket
from geometry.casing import ShaftJoint
from geometry.casing_in_space import casing_to_space
from geometry.shaft_line import ShaftLineError, joints_on_casing
from solver.other_loads import other_loads
from solver.rigid import Floats, pulled_at
from solver.side_couple import side_couple_corners

UNIT_LOADS = 9
STANDARD_GRAVITY_MM_S2 = 9806.65
"""ISO 80000-3; mass in kg times this over 1000 is a force in N."""
NMM_PER_NM = 1000.0
RIM_SIDES: Final = {"right": (1.0, 0.0), "left": (-1.0, 0.0), "top": (0.0, 1.0), "bottom": (0.0, -1.0)}
"""Where on the wheel's rim a hand pulls along the shaft, in its radius."""
_PULLS: Final = (
    ("right", "wheel along X", (1.0, 0.0, 0.0), (0.0, 0.0)),
    ("left", "wheel along -X", (-1.0, 0.0, 0.0), (0.0, 0.0)),
    ("up", "wheel along Y", (0.0, 1.0, 0.0), (0.0, 0.0)),
    ("down", "wheel along -Y", (0.0, -1.0, 0.0), (0.0, 0.0)),
    *(
        (f"{word} at {side}", f"wheel's rim along {axis}, at its {side}", (0.0, 0.0, way), at)
        for word, axis, way in (("out", "Z", 1.0), ("in", "-Z", -1.0))
        for side, at in RIM_SIDES.items()
    ),
)
"""Name, words, direction, and where on the rim, in its radius; common practice, no source."""


@dataclass(frozen=True)
class LoadCase:
    """One load case."""

    name: str
    words: str
    per_couple: Floats
    """(9,) unit loads for 1 N.m of couple, the factor included."""
    rest: Floats
    """(9,) unit loads that do not grow with the couple."""
    kind: str
    """`couple`, `pull`, `weight`, `shaft joint`, `extra`, `other` or `as measured`."""

    def coefficients(self, couple_nm: float) -> Floats:
        """Return the (9,) unit loads at that couple."""
        return couple_nm * self.per_couple + self.rest


def weight_n(mass_kg: float) -> float:
    """Return the weight of a mass under one standard gravity, in N."""
    return mass_kg * STANDARD_GRAVITY_MM_S2 / 1000.0


def down(bracket: Bracket) -> Floats:
    """Return the unit vector of gravity; a blank rake is taken as level and is a finding elsewhere."""
    rake = np.radians(bracket.rake_deg or 0.0)
    return np.array([0.0, -np.cos(rake), -np.sin(rake)])


def casing_reference(bracket: Bracket) -> Floats:
    """Return the point in space that the casing's wrenches and motions are about.

    On the shaft axis at its station.
    """
    station = bracket.casing.station_mm if bracket.casing is not None else 0.0
    return np.array([0.0, 0.0, station])


def weight_load(bracket: Bracket, gravities: ArrayLike) -> Floats:
    """Return the (9,) unit loads of the weight of casing and plates, `gravities` (3,) in units of gravity."""
    if bracket.casing is None:
        raise ValueError("there is no casing: add one")
    along = np.asarray(gravities, dtype=float)
    at = casing_to_space(bracket.casing, bracket.casing.mass_centre_mm)
    wrench = pulled_at(weight_n(bracket.casing.mass_kg) * along, at, casing_reference(bracket))
    return np.concatenate([wrench, along])


def load_cases(bracket: Bracket) -> tuple[LoadCase, ...]:
    """Return every load case of the bracket, in a fixed order.

    Raises ValueError if there is no casing. A missing wheel leaves out the pulls; that is a finding
    elsewhere.
    """
    weight = weight_load(bracket, down(bracket))
    turning = np.zeros(UNIT_LOADS)
    turning[5] = NMM_PER_NM * bracket.loads.couple_factor
    cases = [
        LoadCase("couple +", "couple from X toward Y, with weight", turning, weight, "couple"),
        LoadCase("couple -", "couple from Y toward X, with weight", -turning, weight, "couple"),
    ]
    cases += _pulls(bracket, turning, weight)
    cases += _weights(bracket)
    cases += _shaft_joints(bracket, turning, weight)
    cases += _extra(bracket, weight)
    cases += _other(bracket, weight)
    return tuple(cases)


def couple_as_measured() -> LoadCase:
    """Return the couple alone, without factor or weight: what the eye would see move."""
    turning = np.zeros(UNIT_LOADS)
    turning[5] = NMM_PER_NM
    return LoadCase(
        "couple as measured", "couple alone, without factor", turning, np.zeros(UNIT_LOADS), "as measured"
    )


def _pulls(bracket: Bracket, turning: Floats, weight: Floats) -> list[LoadCase]:
    """Return the couple with each pull at the wheel.

    Across the shaft at its axis, for what a pull at the rim turns goes down the shaft. Along the shaft at the
    rim, the only place a hand has: leaning there bends the column too.
    """
    if bracket.wheel is None or bracket.loads.pull_n == 0.0:
        return []
    reference, radius = casing_reference(bracket), bracket.wheel.diameter_mm / 2.0
    cases = []
    for word, axis, way, rim in _PULLS:
        at = np.array([radius * rim[0], radius * rim[1], bracket.wheel.station_mm])
        pull = np.concatenate([pulled_at(bracket.loads.pull_n * np.array(way), at, reference), np.zeros(3)])
        for sign, sense in ((1.0, "+"), (-1.0, "-")):
            words = f"couple {sense} with weight and a pull of {bracket.loads.pull_n:g} N at the {axis}"
            cases.append(
                LoadCase(f"couple {sense}, pull {word}", words, sign * turning, weight + pull, "pull")
            )
    return cases


def _weights(bracket: Bracket) -> list[LoadCase]:
    gravities = bracket.loads.weight_g
    if gravities == 0.0:
        return []
    cases = []
    for index, axis in enumerate("XYZ"):
        for sign, sense in ((1.0, ""), (-1.0, "-")):
            along = np.zeros(3)
            along[index] = sign * gravities
            name = f"weight {gravities:g} g {sense}{axis}"
            words = f"weight of casing and plates x {gravities:g} along {sense}{axis}"
            cases.append(LoadCase(name, words, np.zeros(UNIT_LOADS), weight_load(bracket, along), "weight"))
    return cases


def _shaft_joints(bracket: Bracket, turning: Floats, weight: Floats) -> list[LoadCase]:
    """Return the cases of shaft joints: what all of them together put across the shaft.

    The T of their side couple is what the shaft carries: where torque meters were read, the larger of theirs,
    of which the casing has the difference alone.
    """
    bent = [joint for joint in _joints(bracket) if joint.angle_deg > 0.0]
    if not bent:
        return []
    carried = abs(turning[5]) * bracket.loads.shaft_share
    names = " and ".join(joint.name for joint in bent)
    called = f"shaft joint{'s' if len(bent) > 1 else ''} {names}"
    angles = " and ".join(f"{joint.angle_deg:g}" for joint in bent)
    cases = []
    corners = side_couple_corners([(joint.angle_deg, joint.plane_deg) for joint in bent])
    for sign, sense in ((1.0, "+"), (-1.0, "-")):
        for number, corner in enumerate(corners, 1):
            across = np.zeros(UNIT_LOADS)
            across[3:5] = carried * corner
            about = round(math.degrees(math.atan2(corner[1], corner[0]))) % 360
            cases.append(
                LoadCase(
                    f"couple {sense}, {called} way {number}",
                    f"couple {sense} with weight and the side couple of {called} at {angles} deg, about an"
                    f" axis {about} deg from X",
                    sign * turning + across,
                    weight,
                    "shaft joint",
                )
            )
    return cases


def _joints(bracket: Bracket) -> list[ShaftJoint]:
    """Return the joints on the casing's shaft, typed or measured; of one that is both, what is bent more."""
    typed, measured = bracket.shaft_joints, _measured_joints(bracket)
    by_name = {joint.name: joint.angle_deg for joint in typed}
    found = [joint for joint in measured if joint.angle_deg > by_name.get(joint.name, -1.0)]
    bent_more = {joint.name for joint in found}
    return [*(joint for joint in typed if joint.name not in bent_more), *found]


def _measured_joints(bracket: Bracket) -> tuple[ShaftJoint, ...]:
    """Return joints on the casing's shaft that come from measured places."""
    line, casing = bracket.installation.shaft, bracket.casing
    if line is None or casing is None:
        return ()
    try:
        return joints_on_casing(line, casing.station_mm)
    except ShaftLineError:
        return ()  # said around the bracket


def _extra(bracket: Bracket, weight: Floats) -> list[LoadCase]:
    cases = []
    for extra in bracket.loads.extra:
        load = np.concatenate([pulled_at(extra.force_n, extra.at_mm, casing_reference(bracket)), np.zeros(3)])
        load[5] += NMM_PER_NM * extra.couple_nm
        for sign, word in ((1.0, "as listed"), (-1.0, "reversed")):
            name = f"{extra.name}, {word}"
            cases.append(
                LoadCase(name, f"{name}, with weight", np.zeros(UNIT_LOADS), weight + sign * load, "extra")
            )
    return cases


def _other(bracket: Bracket, weight: Floats) -> list[LoadCase]:
    """Return the other loads that reach the casing, as couples that do not grow with its own."""
    cases = []
    for load in other_loads(bracket):
        if load.couple_nm is None:
            continue
        turning = np.zeros(UNIT_LOADS)
        turning[5] = NMM_PER_NM * load.couple_nm
        for sign, sense in ((1.0, "+"), (-1.0, "-")):
            name = f"{load.name} {sense}"
            words = f"{load.name}, {load.couple_nm:.3g} N.m {sense} on the casing, with weight"
            cases.append(LoadCase(name, words, np.zeros(UNIT_LOADS), weight + sign * turning, "other"))
    return cases
