"""All checks of a solved bracket at one couple, with what slides where friction does not hold."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geometry.wanted import still_wanted
from solver.bolt_checks import bolt_checks, slip_is_asked
from solver.connections import forces_from_local, slip_used
from solver.errors import SolverError
from solver.evaluation import Loaded, drives, loaded
from solver.fatigue import fatigue_checks
from solver.free_motions import null_motions
from solver.largest import place_of_largest
from solver.movement_checks import judged_movements_mm, movement_checks
from solver.plate_checks import bar_checks, judged_stress_mpa, plate_checks, section_checks
from solver.results import Check
from solver.rigid import Floats
from solver.sliding import MOVED_MM, sliding
from solver.solved import Solved
from solver.weld_checks import weld_checks


@dataclass(frozen=True)
class Checked:
    """Every check, and the load that gave it."""

    checks: tuple[Check, ...]
    load: Loaded
    """Every state's columns; those that slide come last."""
    slip: Floats
    """(connections, columns) slip use; nan where a column is not stuck or friction is not known."""
    slid: frozenset[str]
    """Bolts that slide in any load case."""
    moved_mm: Floats
    """(columns but those that slide,) largest movement without lash; 0 where a column's is not judged."""
    stress_mpa: tuple[Floats, ...]
    """For each plate the largest judged stress in every column, MPa; empty where none was looked at."""
    slipping: bool
    """Whether any connection slips: only then does it matter whether what slides was asked for."""


def check_all(solved: Solved, couple_nm: float, *, slide: bool = True) -> Checked:
    """Return every check at a couple; strength in every state, the worse governs.

    Without `slide` what slides where friction does not hold is left out, and lash with it.
    """
    return _checked(solved, couple_nm, stress=True, slide=slide)


def check_quickly(solved: Solved, couple_nm: float) -> Checked:
    """Return every check that needs no stress field, and none of the sliding: for an answer at once."""
    return _checked(solved, couple_nm, stress=False, slide=True)


def _checked(solved: Solved, couple_nm: float, *, stress: bool, slide: bool) -> Checked:
    still_wanted()
    load = loaded(solved.states, solved.cases, couple_nm)
    slip = slip_used(load.forces, solved.bolts, solved.bracket.limits.slip_factor)
    slip = np.where(slip_is_asked(solved, load), slip, np.nan)
    slipping = bool(np.any(slip > 1.0)) or bool(solved.slipped)
    moved: frozenset[str] = solved.slipped
    whole = load
    known = all(b.preload_low_n is not None and b.friction is not None for b in solved.bolts.values())
    checks: list[Check] = []
    most: tuple[Floats, ...] = ()
    if stress:
        if slide and slipping and known:
            whole, moved = _with_sliding(solved, load, slip, couple_nm)
        most = judged_stress_mpa(solved, whole)
        still_wanted()
        checks += plate_checks(solved, whole, couple_nm, most)
        still_wanted()
        checks += fatigue_checks(solved, couple_nm)
    else:
        checks += bar_checks(solved, load)
        for index in range(len(solved.plates)):
            checks += section_checks(solved, load, index)
    still_wanted()
    checks += bolt_checks(solved, whole)
    checks += weld_checks(solved, whole)
    lash = solved.lash_deg / 2.0 if slipping and slide else 0.0
    moved_mm = judged_movements_mm(solved, load)
    checks += movement_checks(solved, load, lash, _first_to_slip(load, slip), moved_mm)
    return Checked(tuple(checks), whole, slip, moved, moved_mm[0], most, slipping)


def check_without_factor(solved: Solved, couple_nm: float, listed_times: float = 1.0) -> tuple[Check, ...]:
    """Return those checks that look at the couple as measured, not times its factor; none of the sliding.

    What a spectrum of reversals lists is taken times `listed_times`.
    """
    load = loaded(solved.states, solved.cases, couple_nm)
    return (*fatigue_checks(solved, couple_nm, listed_times), *movement_checks(solved, load, 0.0))


def _first_to_slip(load: Loaded, slip: Floats) -> str:
    """Return the bolt and the load case with the largest slip use, in words."""
    if not slip.size or np.all(np.isnan(slip)):
        return ""
    row, column = place_of_largest(np.where(np.isnan(slip), -np.inf, slip))
    return f"bolt {load.forces.bolts[row]} slips under {load.columns[column].case.name}"


def _with_sliding(
    solved: Solved, load: Loaded, slip: Floats, couple_nm: float
) -> tuple[Loaded, frozenset[str]]:
    """Return the load with its sliding columns, and the bolts that slide.

    There is one such column for every case in which some connection slips and something ends the sliding.
    """
    whole, moved = load, set()
    basis = null_motions(solved.linkage)
    for state in solved.states:
        if state.taken != "stuck":
            continue
        columns = [
            i
            for i, c in enumerate(load.columns)
            if c.taken == "stuck" and c.high == state.high and np.any(slip[:, i] > 1.0)
        ]
        for i in columns:
            still_wanted()
            case = load.columns[i].case
            try:
                extra, slid = sliding(solved, state, [case], couple_nm)
            except SolverError:
                # Where friction fails along a free motion nothing ends the sliding: no state to check,
                # and the free motion fails the bracket by itself.
                if not drives(solved.linkage, solved.plates, case, basis):
                    raise
                moved |= {
                    bolt for bolt, used in zip(load.forces.bolts, slip[:, i], strict=True) if used > 1.0
                }
                continue
            whole = _joined(whole, extra)
            moved |= {
                bolt for bolt, row in zip(extra.forces.bolts, slid, strict=True) if row.max() > MOVED_MM
            }
    return whole, frozenset(moved)


def _joined(first: Loaded, second: Loaded) -> Loaded:
    structure = first.structure
    local = np.concatenate([first.forces.local, second.forces.local], axis=2)
    return Loaded(
        first.columns + second.columns,
        forces_from_local(structure, local),
        tuple(np.hstack(pair) for pair in zip(first.amounts, second.amounts, strict=True)),
        np.hstack([first.casing, second.casing]),
        np.hstack([first.bar, second.bar]),
        structure,
        first.by_state,
    )
