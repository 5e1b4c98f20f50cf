"""One random bracket answered as the user would have it, and again on far finer meshes."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any, Final

import numpy as np

from geometry.bracket import Bracket
from geometry.loads import Limits, StatedCouple
from geometry.mesh_refining import refine
from geometry.placing import BoltPlace, footprints_of, place_bolts
from solver.analyse import analyse
from solver.holds_to import MOST_NM, holds_to
from solver.kept_plates import KeptPlates
from solver.mesh_stage import MeshedPlate, marked_elements, meshed_plate
from solver.results import Check, Results
from solver.stages import Stage, bands_of, governing_amounts, stage_on
from solver.verdict import verdict_of
from tests.trial.random_brackets import random_bracket

FINER: Final = (2.0, 4.0)
"""Over the first mesh, where the error indicator is largest."""
FINE_SHARE: Final = 0.8
"""Share of the error indicator that is refined: 0.9 moves the stress of marlpit_one_piece by 0.2 %."""
FINE_LAYERS: Final = 2
LEAST_NM, LARGEST_NM = 2.0, 300.0
"""Couples that are tried."""


@dataclass(frozen=True)
class OneCheck:
    """A check as the user reads it, and what the finer meshes say of it."""

    name: str
    kind: str
    demand: float
    allowable: float
    band: float
    """Of the mesh alone."""
    finer: tuple[float, ...]
    """Demands on the meshes of FINER."""

    @property
    def off(self) -> float:
        """Return how far the finest demand lies above the user's, as a share of it."""
        return self.finer[-1] / self.demand - 1.0 if self.demand else 0.0

    @property
    def held(self) -> bool:
        """Return whether the band holds the finest demand, above and below."""
        return abs(self.off) <= self.band

    @property
    def held_above(self) -> bool:
        """Return whether the band's upper end, which the verdict takes, lies above the finest demand."""
        return self.off <= self.band


@dataclass(frozen=True)
class Outcome:
    """One bracket of the trial."""

    seed: int
    number: int
    title: str
    couple_nm: float
    verdict: str
    finer_verdicts: tuple[str, ...]
    checks: tuple[OneCheck, ...]
    unknowns: tuple[int, ...]
    """Of the user's meshes, then of the finer ones."""
    seconds: tuple[float, ...]
    """Of the user's answer, then of the finer ones."""

    def row(self) -> dict[str, Any]:
        """Return it as a row of the trial's file."""
        return asdict(self)


def outcome_of(row: dict[str, Any]) -> Outcome:
    """Return what `row` was made from."""
    checks = tuple(OneCheck(**(c | {"finer": tuple(c["finer"])})) for c in row["checks"])
    lists = {key: tuple(row[key]) for key in ("finer_verdicts", "unknowns", "seconds")}
    return Outcome(**(row | lists | {"checks": checks}))


def bracket_of(seed: int, number: int) -> Bracket:
    """Return a bracket of the trial, without its couple settled."""
    return random_bracket(np.random.default_rng([seed, number]), number)


def try_one(seed: int, number: int, known: Outcome | None = None) -> tuple[Bracket, Outcome]:
    """Return a bracket of the trial and how it came out.

    `known` is an outcome of the same bracket: its finer answers are taken over, the user's are made anew.
    """
    bracket, kept = bracket_of(seed, number), KeptPlates()
    places = place_bolts(bracket)
    first = stage_on(bracket, kept.first(bracket, places))
    if known is not None:
        # The couple that the finer answers were made with: what it holds to may have been judged anew since.
        bracket = _under(bracket, known.couple_nm)
    elif number // 4 % 3:
        bracket = _near_its_limit(bracket, first, np.random.default_rng([seed, number, 1]))
        first = stage_on(bracket, first.meshed)
    at = time.perf_counter()
    results = analyse(bracket, kept=kept)
    seconds, unknowns = [time.perf_counter() - at], list(results.accuracy.unknowns)
    demands: list[dict[str, float]] = []
    verdicts: list[str] = []
    if known is None:
        for ratio in FINER:
            at = time.perf_counter()
            finer = _finer(bracket, places, first, ratio)
            seconds.append(time.perf_counter() - at)
            unknowns.append(finer.unknowns)
            demands.append({c.name: c.demand for c in finer.checked.checks})
            verdicts.append(_verdict(results, finer.checked.checks, bracket.limits))
    else:
        demands = [{c.name: c.finer[i] for c in known.checks} for i in range(len(FINER))]
        verdicts = list(known.finer_verdicts)
        unknowns += known.unknowns[-len(FINER) :]
        seconds += known.seconds[-len(FINER) :]
    checks = tuple(
        OneCheck(
            c.name,
            c.kind,
            c.demand,
            c.allowable,
            c.mesh_band,
            tuple(found.get(c.name, float("nan")) for found in demands),
        )
        for c in results.checks
        if c.name in demands[-1] and np.isfinite(c.demand)
    )
    couple = bracket.loads.couple.value_nm or 0.0
    return bracket, Outcome(
        seed,
        number,
        bracket.title,
        couple,
        results.verdict,
        tuple(verdicts),
        checks,
        tuple(unknowns),
        tuple(round(s, 2) for s in seconds),
    )


def _near_its_limit(bracket: Bracket, first: Stage, random: np.random.Generator) -> Bracket:
    """Return the bracket under a couple near what it holds to: that is where a verdict can turn."""
    holds, _ = holds_to(first.solved, bands_of([first])[0])
    if not 0.0 < holds < MOST_NM:
        return bracket
    couple = float(np.clip(holds * random.uniform(0.55, 1.15), LEAST_NM, LARGEST_NM))
    return _under(bracket, round(couple, 1))


def _under(bracket: Bracket, couple_nm: float) -> Bracket:
    stated = StatedCouple(couple_nm=couple_nm, by="the trial")
    return bracket.but(loads=bracket.loads.but(couple=stated))


def _finer(bracket: Bracket, places: Sequence[BoltPlace], first: Stage, ratio: float) -> Stage:
    """Return the bracket solved on meshes finer than the first where its error is largest."""
    meshed: list[MeshedPlate] = []
    for index, coarse in enumerate(first.meshed):
        plate = bracket.plates[index]
        marked = marked_elements(coarse, governing_amounts(first, index), FINE_SHARE)
        footprints = footprints_of(places, plate.name)
        mesh = refine(coarse.condensed.mesh, plate, footprints, marked, ratio, layers=FINE_LAYERS)
        meshed.append(meshed_plate(bracket, index, mesh, places))
    return stage_on(bracket, tuple(meshed))


def _verdict(results: Results, checks: Sequence[Check], limits: Limits) -> str:
    """Return the verdict with the finer figures taken as exact."""
    staged = {c.name for c in checks}
    word, _ = verdict_of(
        [*(replace(c, band=0.0) for c in checks), *(c for c in results.checks if c.name not in staged)],
        results.free_motions,
        results.friction_share,
        results.findings,
        limits,
        solved=True,
        refined=True,
        around=results.around,
    )
    return word
