"""Checks of welds: throat, section of the sheet at the toe, and what softens beside a weld in aluminium."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geometry.materials import Material, material
from geometry.weld_places import WeldPlace
from solver.evaluation import Loaded
from solver.largest import place_of_largest
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.weld_fatigue import rows_beside
from solver.weld_forces import (
    counted_mm,
    joint_words,
    of_welds,
    part_words,
    partner_words,
    segment_wrenches,
    sheet_mm,
    sheet_stresses,
    throat_use,
    whole_wrench,
)
from solver.weld_result import WeldResult
from solver.weld_throat import (
    ALUMINIUM,
    DIRECTIONAL,
    SOFTENED,
    SOFTENED_MM,
    STAINLESS,
    simplified_equivalent_mpa,
    throat_strength_mpa,
)

_ONE_SIDED = (
    "one side alone: bending about its root is taken elastically by the throat, EN 1993-1-8 4.12 asks to"
    " avoid it"
)


def weld_checks(solved: Solved, load: Loaded) -> list[Check]:
    """Return the checks of every weld, then those of aluminium beside them."""
    if not load.structure.welds:
        return []
    wrenches = segment_wrenches(load.structure, load.amounts)
    checks = []
    for place, numbers in of_welds(load.structure):
        # Of a bar thicker than the tables know a finding tells; no strength must not read as a broken weld.
        if min(allowed_mpa(solved, place)) > 0.0:
            checks.append(_throat(solved, load, place, numbers, wrenches))
        checks.append(_section(solved, load, place, numbers, wrenches))
    return checks + _softened(solved, load)


def weld_results(solved: Solved, load: Loaded) -> tuple[WeldResult, ...]:
    """Return what every weld carries in the load case that asks most of its throat."""
    if not load.structure.welds:
        return ()
    wrenches = segment_wrenches(load.structure, load.amounts)
    found = []
    for place, numbers in of_welds(load.structure):
        worst = _worst(solved, load, place, numbers, wrenches)
        whole = whole_wrench(load.structure, numbers, wrenches[:, :, worst.column : worst.column + 1])[:, 0]
        lengths = [counted_mm(load.structure.welds[number]) for number in numbers]
        found.append(
            WeldResult(
                place.weld.name,
                place.weld.plate,
                partner_words(place),
                joint_words(place),
                place.throat_mm,
                float(sum(lengths)),
                whole[:3],
                whole[3:],
                worst.used if min(allowed_mpa(solved, place)) > 0.0 else None,
                worst.segment + 1,
                len(numbers),
                load.columns[worst.column].words,
            )
        )
    return tuple(found)


@dataclass(frozen=True)
class _Worst:
    segment: int
    column: int
    used: float
    stress_mpa: float


def _worst(
    solved: Solved, load: Loaded, place: WeldPlace, numbers: Sequence[int], wrenches: Floats
) -> _Worst:
    allowed = allowed_mpa(solved, place)
    joints = load.structure.welds
    sheet = sheet_mm(load.structure, place)
    both = [throat_use(place, wrenches[n], counted_mm(joints[n]), sheet, allowed) for n in numbers]
    used = np.array([pair[0] for pair in both])
    segment, column = place_of_largest(used)
    return _Worst(segment, column, float(used[segment, column]), float(both[segment][1][column]))


def allowed_mpa(solved: Solved, place: WeldPlace) -> tuple[float, float]:
    """Return what the throat of a weld bears, MPa: equivalent stress, and stress square to the throat.

    That of the weaker of the parts it joins.
    """
    stated = place.weld.metal_tensile_mpa
    pairs = [throat_strength_mpa(metal, t, stated) for metal, t in _parts(solved, place)]
    return min(p[0] for p in pairs), min(p[1] for p in pairs)


def _parts(solved: Solved, place: WeldPlace) -> list[tuple[Material, float]]:
    parts = [(solved.plates[place.plate_index].metal, place.thickness_mm)]
    bar = solved.bracket.dash_bar
    if place.partner_index is not None:
        other = solved.plates[place.partner_index]
        parts.append((other.metal, other.plate.thickness_mm))
    elif place.partner == "dash bar" and bar is not None:
        parts.append((material(bar.material, solved.bracket.materials), bar.section.wall_mm))
    return parts


def _source(solved: Solved, place: WeldPlace) -> str:
    kinds = {metal.kind for metal, _ in _parts(solved, place)}
    if "aluminium" in kinds:
        return ALUMINIUM
    return STAINLESS if "stainless" in kinds else DIRECTIONAL


def _throat(
    solved: Solved, load: Loaded, place: WeldPlace, numbers: Sequence[int], wrenches: Floats
) -> Check:
    worst = _worst(solved, load, place, numbers, wrenches)
    allowed, square = allowed_mpa(solved, place)
    demand = worst.used * allowed
    governed = demand > worst.stress_mpa * (1.0 + 1e-9)
    note = f"stress square to the throat governs, 0.9 fu / gamma_M2 = {square:.0f} MPa" if governed else ""
    if place.weld.sides != "both":
        note = f"{note}; {_ONE_SIDED}" if note else _ONE_SIDED
    figure = _by_hand(load, place, numbers, wrenches, worst.column)
    if abs(demand - figure) > 0.3 * figure:
        why = "by hand the force and moments of the whole weld are spread evenly; here its ends carry more"
        if place.weld.sides != "both":
            why = "by hand nothing bends the throat about its root"
        note = f"{note}; {why}" if note else why
    return Check(
        f"weld {place.weld.name}",
        demand,
        allowed,
        "MPa",
        0.0,
        _source(solved, place),
        part_words(place, worst.segment),
        load.columns[worst.column].words,
        by_hand=figure,
        by_hand_words="whole weld's force and moments spread over its length, sqrt 3 F / a (simplified)",
        note=note,
    )


def _by_hand(load: Loaded, place: WeldPlace, numbers: Sequence[int], wrenches: Floats, column: int) -> float:
    """Return the simplified method's figure for the whole weld: N/L, 6 M/L2, and M/t over two throats."""
    along, out, front, about, twist, bend = whole_wrench(load.structure, numbers, wrenches)[:, column]
    length = sum(counted_mm(load.structure.welds[n]) for n in numbers)
    throats = 2.0 if place.weld.sides == "both" else 1.0
    u = abs(along) / length
    n = abs(out) / length + 6.0 * abs(bend) / length**2
    s = abs(front) / length + 6.0 * abs(twist) / length**2
    pair = abs(about) / length / place.thickness_mm if throats > 1.0 else 0.0
    return float(simplified_equivalent_mpa(u / throats, n / throats + pair, s / throats, place.throat_mm))


def _section(
    solved: Solved, load: Loaded, place: WeldPlace, numbers: Sequence[int], wrenches: Floats
) -> Check:
    """Return the check of the sheet's section at the toe, inside the line that stress is judged on."""
    stresses = []
    sheet = sheet_mm(load.structure, place)
    for number in numbers:
        direct, shear = sheet_stresses(
            place, wrenches[number], load.structure.welds[number].segment.length_mm, sheet
        )
        stresses.append(np.sqrt((direct**2).max(axis=0) + 3.0 * shear**2))
    stress = np.array(stresses)
    part, column = place_of_largest(stress)
    survey = solved.surveys[place.plate_index]
    soft = SOFTENED if survey.plate.metal.kind == "aluminium" else 1.0
    source = "force and moments of the weld's part on the sheet's section; yield over its factor"
    if soft < 1.0:
        source += f", {SOFTENED:g} of it beside a weld (EN 1999-1-1 table 3.2a, from memory, to be verified)"
    return Check(
        f"section at weld {place.weld.name}",
        float(stress[part, column]),
        soft * survey.allowable_mpa,
        "MPa",
        0.0,
        source,
        part_words(place, part),
        load.columns[column].words,
    )


def _softened(solved: Solved, load: Loaded) -> list[Check]:
    """Return the checks of aluminium within reach of a weld's heat, one for each plate."""
    checks = []
    for index, survey in enumerate(solved.surveys):
        if survey.plate.metal.kind != "aluminium" or not survey.welds:
            continue
        rows = rows_beside(survey, SOFTENED_MM)
        if not len(rows):
            continue
        picked = (6 * rows[:, None] + np.arange(6)).ravel()
        stress = survey.at(picked, load.amounts[index])
        row, column = place_of_largest(stress)
        checks.append(
            Check(
                f"softened beside welds, {survey.plate.plate.name}",
                float(stress[row, column]),
                SOFTENED * survey.allowable_mpa,
                "MPa",
                0.0,
                f"{SOFTENED:g} of the yield over its factor, within {SOFTENED_MM:g} mm of a weld (EN 1999-1-1"
                " 6.1.6 and table 3.2a, from memory, to be verified)",
                survey.where(int(rows[row])),
                load.columns[column].words,
            )
        )
    return checks
