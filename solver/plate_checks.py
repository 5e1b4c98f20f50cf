"""Checks of plates and dash bar.

Stress outside the judged circles, at sharp inside corners, on net sections, in the bar.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from geometry.fixing import DashBar
from geometry.materials import material
from solver.bar_welds import softened_bar
from solver.dash_bar import BarModel, stresses_of_mpa
from solver.evaluation import Loaded, loaded
from solver.largest import first_of_largest, largest_of, place_of_largest
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.stress_survey import CORNER_RISE

_SHARP = "no radius here"
_BARELY = "only without the factor on the couple is it within its allowable; no radius here"
_YIELD = "yield over its factor, von Mises"


def plate_checks(
    solved: Solved, load: Loaded, couple_nm: float, most_mpa: Sequence[Floats] | None = None
) -> list[Check]:
    """Return the checks of every plate, then of the dash bar, under the `load` that the couple makes.

    `most_mpa` is what `judged_stress_mpa` says of the load, where it is known already.
    """
    most = judged_stress_mpa(solved, load) if most_mpa is None else most_mpa
    unfactored = load
    if any(survey.corners for survey in solved.surveys):
        # The couple without its factor, as much larger as its source leaves open.
        unfactored = loaded(solved.states, solved.cases, couple_nm / solved.bracket.loads.factor_left)
    checks = []
    for index in range(len(solved.plates)):
        checks += _stress(solved, load, index, most[index])
        checks += _corners(solved, load, unfactored, index)
        checks += section_checks(solved, load, index)
    return checks + bar_checks(solved, load)


def judged_stress_mpa(solved: Solved, load: Loaded) -> tuple[Floats, ...]:
    """Return for each plate the largest judged stress in every column (columns,), MPa."""
    pairs = zip(solved.surveys, load.amounts, strict=True)
    return tuple(survey.most_mpa(amounts) for survey, amounts in pairs)


def _stress(solved: Solved, load: Loaded, index: int, most_mpa: Floats) -> list[Check]:
    survey, amounts = solved.surveys[index], load.amounts[index]
    if not len(survey.nodes):
        return []
    column = first_of_largest(most_mpa)
    stress = survey.von_mises(amounts[:, [column]])[:, 0]
    row = first_of_largest(stress)
    return [
        Check(
            f"stress, {survey.plate.plate.name}",
            float(stress[row]),
            survey.allowable_mpa,
            "MPa",
            0.0,
            f"{_YIELD}; {survey.plate.metal.strength_source}",
            survey.where(row),
            load.columns[column].words,
        )
    ]


def _corners(solved: Solved, load: Loaded, unfactored: Loaded, index: int) -> list[Check]:
    survey, amounts = solved.surveys[index], load.amounts[index]
    found: list[Check] = []
    bare = 0.0
    for corner in survey.corners:
        if not len(corner.rows):
            continue
        picked = (6 * corner.rows[:, None] + np.arange(6)).ravel()
        stress = CORNER_RISE * survey.at(picked, amounts)
        bare = max(bare, CORNER_RISE * float(survey.at(picked, unfactored.amounts[index]).max()))
        row, column = place_of_largest(stress)
        x, y = corner.flat_mm
        check = Check(
            f"inside corner, {survey.plate.plate.name}",
            float(stress[row, column]),
            survey.allowable_mpa,
            "MPa",
            0.0,
            "stress beyond t/2 x 2.2 for an as-cut radius of t/6 (own calculation)",
            f"{survey.plate.plate.name}, sharp corner at ({x:.0f}, {y:.0f})",
            load.columns[column].words,
            note=_SHARP,
        )
        found.append(check)
    if not found:
        return []
    return [of_its_kind(replace(largest_of(found, lambda c: c.used), without_factor=bare))]


def of_its_kind(check: Check) -> Check:
    """Return a check of a sharp inside corner as its band makes it; any other as it is.

    Within the allowable with the factor, as usual. Only without it, marginal; else a fail. Both are looked at
    with the band, so it is asked anew once that is known.
    """
    if check.without_factor is None:
        return check
    bare = check.without_factor * (1.0 + check.band)
    barely = bare <= check.allowable and check.used_upper > 1.0
    return replace(check, kind="share" if barely else "strength", note=_BARELY if barely else _SHARP)


def section_checks(solved: Solved, load: Loaded, index: int) -> list[Check]:
    """Return the worst net section of one plate."""
    survey, amounts = solved.surveys[index], load.amounts[index]
    found: list[Check] = []
    for section in solved.sections:
        if section.plate != index or section.bolt in solved.out:
            continue
        stress = section.stress_mpa(amounts)
        column = first_of_largest(stress)
        found.append(
            Check(
                f"net section, {survey.plate.plate.name}",
                float(stress[column]),
                survey.allowable_mpa,
                "MPa",
                0.0,
                "force and moments on the section from hole to edge; yield over its factor",
                section.words,
                load.columns[column].words,
            )
        )
    return [largest_of(found, lambda c: c.demand)] if found else []


def bar_checks(solved: Solved, load: Loaded) -> list[Check]:
    """Return the stress checks of the dash bar; none without one, or where the bar is taken as immovable."""
    bar = solved.bracket.dash_bar
    model = load.structure.bar
    if bar is None or model is None:
        return []
    stresses = load.bar_stress_mpa
    stretch, column = place_of_largest(stresses)
    metal = material(bar.material, solved.bracket.materials)
    strength = metal.yield_mpa(bar.section.wall_mm)
    if strength is None:
        return []
    start, end = model.stations_mm[stretch], model.stations_mm[stretch + 1]
    return [
        Check(
            "dash bar",
            float(stresses[stretch, column]),
            strength / solved.bracket.limits.yield_factor,
            "MPa",
            0.0,
            f"beam theory (Timoshenko), {_YIELD}; {metal.strength_source}",
            f"{bar.name}, between {start:.0f} and {end:.0f} mm from its start",
            load.columns[column].words,
        ),
        *_bar_at_holes(solved, load, bar, model, strength / solved.bracket.limits.yield_factor),
        *softened_bar(solved, load),
    ]


def _bar_at_holes(
    solved: Solved, load: Loaded, bar: DashBar, model: BarModel, allowable_mpa: float
) -> list[Check]:
    """Return the check of the section through the worst of the bolts' holes; none where none goes through."""
    nets = solved.bar_nets
    if not nets:
        return []
    stresses = stresses_of_mpa(model, load.bar, [(net.node, net.section) for net in nets])
    row, column = place_of_largest(stresses)
    return [
        Check(
            "dash bar at holes",
            float(stresses[row, column]),
            allowable_mpa,
            "MPa",
            0.0,
            f"beam theory without the bolt's hole, as wide as the plate's; {_YIELD}",
            f"{bar.name}, through the hole of bolt {nets[row].bolt}",
            load.columns[column].words,
        )
    ]
