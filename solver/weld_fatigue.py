"""What swings in and beside welds: toe, root and shear of the throat.

Welding leaves tension, so the whole range counts, whatever part of it compresses (EN 1993-1-9 7.2.1). Details
and categories are those of EN 1993-1-9 tables 8.4 and 8.5 (from memory, to be verified).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from solver.rigid import Floats
from solver.stress_survey import StressSurvey
from solver.structure import Structure
from solver.swinging import KEPT_PULLED, Swinging
from solver.weld_forces import (
    counted_mm,
    of_welds,
    part_words,
    segment_wrenches,
    sheet_mm,
    sheet_stresses,
    throat_cases,
)

TOE: Final = 71.0
"""Toe of a fillet weld, on the stress in the sheet beside it. Table 8.5 has 80 for a tee whose attachment is
up to 50 mm long; one step lower is taken, for the sheet may stand off line and no hot spot is sought."""
ROOT: Final = 36.0
"""Root of a fillet weld, on the force over the throat, table 8.5 detail 3 (36*)."""
SHEAR: Final = 80.0
"""Shear along the throat, table 8.5 detail 8, of slope 5."""
BESIDE: Final = 2.0
"""How far beyond the judged line a place of a plate counts as beside a weld, in thicknesses."""


def of_weld_segments(structure: Structure, amounts: Sequence[Floats], words: str) -> Iterator[Swinging]:
    """Yield toe, root and shear of every weld of steel; `amounts` are for 1 N.m and at rest (6 b + 3, 2)."""
    if not structure.welds:
        return
    wrenches = segment_wrenches(structure, amounts)[:, :, :1]
    for place, numbers in of_welds(structure):
        if structure.plates[place.plate_index].metal.kind != "steel":
            continue
        name, toe, root, shear = place.weld.name, [], [], []
        sheet = sheet_mm(structure, place)
        for number in numbers:
            joint = structure.welds[number]
            direct, _ = sheet_stresses(place, wrenches[number], joint.segment.length_mm, sheet)
            toe.append(np.abs(direct[:, 0]).max())
            cases = throat_cases(place, wrenches[number], counted_mm(joint), sheet)
            # What acts along the weld is added to what acts across: harder than apart, at most lives.
            root.append(max(float(np.sqrt(s[0] ** 2 + p[0] ** 2 + u[0] ** 2)) for s, p, u in cases))
            shear.append(max(abs(float(u[0])) for _, _, u in cases))
        where = tuple(part_words(place, i) for i in range(len(numbers)))
        mean = np.full(len(numbers), KEPT_PULLED)
        yield Swinging(f"fatigue at the toe of weld {name}", TOE, np.array(toe), mean, where, words)
        yield Swinging(f"fatigue at the root of weld {name}", ROOT, np.array(root), mean, where, words)
        yield Swinging(
            f"fatigue in shear of weld {name}", SHEAR, np.array(shear), mean, where, words, shear=True
        )


def rows_beside(survey: StressSurvey, beyond_mm: float) -> np.ndarray:
    """Return the numbers of a survey's places within a distance of the toe of any weld."""
    flat = survey.plate.mesh.flat_points[survey.nodes, :2]
    near = np.zeros(len(flat), dtype=bool)
    for mark in survey.welds:
        near |= mark.beyond_toe_mm(flat) <= beyond_mm
    return np.flatnonzero(near)
