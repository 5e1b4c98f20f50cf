"""The couple, all else unchanged, at which the first check reaches 100 %."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from scipy.optimize import brentq

from geometry.bracket import Bracket
from solver.bolt_checks import bolt_checks
from solver.evaluation import Loaded, loaded
from solver.fatigue import fatigue_checks
from solver.frequency import NAME as FREQUENCY
from solver.movement_checks import movement_checks
from solver.plate_checks import bar_checks, section_checks
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.stress import von_mises
from solver.stress_survey import CORNER_RISE
from solver.weld_checks import weld_checks

MOST_NM = 10_000.0
"""Beyond this couple nothing is searched: no assist unit comes near it."""


def holds_to(solved: Solved, bands: Mapping[str, float]) -> tuple[float, str]:
    """Return the couple in N.m at which the first check reaches 100 %, and what ends it.

    Each check counts at its band's upper end. 0 if one is there without any couple; MOST_NM and "" if none
    is by then. Equivalent stress is solved in closed form; the rest, which is quick, by root finding. Sliding
    needs no part in it: slip reaches 100 % before anything slides.
    """
    first, ended_by = _stress_end(solved, bands)
    listed = bool(solved.bracket.loads.fatigue.spectrum)

    def worst(couple_nm: float) -> Check:
        load = loaded(solved.states, solved.cases, couple_nm)
        checks = [c for c in checks_but_stress(solved, load) if c.kind != "share"]
        # a spectrum has couples of its own, which stay
        checks += [] if listed else fatigue_checks(solved, couple_nm)
        return max(checks, key=lambda c: c.used * (1.0 + bands.get(c.name, 0.0)))

    def excess(couple_nm: float) -> float:
        check = worst(couple_nm)
        return min(check.used * (1.0 + bands.get(check.name, 0.0)), 1e6) - 1.0

    if excess(0.0) >= 0.0:
        return 0.0, ending(worst(0.0))
    if first <= 0.0 or excess(first) < 0.0:
        return first, ended_by
    couple = float(brentq(excess, 0.0, first, xtol=1e-4, rtol=1e-7))
    return couple, ending(worst(couple))


def checks_but_stress(solved: Solved, load: Loaded) -> list[Check]:
    """Return every check that needs no stress field."""
    checks = [*bolt_checks(solved, load), *movement_checks(solved, load, 0.0), *bar_checks(solved, load)]
    checks += weld_checks(solved, load)
    for index in range(len(solved.plates)):
        checks += section_checks(solved, load, index)
    return checks


def with_what_stays(
    bracket: Bracket, checks: Sequence[Check], holds_to_nm: float, ended_by: str
) -> tuple[float, str]:
    """Return what a bracket holds to: nothing, where a check that no couple changes is past 100 %.

    Those are the checks of the fit, of the natural frequency, and of fatigue where its couples are listed.
    """
    stay = ("fit-up", FREQUENCY, *(("fatigue",) if bracket.loads.fatigue.spectrum else ()))
    over = [c for c in checks if c.name.startswith(stay) and c.kind != "share" and c.used_upper > 1.0]
    if not over or holds_to_nm <= 0.0:
        return holds_to_nm, ended_by
    return 0.0, ending(max(over, key=lambda c: c.used_upper))


def ending(check: Check) -> str:
    """Return what happens when a check reaches 100 %, as the verdict's sentence ends."""
    words = {
        "slip": f"{check.where} slips",
        "opening": f"the connection of {check.where} opens",
        "bolt shear": f"{check.where} reaches its shear strength",
        "bolt tension": f"{check.where} reaches its tensile strength",
        "bolt shear and tension": f"{check.where} reaches its strength in shear and tension",
        "bearing": f"the hole of {check.where} reaches its bearing strength",
        "pull-through": f"the head of {check.where} reaches its pull-through strength",
        "bolt preload": f"{check.where} reaches its yield",
        "thread stripping": f"the thread of {check.where} strips in its boss",
        "thread under preload": f"the thread of {check.where} strips as it is tightened",
        "turn": "the casing's turn reaches its limit",
        "lean": "the casing's lean reaches its limit",
        "movement": "its movement reaches the limit",
        "movement with a pull": "its movement with a pull reaches the limit",
        "dash bar": "the dash bar reaches its allowable stress",
    }
    if check.name.startswith("weld "):
        return f"{check.name} reaches the strength of its throat"
    if check.name.startswith("fatigue"):
        return f"what bears the reversals ends: {check.name}"
    return words.get(check.name, f"{check.name} reaches its allowable")


def _stress_end(solved: Solved, bands: Mapping[str, float]) -> tuple[float, str]:
    """Return the least couple at which a place of a plate reaches its allowable stress, and its check."""
    first, ended_by = MOST_NM, ""
    factor = solved.bracket.loads.factor_left
    for index, survey in enumerate(solved.surveys):
        plate = survey.plate.plate.name
        band = 1.0 + bands.get(f"stress, {plate}", 0.0)
        corner_band = 1.0 + bands.get(f"inside corner, {plate}", 0.0)
        corners = (
            np.unique(np.concatenate([c.rows for c in survey.corners]))
            if survey.corners
            else np.zeros(0, dtype=int)
        )
        for state in solved.states:
            kept = [case for case, holds in zip(solved.cases, state.holds, strict=True) if holds]
            growing = (
                survey.modes @ (state.amounts[index] @ _columns([c.per_couple for c in kept]))
            ).reshape(-1, 6, len(kept))
            steady = (survey.modes @ (state.amounts[index] @ _columns([c.rest for c in kept]))).reshape(
                -1, 6, len(kept)
            )
            couple = _root(growing, steady, survey.allowable_mpa / band)
            if couple < first:
                first, ended_by = couple, f"{plate} reaches its allowable stress"
            if len(corners):
                # A sharp inside corner fails only where the couple without its factor takes it there.
                allowed = survey.allowable_mpa / CORNER_RISE / corner_band
                couple = _root(growing[corners] / factor, steady[corners], allowed)
                if couple < first:
                    first, ended_by = couple, f"a sharp inside corner of {plate} reaches its allowable stress"
    return first, ended_by


def _columns(vectors: list[Floats]) -> Floats:
    return np.column_stack(vectors)


def _root(growing: Floats, steady: Floats, allowable: float) -> float:
    """Return the least c >= 0 at which any row's von Mises of c growing + steady reaches `allowable`.

    Inf if none.

    Its square is A c^2 + 2 B c + C.
    """
    if growing.size == 0:
        return float("inf")
    a = von_mises(growing) ** 2
    c = von_mises(steady) ** 2
    b = (von_mises(growing + steady) ** 2 - a - c) / 2.0
    left = allowable**2 - c
    if np.any(left <= 0.0):
        return 0.0
    with np.errstate(divide="ignore", invalid="ignore"):
        roots = np.where(a > 1e-18, (-b + np.sqrt(b * b + a * left)) / a, np.inf)
    return float(np.min(roots))
