"""The couple, all else unchanged, at which the first check reaches 100 %."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

import numpy as np
from scipy.optimize import brentq

from geometry.bracket import Bracket
from geometry.wanted import still_wanted
from solver.bolt_checks import bolt_checks
from solver.evaluation import Loaded, State, loaded, unit_movements
from solver.fatigue import fatigue_checks
from solver.frequency import NAME as FREQUENCY
from solver.largest import largest_of
from solver.load_cases import LoadCase
from solver.movement_checks import envelope_ways, movement_checks, turn_checks
from solver.plate_checks import bar_checks, section_checks
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.stress import von_mises_product
from solver.stress_survey import CORNER_RISE, StressSurvey, in_parts, movements
from solver.weld_checks import weld_checks

MOST_NM = 10_000.0
"""Beyond this couple nothing is searched: no assist unit comes near it."""
_ENDINGS = {
    "turn": "the casing's turn reaches its limit",
    "lean": "the casing's lean reaches its limit",
    "movement": "its movement reaches the limit",
    "movement with a pull": "its movement with a pull reaches the limit",
    "dash bar": "the dash bar reaches its allowable stress",
    "dash bar at holes": "the dash bar reaches its allowable stress through a bolt's hole",
    "softened dash bar": "the dash bar reaches its allowable stress beside a weld",
}
_ENDINGS_OF_A_PLACE = {
    "slip": "{} slips",
    "opening": "the connection of {} opens",
    "bolt shear": "{} reaches its shear strength",
    "bolt tension": "{} reaches its tensile strength",
    "bolt shear and tension": "{} reaches its strength in shear and tension",
    "bearing": "the hole of {} reaches its bearing strength",
    "pull-through": "the head of {} reaches its pull-through strength",
    "wall bending": "the wall of the dash bar yields under {}",
    "bolt preload": "{} reaches its yield",
    "thread stripping": "the thread of {} strips in its boss",
    "thread under preload": "the thread of {} strips as it is tightened",
}
"""With the place that is asked most of."""
_NOTHING = 1e-18
"""A square, of MPa or mm for 1 N.m, that grows no more than this never gets anywhere."""


def holds_to(solved: Solved, bands: Mapping[str, float]) -> tuple[float, str]:
    """Return the couple in N.m at which the first check reaches 100 %, and what ends it.

    Each check counts at its band's upper end. 0 if one is there without any couple; MOST_NM and "" if none
    is by then. Equivalent stress and movement are solved in closed form; the rest, which is quick, by root
    finding. Sliding needs no part in it: slip reaches 100 % before anything slides.
    """

    def used(check: Check) -> float:
        return check.used * (1.0 + bands.get(check.name, 0.0)) if check.kind != "share" else 0.0

    quick = _Quick(solved, used)
    at_rest = quick.worst(0.0)
    if not used(at_rest) < 1.0:
        moved = movement_checks(solved, loaded(solved.states, solved.cases, 0.0), 0.0)
        return 0.0, ending(largest_of([at_rest, *moved], used))
    ends = quick.end(*min((MOST_NM, ""), _movement_end(solved, bands)))
    return _stress_end(solved, bands, *ends)


class _Quick:
    """Every check that asks for no place of a plate, by groups that may be asked for alone."""

    def __init__(self, solved: Solved, used: Callable[[Check], float]) -> None:
        self._solved, self._used = solved, used
        self._groups: list[Callable[[Loaded, float], list[Check]]] = [
            lambda load, _: bolt_checks(solved, load),
            lambda load, _: turn_checks(solved, load, 0.0),
            lambda load, _: bar_checks(solved, load),
            lambda load, _: weld_checks(solved, load),
            lambda load, _: [c for i in range(len(solved.plates)) for c in section_checks(solved, load, i)],
        ]
        # a spectrum has couples of its own, which stay
        if not solved.bracket.loads.fatigue.spectrum:
            self._groups.append(lambda _, couple_nm: fatigue_checks(solved, couple_nm))

    def worst(self, couple_nm: float) -> Check:
        """Return the check that is used most at a couple."""
        return self._worst_of(self._asked(couple_nm))

    def end(self, most_nm: float, ended_by: str) -> tuple[float, str]:
        """Return the couple at which the first reaches 100 %, and what ends it; else the most.

        None may be there without any couple. Only groups that are past 100 % are asked on the way down.
        """
        couple, down = most_nm, set[int]()
        while past := self._past(asked := self._asked(couple)) - down:
            down |= past
            couple = float(brentq(self._excess, 0.0, couple, xtol=1e-4, rtol=1e-7, args=(down,)))
        return couple, ending(self._worst_of(asked)) if down else ended_by

    def _worst_of(self, asked: Sequence[Sequence[Check]]) -> Check:
        return largest_of((check for group in asked for check in group), self._used)

    def _past(self, asked: Sequence[Sequence[Check]]) -> set[int]:
        """Return the numbers of the groups that are at 100 % or past it."""
        return {i for i, group in enumerate(asked) if any(not self._used(c) < 1.0 for c in group)}

    def _excess(self, couple_nm: float, numbers: Collection[int]) -> float:
        asked = self._asked(couple_nm, numbers)
        return min(max(self._used(check) for group in asked for check in group), 1e6) - 1.0

    def _asked(self, couple_nm: float, numbers: Collection[int] | None = None) -> list[list[Check]]:
        still_wanted()
        load = loaded(self._solved.states, self._solved.cases, couple_nm)
        groups = enumerate(self._groups)
        return [group(load, couple_nm) for i, group in groups if numbers is None or i in numbers]


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
    return 0.0, ending(largest_of(over, lambda c: c.used_upper))


def ending(check: Check) -> str:
    """Return what happens when a check reaches 100 %, as the verdict's sentence ends."""
    if check.name.startswith("weld "):
        return f"{check.name} reaches the strength of its throat"
    if check.name.startswith("fatigue"):
        return f"what bears the reversals ends: {check.name}"
    if check.name in _ENDINGS_OF_A_PLACE:
        return _ENDINGS_OF_A_PLACE[check.name].format(check.where)
    return _ENDINGS.get(check.name, f"{check.name} reaches its allowable")


def _stress_end(
    solved: Solved, bands: Mapping[str, float], most_nm: float, ended_by: str
) -> tuple[float, str]:
    """Return the least couple at which a place of a plate reaches its allowable stress, and what ends there.

    The most and what ends there where none does by then.
    """
    first = most_nm
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
            grown = state.amounts[index] @ _columns([c.per_couple for c in kept])
            rests = state.amounts[index] @ _columns([c.rest for c in kept])
            allowed = survey.allowable_mpa / band
            for rows in _reaching(survey, first * grown + rests, rests[:, _alone(kept)], allowed):
                growing, steady = _stresses(survey, rows, grown, rests)
                couple = _root(growing, steady, allowed)
                if couple < first:
                    first, ended_by = couple, f"{plate} reaches its allowable stress"
            if len(corners):
                growing, steady = _stresses(survey, corners, grown, rests)
                # A sharp inside corner fails only where the couple without its factor takes it there.
                couple = _root(growing / factor, steady, survey.allowable_mpa / CORNER_RISE / corner_band)
                if couple < first:
                    first, ended_by = couple, f"a sharp inside corner of {plate} reaches its allowable stress"
    return first, ended_by


def _reaching(survey: StressSurvey, most: Floats, rest: Floats, allowed: float) -> Iterator[np.ndarray]:
    """Yield rows of a survey whose stress reaches what is allowed at the most couple, or at rest.

    Between two couples no stress is larger than at both: von Mises' stress is convex. The same load at the
    most couple the other way stands for rest, where there is one; `rest` is of the others.
    """
    both = np.hstack([most, rest])
    for part in in_parts(len(survey.nodes), both.shape[1]):
        stress = survey.stress(part, both)
        over = von_mises_product(stress, stress).max(axis=1) >= allowed**2
        if over.any():
            yield part.start + np.flatnonzero(over)


def _alone(cases: Sequence[LoadCase]) -> list[int]:
    """Return which load cases have no twin with the couple the other way."""
    known = {(_bits(c.per_couple), _bits(c.rest)) for c in cases}
    return [i for i, c in enumerate(cases) if (_bits(-c.per_couple), _bits(c.rest)) not in known]


def _bits(vector: Floats) -> bytes:
    return (vector + 0.0).tobytes()  # one nought, not two


def _stresses(survey: StressSurvey, rows: np.ndarray, grown: Floats, rests: Floats) -> tuple[Floats, Floats]:
    """Return the (rows, 6, columns) stress in MPa of some rows of a survey, for 1 N.m and at rest."""
    modes = survey.modes[(6 * rows[:, None] + np.arange(6)).ravel()]
    growing, steady = ((modes @ amounts).reshape(-1, 6, amounts.shape[1]) for amounts in (grown, rests))
    return growing, steady


def _movement_end(solved: Solved, bands: Mapping[str, float]) -> tuple[float, str]:
    """Return the least couple at which a movement, lash left out, reaches its limit, and what ends it."""
    first, ended_by = float("inf"), ""
    limits, envelope = solved.bracket.limits, envelope_ways(solved)
    for name, kind, limit in (
        ("movement", "as measured", limits.movement_mm),
        ("movement with a pull", "pull", limits.pull_movement_mm),
    ):
        allowed = limit / (1.0 + bands.get(name, 0.0))
        kept = [case for case in solved.cases if case.kind == kind]
        if not kept:
            continue
        growing, steady = _columns([c.per_couple for c in kept]), _columns([c.rest for c in kept])
        for state in solved.states:
            if state.taken != "stuck":
                continue
            for ours, rest in _movements(solved, state, envelope, growing, steady):
                growth, both, still = (
                    np.einsum("nik,nik->nk", a, b) for a, b in ((ours, ours), (ours, rest), (rest, rest))
                )
                couple = _least_root(growth, both, still, allowed)
                if couple < first:
                    first, ended_by = couple, _ENDINGS[name]
    return first, ended_by


def _movements(
    solved: Solved, state: State, envelope: Floats, growing: Floats, steady: Floats
) -> Iterator[tuple[Floats, Floats]]:
    """Yield movement (places, 3, columns) under 1 N.m and at rest: of the envelope, then of the plates."""
    casing = envelope @ state.response.casing
    yield casing @ growing, casing @ steady
    for index, survey in enumerate(solved.surveys):
        (units,) = unit_movements([state], index, survey.movement_modes)
        for rows in in_parts(len(units) // 3, 2 * growing.shape[1]):
            yield movements(units, rows, growing), movements(units, rows, steady)


def _columns(vectors: list[Floats]) -> Floats:
    return np.column_stack(vectors)


def _root(growing: Floats, steady: Floats, allowable: float) -> float:
    """Return the least c >= 0 at which any row's von Mises of c growing + steady reaches `allowable`.

    Inf if none. Its square is A c^2 + 2 B c + C.
    """
    return _least_root(
        von_mises_product(growing, growing),
        von_mises_product(growing, steady),
        von_mises_product(steady, steady),
        allowable,
    )


def _least_root(a: Floats, b: Floats, c: Floats, size: float) -> float:
    """Return the least x >= 0 at which any a x^2 + 2 b x + c reaches the square of a size; inf if none."""
    left = size**2 - c
    if np.any(left <= 0.0):
        return 0.0
    with np.errstate(divide="ignore", invalid="ignore"):
        roots = np.where(a > _NOTHING, (-b + np.sqrt(b * b + a * left)) / a, np.inf)
    return float(np.min(roots, initial=np.inf))
