"""The one entrance: a bracket in, results out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from geometry.loads import Limits
from geometry.placing import BoltPlace, place_bolts
from solver.answers import (
    bolt_results,
    case_results,
    casing_movement,
    friction_fails_nm,
    friction_share,
    one_bolt_lost,
    plate_fields,
)
from solver.around.around import around
from solver.around.line import AroundLine
from solver.assumptions import NOT_COMPUTED, assumptions_of
from solver.by_hand import with_hand_figures
from solver.casing_answers import casing_answers
from solver.checking import Checked, check_all
from solver.first_plates import FirstPlates
from solver.free_motions import free_motions
from solver.frequency import frequency_checks, slowest_swing
from solver.holds_to import MOST_NM, holds_to
from solver.linkage import Linkage, linkage_of
from solver.load_cases import load_cases
from solver.mesh_stage import RATIO, MeshedPlate, finer_mesh, meshed_plate
from solver.results import Accuracy, Check, FreeMotion, Results
from solver.sensitivity import footprint_sensitivity
from solver.solved import Solved, solved
from solver.stage_clock import Progress, StageClock
from solver.verdict import WIDE_BAND, verdict_of
from solver.version import VERSION

CANNOT_BE_SOLVED = frozenset({"blank-material"})
"""Blanks without which there is nothing to solve."""
LEAST_BAND = 0.02
"""No check is taken to be surer than this."""
LEAST_STRESS_BAND = 0.05
"""Nor any stress of a plate than this: by luck two meshes may agree better than either does with a very fine
one."""
BAND_FACTOR = 1.25
"""Safety on the change between two meshes.

Grid convergence index; Roache 1994, from memory, to be verified.
"""
MESHES = 3
"""Meshes at most: the third only where a wide band lies across 100 %."""


def analyse(
    bracket: Bracket, *, progress: Progress | None = None, limits: Limits | None = None, refine: bool = True
) -> Results:
    """Return everything one analysis says of a bracket.

    `limits` override the file's own. Without `refine` the figures are pencil and there is no verdict but "no
    verdict". `progress` is told the stage in words and the share done. Raises SolverError for what no finding
    could foresee.
    """
    clock, first = StageClock(progress), FirstPlates()
    *_, last = _judged(bracket, clock, limits, first, refine=refine, pencil=not refine)
    return last.results


@dataclass(frozen=True)
class Judged:
    """What an analysis says, and what quick answers can be worked out from afterwards."""

    results: Results
    solved: Solved | None
    """None where nothing was solved."""


def analyse_in_turn(
    bracket: Bracket,
    *,
    progress: Progress | None = None,
    limits: Limits | None = None,
    first: FirstPlates | None = None,
) -> Iterator[Judged]:
    """Yield the bracket judged in pencil as soon as the first mesh is solved, then in ink.

    Nothing is solved twice, and each is what `analyse` returns. Yields once, in what `analyse` returns too,
    where nothing can be solved. What `progress` raises ends the analysis. `first` keeps plates that were
    solved before and have not changed.
    """
    return _judged(bracket, StageClock(progress), limits, first or FirstPlates(), refine=True, pencil=True)


def _judged(
    bracket: Bracket,
    clock: StageClock,
    limits: Limits | None,
    first: FirstPlates,
    *,
    refine: bool,
    pencil: bool,
) -> Iterator[Judged]:
    if limits is not None:
        bracket = bracket.but(limits=limits)
    clock.stage("looking for findings", 0.0)
    findings = findings_of(bracket)
    beside = around(bracket)
    places = place_bolts(bracket)
    if not can_be_solved(bracket, findings, places):
        yield Judged(_unsolved(bracket, findings, (), clock, beside), None)
        return
    linkage = linkage_of(bracket, places)
    loose = free_motions(bracket, linkage, _weightless(linkage), load_cases(bracket), stuck=True)
    if loose:
        yield Judged(_unsolved(bracket, findings, loose, clock, beside), None)
        return
    stages: list[Stage] = []
    for stage in _solve(bracket, places, clock, first, refine=refine):
        stages.append(stage)
        if pencil and len(stages) == 1:
            clock.shares = (0.1, 0.2) if refine else (0.0, 1.0)
            yield Judged(_results(bracket, stages, findings, clock, beside), stage.solved)
            clock.shares = (0.0, 1.0)
    if refine:
        results = _results(bracket, stages, findings, clock, beside)
        clock.stage("done", 1.0)
        yield Judged(results, stages[-1].solved)


def _results(
    bracket: Bracket,
    stages: Sequence[Stage],
    findings: Sequence[Finding],
    clock: StageClock,
    beside: tuple[AroundLine, ...],
) -> Results:
    """Return everything that the meshes solved so far say."""
    final = stages[-1]
    motions = free_motions(bracket, final.solved.linkage, final.solved.plates, load_cases(bracket))
    bands, changes = bands_of(stages)
    checks = tuple(
        replace(c, band=bands[c.name])
        for c in with_hand_figures(final.solved, final.checked.checks, final.couple_nm)
    )
    swing = slowest_swing(bracket, stages[0].solved.states[0].structure)
    checks += tuple(frequency_checks(bracket, swing))
    share = friction_share(final.solved, motions)
    verdict, reasons = verdict_of(
        checks,
        motions,
        share,
        findings,
        bracket.limits,
        solved=True,
        refined=len(stages) > 1,
        around=beside,
    )
    clock.stage("finding what it holds to", 0.9)
    couple, ended_by = _holds_to(final, bands, motions)
    friction_nm = friction_fails_nm(final.solved)
    clock.stage("taking each bolt out in turn", 0.93)
    lost = one_bolt_lost(final.solved, final.couple_nm)
    assumptions, flagged = assumptions_of(bracket, final.solved.bolts)
    # A blank leaves out checks or loads: what it holds to would be a guess.
    known = not any(f.is_blank for f in findings)
    return Results(
        title=bracket.title,
        verdict=verdict,
        reasons=reasons,
        couple_nm=bracket.loads.couple.value_nm,
        couple_factor=bracket.loads.couple_factor,
        couple_source=bracket.loads.couple.words,
        holds_to_nm=couple if known and couple < MOST_NM else None,
        ended_by=ended_by if known else "",
        friction_fails_nm=friction_nm if known else None,
        governs=_governs(checks),
        checks=checks,
        casing=casing_movement(final.solved, final.checked),
        friction_share=share,
        free_motions=motions,
        bolts=bolt_results(final.solved, final.checked),
        cases=case_results(final.solved, final.checked.load),
        one_bolt_lost=lost,
        plates=plate_fields(final.solved, final.checked.load, final.meshed),
        accuracy=_accuracy(stages, changes, _footprint_words(bracket, stages, clock)),
        findings=tuple(findings),
        assumptions=assumptions,
        flagged=flagged,
        not_computed=NOT_COMPUTED,
        hash=bracket.input_hash(),
        version=VERSION,
        seconds=clock.seconds(),
        around=beside,
        swing=swing,
        casing_answers=casing_answers(final.solved),
    )


@dataclass(frozen=True)
class Stage:
    """The bracket solved and checked on one set of meshes."""

    meshed: tuple[MeshedPlate, ...]
    solved: Solved
    checked: Checked
    couple_nm: float
    unknowns: int


def can_be_solved(bracket: Bracket, findings: Iterable[Finding], places: Sequence[BoltPlace]) -> bool:
    """Return whether there is anything to solve: a casing, a bolt with a place, and no finding that stops."""
    stopped = any(f.severity == "stop" or f.code in CANNOT_BE_SOLVED for f in findings)
    return bracket.casing is not None and bool(places) and not stopped


def bands_of(stages: Sequence[Stage]) -> tuple[dict[str, float], dict[str, float]]:
    """Return each check's band and its change between the last two meshes.

    The band is max(2 %, 1.25 change / (ratio - 1)).
    """
    last = {c.name: c.demand for c in stages[-1].checked.checks}
    changes: dict[str, float] = {}
    if len(stages) > 1:
        before = {c.name: c.demand for c in stages[-2].checked.checks}
        for name, demand in last.items():
            size = max(abs(demand), 1e-12)
            changes[name] = abs(demand - before.get(name, 0.0)) / size if np.isfinite(demand) else 0.0
    bands = {
        name: max(_least_band(name), BAND_FACTOR * changes.get(name, 0.0) / (RATIO - 1.0)) for name in last
    }
    return bands, changes


def _holds_to(final: Stage, bands: Mapping[str, float], motions: Sequence[FreeMotion]) -> tuple[float, str]:
    """Return what the bracket holds to; nothing, where any couple at all drives the casing freely."""
    driven = next((m for m in motions if m.moves_casing and m.driven_by), None)
    return (0.0, driven.words) if driven is not None else holds_to(final.solved, bands)


def _governs(checks: Sequence[Check]) -> Check | None:
    """Return the check nearest to its limit, of those that can fail."""
    return max((c for c in checks if c.kind != "share"), key=lambda c: c.used_upper, default=None)


def _least_band(check: str) -> float:
    return LEAST_STRESS_BAND if check.startswith(("stress", "net section", "inside corner")) else LEAST_BAND


def _solve(
    bracket: Bracket, places: Sequence[BoltPlace], clock: StageClock, first: FirstPlates, *, refine: bool
) -> Iterator[Stage]:
    clock.stage("solving the first mesh", 0.02)
    stages = [_stage(bracket, first.solved(bracket, places))]
    yield stages[0]
    while refine and len(stages) < MESHES and (len(stages) < 2 or _undecided(stages)):
        clock.stage("refining the mesh", 0.2 + 0.3 * (len(stages) - 1))
        before = stages[-1]
        finer = [finer_mesh(m, places, _governing(before, i)) for i, m in enumerate(before.meshed)]
        clock.stage("solving the refined mesh", 0.35 + 0.3 * (len(stages) - 1))
        meshed = tuple(meshed_plate(bracket, i, mesh, places) for i, mesh in enumerate(finer))
        stages.append(_stage(bracket, meshed))
        yield stages[-1]


def _stage(bracket: Bracket, meshed: tuple[MeshedPlate, ...]) -> Stage:
    whole = solved(
        bracket,
        [m.condensed for m in meshed],
        [m.survey for m in meshed],
        [section for m in meshed for section in m.sections],
    )
    couple = bracket.loads.couple.value_nm or 0.0
    unknowns = sum(3 * len(m.condensed.mesh.points) for m in meshed)
    return Stage(meshed, whole, check_all(whole, couple), couple, unknowns)


def _governing(stage: Stage, plate: int) -> np.ndarray:
    """Return the amounts (modes, columns) that load a plate hardest, one of each state, to refine for."""
    load = stage.checked.load
    amounts = load.amounts[plate]
    survey = stage.solved.surveys[plate]
    stress = survey.von_mises(amounts).max(axis=0) if len(survey.nodes) else np.ones(amounts.shape[1])
    taken = np.array([c.taken for c in load.columns])
    picked = []
    for state in ("stuck", "all slipped"):
        columns = np.flatnonzero(taken == state)
        if len(columns):
            picked.append(int(columns[np.argmax(stress[columns])]))
    return amounts[:, picked]


def _undecided(stages: Sequence[Stage]) -> bool:
    bands, _ = bands_of(stages)
    return any(
        bands[c.name] > WIDE_BAND and c.used * (1.0 - bands[c.name]) < 1.0 < c.used * (1.0 + bands[c.name])
        for c in stages[-1].checked.checks
    )


def _footprint_words(bracket: Bracket, stages: Sequence[Stage], clock: StageClock) -> str:
    """Return what hangs on the model of the footprints, worked out on the first mesh; nothing for pencil."""
    if len(stages) < 2:
        return ""
    clock.stage("trying other beds under the footprints", 0.95)
    first = stages[0]
    return footprint_sensitivity(bracket, first.meshed, first.solved, first.couple_nm).words


def _accuracy(stages: Sequence[Stage], changes: Mapping[str, float], footprints: str) -> Accuracy:
    refined = len(stages) > 1
    worst = max(changes, key=lambda name: changes[name], default="")
    words = (
        f"refined by {RATIO:g} where the error was largest; {worst} changed most, by {changes[worst]:.1%}"
        if refined and worst
        else "not refined: the figures are pencil"
    )
    return Accuracy(refined, tuple(s.unknowns for s in stages), RATIO, dict(changes), words, footprints)


def _unsolved(
    bracket: Bracket,
    findings: Sequence[Finding],
    motions: Sequence[FreeMotion],
    clock: StageClock,
    beside: tuple[AroundLine, ...],
) -> Results:
    """Return what can be said without an analysis: nothing holds the casing, or the findings stop it."""
    loose = [replace(m, driven_by=m.driven_by or (("any load",) if m.moves_casing else ())) for m in motions]
    checks: tuple[Check, ...] = ()
    verdict, reasons = verdict_of(
        checks, loose, None, findings, bracket.limits, solved=False, refined=bool(loose), around=beside
    )
    assumptions, flagged = assumptions_of(bracket, {})
    return Results(
        title=bracket.title,
        verdict=verdict,
        reasons=reasons,
        couple_nm=bracket.loads.couple.value_nm,
        couple_factor=bracket.loads.couple_factor,
        couple_source=bracket.loads.couple.words,
        holds_to_nm=None,
        ended_by="",
        friction_fails_nm=None,
        governs=None,
        checks=checks,
        casing=None,
        friction_share=None,
        free_motions=tuple(loose),
        bolts=(),
        cases=(),
        one_bolt_lost=(),
        plates=(),
        accuracy=Accuracy(False, (), RATIO, {}, "nothing was solved", ""),
        findings=tuple(findings),
        assumptions=assumptions,
        flagged=flagged,
        not_computed=NOT_COMPUTED,
        hash=bracket.input_hash(),
        version=VERSION,
        seconds=clock.seconds(),
        around=beside,
    )


@dataclass(frozen=True)
class _Nothing:
    """A plate without weight, for asking what is loose before anything has been meshed."""

    mass_kg: float = 1e-9

    @property
    def mass_centre_mm(self) -> np.ndarray:
        return np.zeros(3)


def _weightless(linkage: Linkage) -> list[_Nothing]:
    return [_Nothing() for _ in linkage.bodies[1:]]
