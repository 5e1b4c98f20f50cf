"""The one entrance: a bracket in, results out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import TypeVar

import numpy as np

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from geometry.loads import Limits
from geometry.materials import material
from geometry.placing import BoltPlace, place_bolts
from solver.around.around import around
from solver.asides import Asides, asides_of
from solver.beside import Beside
from solver.free_motions import free_motions
from solver.gathering import results_of, unsolved_results
from solver.helper import Helper, HelperLostError, helper_had
from solver.kept_plates import KeptPlates
from solver.linkage import Linkage, linkage_of
from solver.load_cases import load_cases
from solver.lost_bolts import LostBolt, lost_bolts
from solver.results import Results
from solver.solved import Solved
from solver.stage_clock import Progress, StageClock
from solver.stages import Stage, solve_in_stages

_Answer = TypeVar("_Answer")

CANNOT_BE_SOLVED = frozenset({"blank-material"})
"""Blanks without which there is nothing to solve."""


def analyse(
    bracket: Bracket,
    *,
    progress: Progress | None = None,
    limits: Limits | None = None,
    refine: bool = True,
    kept: KeptPlates | None = None,
) -> Results:
    """Return everything one analysis says of a bracket.

    `limits` override the file's own. Without `refine` the figures are pencil and there is no verdict but "no
    verdict". `progress` is told the stage in words and the share done. `kept` gives plates that were solved
    before and have not changed. Raises SolverError for what no finding could foresee.
    """
    return judge(bracket, progress=progress, limits=limits, refine=refine, kept=kept).results


def judge(
    bracket: Bracket,
    *,
    progress: Progress | None = None,
    limits: Limits | None = None,
    refine: bool = True,
    kept: KeptPlates | None = None,
) -> Judged:
    """Return what `analyse` says, with what quick answers can be worked out from; SolverError likewise."""
    clock = StageClock(progress)
    *_, last = _judged(bracket, clock, limits, kept or KeptPlates(), refine=refine, pencil=not refine)
    return last


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
    kept: KeptPlates | None = None,
) -> Iterator[Judged]:
    """Yield the bracket judged in pencil as soon as the first mesh is solved, then in ink.

    Nothing is solved twice, and each is what `analyse` returns. Yields once, in what `analyse` returns too,
    where nothing can be solved. What `progress` raises ends the analysis. `kept` gives plates that were
    solved before and have not changed.
    """
    return _judged(bracket, StageClock(progress), limits, kept or KeptPlates(), refine=True, pencil=True)


def _judged(
    bracket: Bracket,
    clock: StageClock,
    limits: Limits | None,
    kept: KeptPlates,
    *,
    refine: bool,
    pencil: bool,
) -> Iterator[Judged]:
    if limits is not None:
        bracket = bracket.but(limits=limits)
    clock.stage("looking for findings", 0.0)
    findings = findings_of(bracket)
    stages: list[Stage] = []
    helper = helper_had()
    try:
        with Beside() as meanwhile:
            asked_lines = helper.begin_around(bracket) if helper is not None else None
            lines = _begun(meanwhile, partial(around, bracket), asked_lines)
            places = place_bolts(bracket)
            if not can_be_solved(bracket, findings, places):
                yield Judged(unsolved_results(bracket, findings, (), clock, lines()), None)
                return
            linkage = linkage_of(bracket, places)
            loose = free_motions(bracket, linkage, _weightless(linkage), load_cases(bracket), stuck=True)
            if loose:
                yield Judged(unsolved_results(bracket, findings, loose, clock, lines()), None)
                return
            clock.stage("solving the first mesh", 0.02)
            meshes = kept.first_meshes(bracket, places)
            # The helper solves for itself: nothing more need be waited for.
            asked_asides = helper.begin_asides(bracket, meshes) if helper is not None and refine else None
            asides: Callable[[], Asides] | None = None
            lost: Callable[[], tuple[LostBolt, ...]] | None = None
            for stage in solve_in_stages(bracket, places, meshes, clock, kept, refine=refine):
                stages.append(stage)
                if pencil and len(stages) == 1:
                    clock.shares = (0.1, 0.2) if refine else (0.0, 1.0)
                    yield Judged(
                        results_of(bracket, stages, findings, clock, lines(), on_the_way=refine),
                        stage.solved,
                    )
                    clock.shares = (0.0, 1.0)
                if refine and asides is None:
                    # All this asks for is the first mesh.
                    asides = _begun(meanwhile, partial(asides_of, bracket, stage, kept), asked_asides)
                if helper is not None and len(stages) > 1:
                    # Before its checks: they are worked out meanwhile.
                    lost = _lost_bolts(meanwhile, helper, stage)
            if asides is not None:
                clock.stage("asking how sure each check is", 0.85)
                results = results_of(bracket, stages, findings, clock, lines(), asides(), lost=lost)
                clock.stage("done", 1.0)
                yield Judged(results, stages[-1].solved)
    finally:
        for stage in stages[:1]:
            stage.let_go()


def _begun(
    meanwhile: Beside, here: Callable[[], _Answer], asked: Callable[[], _Answer] | None
) -> Callable[[], _Answer]:
    """Return what gives the answer that a helper was `asked` for; without one, work is begun in a thread.

    A helper that is lost is done without, late.
    """
    if asked is None:
        return meanwhile.begin(here)

    @cache
    def answer() -> _Answer:
        try:
            return asked()
        except HelperLostError:
            return here()

    return answer


def _lost_bolts(meanwhile: Beside, helper: Helper, final: Stage) -> Callable[[], tuple[LostBolt, ...]]:
    """Return what gives the bracket with each bolt out in turn, worked out by the helper."""
    here = partial(lost_bolts, final.solved, final.couple_nm)
    return _begun(meanwhile, here, helper.begin_lost(final.solved, final.couple_nm))


def can_be_solved(bracket: Bracket, findings: Iterable[Finding], places: Sequence[BoltPlace]) -> bool:
    """Return whether there is anything to solve: a casing, a bolt with a place, and no finding that stops.

    Nor can a plate be judged whose strength is in no table.
    """
    stopped = any(f.severity == "stop" or f.code in CANNOT_BE_SOLVED for f in findings)
    return bracket.casing is not None and bool(places) and not stopped and _strengths_known(bracket)


def _strengths_known(bracket: Bracket) -> bool:
    """Return whether every plate's yield is known at its thickness; a finding tells of one that is not."""
    return all(
        plate.material is not None
        and material(plate.material, bracket.materials).yield_mpa(plate.thickness_mm) is not None
        for plate in bracket.plates
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
