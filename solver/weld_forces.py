"""What every segment of every weld carries, and the line forces and section stresses that makes.

A segment's force and moment are those on the welded plate, about the segment's middle, in the weld's frame:
along it, out of the cut face, toward the sheet's front.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np

from geometry.weld_places import WeldPlace
from solver.rigid import Floats
from solver.structure import Structure, WeldJoint
from solver.weld_throat import equivalent_mpa, on_throat


def partner_words(place: WeldPlace) -> str:
    """Return what a weld leads to, in words."""
    if place.partner == "dash bar":
        return place.partner_name
    return _called(place.partner, place.partner_name)


def joint_words(place: WeldPlace) -> str:
    """Return what a weld joins, in words, such as `casing plate to foot plate`."""
    return f"{_called('plate', place.weld.plate)} to {partner_words(place)}"


def _called(kind: str, name: str) -> str:
    whole = name.casefold()
    return name if whole.startswith(kind) or whole.endswith(f" {kind}") else f"{kind} {name}"


def part_words(place: WeldPlace, number: int) -> str:
    """Return one part of a weld in words, counted from nought."""
    return f"part {number + 1} of {len(place.segments)}, {joint_words(place)}"


def segment_wrenches(structure: Structure, amounts: Sequence[Floats]) -> Floats:
    """Return (segments, 6, columns) what each segment puts on its plate, in the weld's frame.

    `amounts` per plate (6 b + 3, columns); linear in them. In the order of structure.welds.
    """
    rows = []
    for joint in structure.welds:
        plate = structure.plates[joint.plate]
        own = slice(6 * joint.body, 6 * joint.body + 6)
        bodies, gravities = amounts[joint.plate][:-3], amounts[joint.plate][-3:]
        wrench = plate.stiffness[own] @ bodies - plate.weight_wrench[own] @ gravities
        frame = joint.segment.place.frame
        rows.append(np.vstack([frame.T @ wrench[:3], frame.T @ wrench[3:]]))
    columns = amounts[0].shape[1] if amounts else 0
    return np.array(rows).reshape(len(rows), 6, columns)


def of_welds(structure: Structure) -> list[tuple[WeldPlace, list[int]]]:
    """Return each weld with the numbers of its segments in structure.welds."""
    found: dict[str, tuple[WeldPlace, list[int]]] = {}
    for number, joint in enumerate(structure.welds):
        place = joint.segment.place
        found.setdefault(place.weld.name, (place, []))[1].append(number)
    return list(found.values())


def counted_mm(joint: WeldJoint) -> float:
    """Return the length of a segment that counts: the weld's ends are not full, unless it says so."""
    segment = joint.segment
    ends = int(segment.number == 0) + int(segment.number == segment.count - 1)
    less = 0.0 if segment.place.weld.full_at_ends else ends * segment.place.throat_mm
    return max(segment.length_mm - less, 0.1 * segment.length_mm)


def sheet_mm(structure: Structure, place: WeldPlace) -> float:
    """Return how thick the welded sheet is as it was solved: the study of thinner sheets changes it."""
    return structure.plates[place.plate_index].mesh.thickness_mm


def whole_wrench(structure: Structure, numbers: Sequence[int], wrenches: Floats) -> Floats:
    """Return the (6, columns) force and moment of a whole weld about its own middle."""
    place = structure.welds[numbers[0]].segment.place
    middle = place.ends_mm.mean(axis=0)
    total = np.zeros(wrenches.shape[1:])
    for number in numbers:
        arm = place.frame.T @ (structure.welds[number].segment.at_mm - middle)
        total += wrenches[number]
        total[3:] += np.cross(arm, wrenches[number, :3].T).T
    return total


def throat_cases(
    place: WeldPlace, wrench: Floats, length_mm: float, sheet: float
) -> list[tuple[Floats, Floats, Floats]]:
    """Return sigma_perp, tau_perp and tau_par (columns,) at every place of a stretch's throats, MPa.

    The force is spread evenly, the two moments across the weld linearly over its length, and the moment about
    its line is a pair of forces in the roots at the faces of a sheet so many mm thick. A weld on one side
    alone takes that moment about its root, with what its distance from the sheet's middle adds, in bending of
    its throat (a2/6).
    """
    u, n, s = (wrench[i] / length_mm for i in range(3))
    about = wrench[3] / length_mm
    rise_n, rise_s = 6.0 * wrench[5] / length_mm**2, 6.0 * wrench[4] / length_mm**2
    a, t = place.throat_mm, sheet
    found = []
    for end_n, end_s in product((1.0, -1.0), repeat=2):
        if place.weld.sides == "both":
            for at_front in (True, False):
                pair = -about / t if at_front else about / t
                out, across = 0.5 * (n + end_n * rise_n) + pair, 0.5 * (s + end_s * rise_s)
                found.append(on_throat(0.5 * u, out, across, a, at_front=at_front))
            continue
        at_front = place.weld.sides == "front"
        square, shear, along = on_throat(u, n + end_n * rise_n, s + end_s * rise_s, a, at_front=at_front)
        root = about + (n if at_front else -n) * t / 2.0
        for sign in (1.0, -1.0):
            found.append((square + sign * 6.0 * root / a**2, shear, along))
    return found


def throat_use(
    place: WeldPlace, wrench: Floats, length_mm: float, sheet: float, allowed: tuple[float, float]
) -> tuple[Floats, Floats]:
    """Return the (columns,) larger use of a stretch's throats and the equivalent stress, MPa.

    `allowed` holds the equivalent stress and the stress square to the throat.
    """
    cases = throat_cases(place, wrench, length_mm, sheet)
    stress = np.max([equivalent_mpa(*case) for case in cases], axis=0)
    square = np.max([np.abs(case[0]) for case in cases], axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        used = np.maximum(stress / allowed[0], square / allowed[1])
    return np.asarray(used), np.asarray(stress)


def sheet_stresses(place: WeldPlace, wrench: Floats, length_mm: float, sheet: float) -> tuple[Floats, Floats]:
    """Return (kinds, columns) direct stress square to the weld in the sheet, and its (columns,) shear, MPa.

    Beside a stretch: mean, bending through the thickness at the root and at the toe, and across the length,
    with every sign; linear in the wrench but for the shear.
    """
    t = sheet
    mean = wrench[1] / (t * length_mm)
    across = 6.0 * wrench[5] / (t * length_mm**2)
    kinds = []
    for arm in (0.0, place.leg_mm, -place.leg_mm):
        through = 6.0 * (wrench[3] + arm * wrench[2]) / (t**2 * length_mm)
        kinds += [mean + i * through + j * across for i, j in product((1.0, -1.0), repeat=2)]
    shear = np.hypot(wrench[0], wrench[2]) / (t * length_mm)
    return np.array(kinds), np.asarray(shear)
