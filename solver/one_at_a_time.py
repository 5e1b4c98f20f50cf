"""One input changed at a time: what the verdict is then, and from where on it is another.

Glossary
--------
knob     an input that can be turned: how it is read and set, what it is tried at, how far it is turned
trial    one input at another value, and what is judged then
turning  the value of an input nearest to the one it has at which the verdict is another

Loads, bolts, column and dash bar leave the plates as they were solved, so a trial of them is exact, fit,
natural frequency and buckling included. Of a thinner or thicker sheet and of other beds only the first mesh
is solved again, and what a check changes by there is applied to its refined figure; of a sheet, buckling goes
by the third power where it is thinner, and fit stays. While a turning is sought, buckling is estimated.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from geometry.loads import Limits
from geometry.materials import STANDARD_THICKNESSES_MM
from geometry.placing import place_bolts
from geometry.plate import Plate
from geometry.sheet_tolerance import metal_kind, tolerance_mm
from solver.analyse import judge
from solver.answers import friction_share
from solver.buckling import NAME as BUCKLING
from solver.checking import check_all
from solver.checks_apart import ChecksApart
from solver.fit_up_checks import fit_up_checks
from solver.free_motions import free_motions
from solver.frequency import NAME as FREQUENCY
from solver.holds_to import MOST_NM, holds_to, with_what_stays
from solver.how_sure import Shares, of_other_sheet, rises, used_on_first, used_shares
from solver.kept_plates import KeptPlates
from solver.knobs import Knob, knobs_of, swaps_of
from solver.plate_checks import of_its_kind
from solver.results import Check, PartName, Results, Verdict, governing
from solver.sensitivity import BED_FACTORS, on_other_beds
from solver.solved import Solved, with_inputs
from solver.stage_clock import Progress, StageClock
from solver.stages import Stage, stage_on
from solver.trials import OneAtATime, Trial, Turning
from solver.verdict import verdict_of

_STEPS: Final = (0.25, 0.5, 1.0)
"""Shares of the way to a knob's end that are looked at before the turning is closed in on."""
_CLOSER: Final = 0.01
"""Share of a knob's value within which a turning is told."""


def one_at_a_time(
    bracket: Bracket,
    *,
    progress: Progress | None = None,
    limits: Limits | None = None,
    kept: KeptPlates | None = None,
    search: bool = True,
    of_file: Sequence[Finding] = (),
) -> OneAtATime:
    """Return what hangs on each input of a bracket; no trials where it cannot be solved.

    `limits` override the file's own. What was found `of_file` that it was read from counts in every verdict.
    Without `search` no turnings are looked for, which take the longest. Raises SolverError as `analyse` does.
    """
    if limits is not None:
        bracket = bracket.but(limits=limits)
    kept = kept or KeptPlates()
    clock = StageClock(progress)
    clock.shares = (0.0, 0.4)
    judged = judge(bracket, progress=clock.stage, kept=kept)
    if judged.solved is None:
        return OneAtATime(judged.results, (), ())
    first = stage_on(bracket, kept.first(bracket, place_bolts(bracket)))
    asked = _Asked(bracket, judged.results, judged.solved, first, ChecksApart(first), tuple(of_file))
    if of_file:
        word, reasons = asked.verdict(bracket, judged.solved, judged.results.checks)
        asked = replace(asked, results=replace(judged.results, verdict=word, reasons=reasons))
    trials, turnings = [], []
    knobs = list(knobs_of(bracket))
    for number, knob in enumerate(knobs):
        clock.stage(f"turning {knob.what}", 0.4 + 0.4 * number / len(knobs))
        trials += [
            asked.trial(knob.what, knob.now, knob.words(v), knob.put(bracket, v), knob.part)
            for v in knob.tried
        ]
        if search:
            ends = {False: knob.worse, True: knob.better}
            turnings += [asked.turning(knob, better=b) for b, end in ends.items() if end != knob.value]
    trials += [asked.trial(swap.what, swap.now, swap.then, swap.bracket) for swap in swaps_of(bracket)]
    clock.stage("trying other sheets and beds", 0.8)
    trials += _of_first_mesh(asked, kept)
    clock.stage("done", 1.0)
    order = sorted(trials, key=lambda t: (t.verdict == asked.results.verdict, -t.used_upper))
    return OneAtATime(asked.results, tuple(order), tuple(turnings))


@dataclass(frozen=True)
class _Asked:
    """A judged bracket that is asked about changes."""

    bracket: Bracket
    results: Results
    solved: Solved
    first: Stage
    apart: ChecksApart
    of_file: tuple[Finding, ...]

    def trial(
        self, what: str, now: str, then: str, changed: Bracket, settled: PartName | None = None
    ) -> Trial:
        """Return what is judged of a change that leaves the plates as they are.

        `settled` is the part of the bands that the change stands for: it does not count twice.
        """
        solved, first = (with_inputs(whole, changed) for whole in (self.solved, self.first.solved))
        checks = [_without(c, settled) for c in self._checks(solved, first)]
        couple, _ = holds_to(solved, {c.name: c.band for c in checks})
        buckling, couple = self.apart.buckling(first, changed.loads.couple.value_nm or 0.0, couple)
        checks += [_without(c, settled) for c in buckling]
        couple, _ = with_what_stays(changed, checks, couple, "")
        return self._told(what, now, then, changed, solved, checks, self._known(couple))

    def rescaled(
        self,
        words: tuple[str, str, str],
        usual: Shares,
        other: Solved,
        settled: PartName | None,
        share: float = 1.0,
    ) -> Trial:
        """Return what is judged if every check changes as it does from the first mesh to `other` on it.

        `words` are the trial's own; `usual` are the used shares on the first mesh; `share` is that of its
        thickness which a plate has.
        """
        rise = rises(usual, used_shares(other, self.first.couple_nm))
        changed = [
            _times(c, 1.0 + rise.get(c.name, 0.0))
            for c in self.results.checks
            if c.name not in (BUCKLING, FREQUENCY)
        ]
        bands = {c.name: c.band for c in changed}
        (before, _), (after, _) = (holds_to(solved, bands) for solved in (self.first.solved, other))
        holds = self.results.holds_to_nm or 0.0
        couple = holds * after / before if before > 0.0 else holds
        buckling, couple = self.apart.of_other_sheet(share, holds, couple)
        changed += [*self.apart.frequency(other), *buckling]
        checks = [_without(c, settled) for c in changed]
        couple, _ = with_what_stays(self.bracket, checks, couple, "")
        return self._told(*words, self.bracket, other, checks, self._known(couple))

    def turning(self, knob: Knob, *, better: bool) -> Turning:
        """Return where a knob turns the verdict on one side of where it stands."""
        end = knob.better if better else knob.worse
        here = low = knob.value
        falls = end < here
        for share in _STEPS:
            high = here + share * (end - here)
            if self._word(knob, high) != self.results.verdict:
                break
            low = high
        else:
            return Turning(
                knob.what, knob.now, knob.words(end), self.results.verdict, better, falls, turns=False
            )
        while abs(high - low) > _CLOSER * max(abs(high), abs(low)):
            middle = 0.5 * (low + high)
            if self._word(knob, middle) == self.results.verdict:
                low = middle
            else:
                high = middle
        return Turning(
            knob.what, knob.now, knob.words(high), self._word(knob, high), better, falls, turns=True
        )

    def _word(self, knob: Knob, value: float) -> Verdict:
        changed = knob.put(self.bracket, value)
        solved, first = (with_inputs(whole, changed) for whole in (self.solved, self.first.solved))
        checks = self._checks(solved, first)
        checks += self.apart.about(first, changed.loads.couple.value_nm or 0.0)
        return self.verdict(changed, solved, checks)[0]

    def _checks(self, solved: Solved, first: Solved) -> list[Check]:
        """Return every check but buckling, each as sure as it is in the results."""
        couple = solved.bracket.loads.couple.value_nm or 0.0
        known = {c.name: c for c in self.results.checks}
        found = [*check_all(solved, couple, slide=False).checks, *fit_up_checks(solved)]
        return [
            replace(c, band=known[c.name].band, parts=known[c.name].parts) if c.name in known else c
            for c in (*found, *self.apart.frequency(first))
        ]

    def verdict(
        self, changed: Bracket, solved: Solved, checks: Sequence[Check]
    ) -> tuple[Verdict, tuple[str, ...]]:
        """Return the verdict on a changed bracket, and its reasons."""
        motions = free_motions(changed, solved.linkage, solved.plates, solved.cases[:-1])
        return verdict_of(
            [of_its_kind(check) for check in checks],
            motions,
            friction_share(solved, motions),
            [*findings_of(changed), *self.of_file],
            changed.limits,
            solved=True,
            refined=True,
            around=self.results.around,
        )

    def _known(self, couple_nm: float) -> float | None:
        """Return a couple it holds to; None where a blank leaves that open, or nothing ends it."""
        return couple_nm if self.results.holds_to_nm is not None and couple_nm < MOST_NM else None

    def _told(
        self,
        what: str,
        now: str,
        then: str,
        changed: Bracket,
        solved: Solved,
        checks: Sequence[Check],
        couple: float | None,
    ) -> Trial:
        word, reasons = self.verdict(changed, solved, checks)
        nearest = governing(checks)
        name, used = ("", 0.0) if nearest is None else (nearest.name, nearest.used_upper)
        return Trial(what, now, then, word, name, used, couple, reasons[0])


def _times(check: Check, share: float) -> Check:
    """Return a check whose demand is a share of what it was."""
    bare = check.without_factor
    return replace(check, demand=share * check.demand, without_factor=None if bare is None else share * bare)


def _without(check: Check, settled: PartName | None) -> Check:
    """Return a check whose band lacks one of its parts."""
    if settled is None:
        return check
    parts = tuple(part for part in check.parts if part.name != settled)
    return replace(check, parts=parts, band=check.band_without(settled))


def _of_first_mesh(asked: _Asked, kept: KeptPlates) -> Iterator[Trial]:
    """Yield the trials that the plates are to be solved again for: sheets, then beds."""
    bracket, first = asked.bracket, asked.first
    usual = used_on_first(first)
    for index, plate in enumerate(bracket.plates):
        for thickness, settled in _other_sheets(bracket, plate):
            share = thickness / plate.thickness_mm
            other = of_other_sheet(bracket, first, kept, index, share)
            words = (f"thickness of {plate.name}", f"{plate.thickness_mm:g} mm", f"{thickness:.4g} mm")
            yield asked.rescaled(words, usual, other, settled, share)
    for factor, other in zip(BED_FACTORS, on_other_beds(bracket, first.meshed, first.solved), strict=True):
        words = ("stiffness of the footprints' beds", "x 1", f"x {factor:g}")
        yield asked.rescaled(words, usual, other, "footprints")


def _other_sheets(bracket: Bracket, plate: Plate) -> list[tuple[float, PartName | None]]:
    """Return the thickness at its tolerance, then the next thinner and thicker that can be bought.

    With each the part of the bands that it stands for: another sheet may be thinner than it is called too.
    """
    kind = metal_kind(bracket, plate)
    usual = plate.thickness_mm
    thin = usual - (0.0 if kind is None else tolerance_mm(plate, kind))
    thinner = [t for t in STANDARD_THICKNESSES_MM if t < usual - 0.05][-1:]
    thicker = [t for t in STANDARD_THICKNESSES_MM if t > usual + 0.05][:1]
    at_tolerance: list[tuple[float, PartName | None]] = [(thin, "thickness")] if usual - thin > 1e-6 else []
    return at_tolerance + [(t, None) for t in (*thinner, *thicker) if t != thin]
