"""Everything an analysis says, gathered from the meshes that were solved."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial

from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.answers import (
    bolt_results,
    case_results,
    casing_movement,
    friction_share,
    plate_fields,
)
from solver.around.clamps import hangs_on_clamps
from solver.around.line import AroundLine
from solver.asides import Asides
from solver.assumptions import NOT_COMPUTED, assumptions_of
from solver.buckling import Buckling, buckles_to
from solver.by_hand import with_hand_figures
from solver.casing_answers import casing_answers
from solver.fit_up_checks import fit_up_checks
from solver.free_motions import free_motions
from solver.frequency import frequency_checks
from solver.holds_to import MOST_NM, holds_to, with_what_stays
from solver.how_sure import with_parts
from solver.largest import largest_of
from solver.load_cases import load_cases
from solver.lost_bolts import LostBolt, lost_bolts, one_bolt_lost
from solver.mesh_stage import RATIO
from solver.plate_checks import of_its_kind
from solver.results import Accuracy, Check, FreeMotion, Results, governing
from solver.stage_clock import StageClock
from solver.stages import Stage, bands_of
from solver.turn_shares import turn_shares
from solver.verdict import verdict_of
from solver.version import VERSION
from solver.weld_checks import weld_results


def results_of(
    bracket: Bracket,
    stages: Sequence[Stage],
    findings: Sequence[Finding],
    clock: StageClock,
    beside: tuple[AroundLine, ...],
    asides: Asides | None = None,
    *,
    on_the_way: bool = False,
    lost: Callable[[], tuple[LostBolt, ...]] | None = None,
) -> Results:
    """Return everything that the meshes solved so far say, in ink with the `asides` of the first one.

    Pencil `on_the_way` to ink leaves out what nobody looks at so soon: bolts lost, what friction alone holds,
    and how the casing swings where no engine asks. `lost` gives what the last mesh says of each bolt lost,
    where somebody else works it out.
    """
    first, final = stages[0], stages[-1]
    motions = free_motions(bracket, final.solved.linkage, final.solved.plates, load_cases(bracket))
    bands, changes = bands_of(stages)
    checks = with_parts(
        [
            replace(c, band=bands[c.name])
            for c in with_hand_figures(final.solved, final.checked.checks, final.couple_nm)
        ],
        None if asides is None else asides.sure,
    )
    checks = tuple(of_its_kind(c) for c in checks)
    bands = {c.name: c.band for c in checks}
    # Both hang on weights and on how everything is held, which another mesh leaves nearly as they are.
    of_first = first if asides is None else asides
    swing = None if on_the_way and bracket.loads.engine is None else of_first.swing
    checks += tuple(frequency_checks(bracket, swing))
    checks += tuple(fit_up_checks(final.solved))
    clock.stage("finding what it holds to", 0.88)
    couple, ended_by = _holds_to(final, bands, motions)
    if asides is not None:
        clock.stage("looking whether anything slender buckles", 0.89)
        buckling = Buckling(first.solved, asides.suppleness)
        checks += tuple(buckling.check(final.couple_nm, couple))
        couple, ended_by = buckles_to(buckling, checks, couple, ended_by)
    couple, ended_by = with_what_stays(bracket, checks, couple, ended_by)
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
    clock.stage("taking each bolt out in turn", 0.93)
    lost = lost or partial(lost_bolts, final.solved, final.couple_nm)
    # What leaves out checks or loads makes what it holds to a guess.
    known = not any(f.leaves_out for f in findings)
    friction_nm = of_first.friction_fails_nm if known and not on_the_way else None
    assumptions, flagged = assumptions_of(bracket, final.solved.bolts)
    return Results(
        title=bracket.title,
        verdict=verdict,
        reasons=reasons,
        couple_nm=bracket.loads.couple.value_nm,
        couple_factor=bracket.loads.couple_factor,
        couple_source=bracket.loads.couple.words,
        holds_to_nm=couple if known and couple < MOST_NM else None,
        ended_by=ended_by if known else "",
        friction_fails_nm=friction_nm,
        governs=governing(checks),
        checks=checks,
        casing=casing_movement(final.solved, final.checked),
        friction_share=share,
        free_motions=motions,
        bolts=bolt_results(final.solved, final.checked),
        cases=case_results(final.solved, final.checked.load),
        plates=plate_fields(final.checked, final.meshed),
        accuracy=_accuracy(stages, changes, "" if asides is None else asides.footprints),
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
        # Only the first mesh is condensed with what tells beds from plates.
        turn_shares=turn_shares(bracket, first.meshed, first.solved.states[0]),
        welds=weld_results(final.solved, final.checked.load),
        # Last: somebody else may still be at it.
        one_bolt_lost=() if on_the_way else one_bolt_lost(lost(), bands),
    )


def unsolved_results(
    bracket: Bracket,
    findings: Sequence[Finding],
    motions: Sequence[FreeMotion],
    clock: StageClock,
    beside: tuple[AroundLine, ...],
) -> Results:
    """Return what can be said without an analysis: nothing holds the casing, or the findings stop it."""
    loose = [replace(m, driven_by=m.driven_by or (("any load",) if m.moves_casing else ())) for m in motions]
    checks: tuple[Check, ...] = ()
    decided = bool(loose) or hangs_on_clamps(bracket)
    verdict, reasons = verdict_of(
        checks, loose, None, findings, bracket.limits, solved=False, refined=decided, around=beside
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


def _holds_to(final: Stage, bands: Mapping[str, float], motions: Sequence[FreeMotion]) -> tuple[float, str]:
    """Return what the bracket holds to; nothing, where any couple at all drives the casing freely."""
    driven = next((m for m in motions if m.moves_casing and m.driven_by), None)
    return (0.0, driven.words) if driven is not None else holds_to(final.solved, bands)


def _accuracy(stages: Sequence[Stage], changes: Mapping[str, float], footprints: str) -> Accuracy:
    refined = len(stages) > 1
    worst = largest_of(changes, lambda name: changes[name]) if changes else ""
    words = (
        f"refined by {RATIO:g} where the error was largest; {worst} changed most, by {changes[worst]:.1%}"
        if refined and worst
        else "not refined: the figures are pencil"
    )
    return Accuracy(refined, tuple(s.unknowns for s in stages), RATIO, dict(changes), words, footprints)
