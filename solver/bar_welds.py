"""Where the dash bar is welded: what swings there and along the rest of it, and what softens in aluminium.

Nobody says how a stay or an end of a stated stiffness is joined to the bar: both are taken as welded. What is
welded leaves tension behind, so that the whole swing counts. Holes are not taken off the section, hence lower
categories than their own where there are any. Categories are those of EN 1993-1-9 (from memory, to be
verified).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from geometry.bracket import Bracket
from geometry.fixing import DashBar
from geometry.materials import material
from solver.dash_bar import BarModel, bar_direction, node_stress_mpa, station_along_mm, stress_near_mpa
from solver.evaluation import Loaded
from solver.largest import place_of_largest
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.structure import Structure
from solver.swinging import KEPT_PULLED, Swinging
from solver.weld_throat import SOFTENED, SOFTENED_MM

AT_END: Final = 36.0
"""A hollow section with a fillet weld all round to a plate across it: table 8.6, rectangular ones."""
ONTO_BAR: Final = 56.0
"""Something longer than 100 mm welded onto a member along it: table 8.4."""
BOLTED: Final = 71.0
"""A plate with holes has 90 on its net section, table 8.1; two steps lower, for the holes are not taken off
the bar's section."""
_WELDED_ENDS: Final = frozenset({"welded", "bolted flange", "stiffness"})


def of_dash_bar(bracket: Bracket, structure: Structure, nodes: Floats, words: str) -> Iterator[Swinging]:
    """Yield what swings in a dash bar of steel; `nodes` (6 m, 1) are its motions for 1 N.m of the couple."""
    bar, model = bracket.dash_bar, structure.bar
    if bar is None or model is None or material(bar.material, bracket.materials).kind != "steel":
        return
    stress = node_stress_mpa(model, nodes)[:, 0]
    welded = _welded_ends(bar, model)
    at_ends = np.array([at in welded for at in model.stations_mm])
    onto = np.zeros(len(stress), dtype=bool)
    for at, _ in _onto_bar(bar, structure):
        onto[model.node_at(at)] = True
    rest = ~at_ends & ~onto
    for category, mask, what in (
        (AT_END, at_ends, "where its end is welded"),
        (ONTO_BAR, onto & ~at_ends, "where something is welded to it"),
        (BOLTED, rest, "away from welds"),
    ):
        swing = stress[mask]
        where = tuple(
            f"{bar.name}, {at:.0f} mm from its start, {what}" for at in model.stations_mm[mask].tolist()
        )
        if len(swing):
            pulled = np.full(len(swing), KEPT_PULLED)
            yield Swinging("fatigue of dash bar", category, swing, pulled, where, words)


def softened_bar(solved: Solved, load: Loaded) -> list[Check]:
    """Return the check of a dash bar of aluminium within reach of its welds' heat; none without any."""
    bar, structure = solved.bracket.dash_bar, load.structure
    model = structure.bar
    if bar is None or model is None:
        return []
    metal = material(bar.material, solved.bracket.materials)
    strength = metal.yield_mpa(bar.section.wall_mm)
    if metal.kind != "aluminium" or strength is None:
        return []
    welds = [*((at, 0.0) for at in sorted(_welded_ends(bar, model))), *_onto_bar(bar, structure)]
    stresses = [stress_near_mpa(model, load.bar, at, half + SOFTENED_MM) for at, half in welds]
    if not stresses:
        return []
    weld, column = place_of_largest(stresses)
    return [
        Check(
            "softened dash bar",
            float(stresses[weld][column]),
            SOFTENED * strength / solved.bracket.limits.yield_factor,
            "MPa",
            0.0,
            f"beam theory (Timoshenko), {SOFTENED:g} of the yield over its factor, within {SOFTENED_MM:g} mm"
            " of a weld (EN 1999-1-1 6.1.6 and table 3.2a, from memory, to be verified)",
            f"{bar.name}, by the weld {welds[weld][0]:.0f} mm from its start",
            load.columns[column].words,
        )
    ]


def _welded_ends(bar: DashBar, model: BarModel) -> set[float]:
    """Return the stations of the ends that are welded or may be."""
    ends = zip(bar.ends, (model.stations_mm[0], model.stations_mm[-1]), strict=True)
    return {float(at) for end, at in ends if end.kind in _WELDED_ENDS}


def _onto_bar(bar: DashBar, structure: Structure) -> list[tuple[float, float]]:
    """Return station and half the length along the bar of all that is welded to it between its ends."""
    along = bar_direction(bar)
    found = [(stay.station_mm, 0.0) for stay in bar.stays]
    for joint in structure.welds:
        segment = joint.segment
        if segment.place.partner == "dash bar":
            half = 0.5 * segment.length_mm * abs(float(segment.place.frame[:, 0] @ along))
            found.append((station_along_mm(bar, segment.at_mm), half))
    return found
