"""A bracket solved on one set of meshes after the other, each finer where the error is largest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from geometry.bracket import Bracket
from geometry.placing import BoltPlace
from geometry.solid_mesh import SolidMesh
from solver.answers import friction_fails_nm
from solver.checking import Checked, check_all
from solver.fatigue import FATIGUE_OF_SHEET
from solver.frequency import slowest_swing
from solver.kept_plates import KeptPlates
from solver.largest import first_of_largest
from solver.mesh_stage import RATIO, MeshedPlate
from solver.results import Swing
from solver.solved import Solved, solved, with_plates
from solver.stage_clock import StageClock
from solver.suppleness import Suppleness
from solver.verdict import WIDE_BAND

LEAST_BAND = 0.02
"""No check is taken to be surer than this."""
LEAST_STRESS_BAND = 0.08
"""Nor any stress of a plate than this: by luck two meshes may agree better than either does with a very fine
one. With 0.05 three in 212 stresses of random brackets lay above their band (`python3 tests band-trial`), by
3 % at most, and sections of folded samples settled by as much as 7 %."""
LEAST_FATIGUE_BAND = 0.10
"""Nor the swing of stress in a plate's edges and faces: it is the one place that swings most, of places that
swing nearly alike. With 0.08 five in 450 lay above their band, with 0.1 three would (`tests/trial/found`)."""
BAND_FACTOR = 1.25
"""Safety on the change between two meshes.

Grid convergence index; Roache 1994, from memory, to be verified.
"""
MESHES = 3
"""Meshes at most: the third only where a wide band lies across 100 %."""


@dataclass(frozen=True)
class Stage:
    """The bracket solved on one set of meshes, and checked once that is asked for."""

    meshed: tuple[MeshedPlate, ...]
    solved: Solved
    couple_nm: float
    unknowns: int

    @cached_property
    def checked(self) -> Checked:
        """Every check at the couple; SolverError as `check_all`."""
        return check_all(self.solved, self.couple_nm)

    @cached_property
    def friction_fails_nm(self) -> float | None:
        """The least couple in N.m at which friction alone fails; None if unknown or never."""
        return friction_fails_nm(self.solved)

    @cached_property
    def swing(self) -> Swing | None:
        """The casing's slowest natural motion on its mounting; None where nothing has mass."""
        return slowest_swing(self.solved.bracket, self.solved.states[0].structure)

    @property
    def suppleness(self) -> tuple[Suppleness, ...]:
        """How supple each plate is; ValueError where it was condensed without a study."""
        return tuple(plate.studied.suppleness for plate in self.meshed)

    def let_go(self) -> None:
        """Throw away what was kept for questions that nobody is about to ask."""
        for plate in self.meshed:
            if plate.study is not None:
                plate.study.let_go()


def solve_in_stages(
    bracket: Bracket,
    places: Sequence[BoltPlace],
    meshes: Sequence[SolidMesh],
    clock: StageClock,
    kept: KeptPlates,
    *,
    refine: bool,
) -> Iterator[Stage]:
    """Yield the bracket solved on its first `meshes` and, to `refine`, on finer ones.

    On a third only where a wide band lies across 100 %.
    """
    stages = [stage_on(bracket, kept.first(bracket, places, meshes))]
    yield stages[0]
    while refine and len(stages) < MESHES and (len(stages) < 2 or _undecided(stages)):
        clock.stage("solving the refined mesh", 0.2 + 0.3 * (len(stages) - 1))
        before = stages[-1]
        amounts = [governing_amounts(before, i) for i in range(len(before.meshed))]
        finer = kept.finer(bracket, places, before.meshed, amounts)
        stages.append(stage_on(bracket, finer, before))
        yield stages[-1]


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


def stage_on(bracket: Bracket, meshed: tuple[MeshedPlate, ...], before: Stage | None = None) -> Stage:
    """Return the bracket solved on plates that are meshed and condensed; `before` has it on other meshes."""
    parts = (
        [m.condensed for m in meshed],
        [m.survey for m in meshed],
        [section for m in meshed for section in m.sections],
    )
    whole = solved(bracket, *parts) if before is None else with_plates(before.solved, *parts)
    couple = bracket.loads.couple.value_nm or 0.0
    unknowns = sum(3 * len(m.condensed.mesh.points) for m in meshed)
    return Stage(meshed, whole, couple, unknowns)


def governing_amounts(stage: Stage, plate: int) -> np.ndarray:
    """Return the amounts (modes, columns) that load a plate hardest, one of each state, to refine for."""
    load = stage.checked.load
    amounts = load.amounts[plate]
    stress = stage.checked.stress_mpa[plate]
    taken = np.array([c.taken for c in load.columns])
    picked = []
    for state in ("stuck", "all slipped"):
        columns = np.flatnonzero(taken == state)
        if len(columns):
            picked.append(int(columns[first_of_largest(stress[columns])]))
    return amounts[:, picked]


def _undecided(stages: Sequence[Stage]) -> bool:
    bands, _ = bands_of(stages)
    return any(
        bands[c.name] > WIDE_BAND and c.used * (1.0 - bands[c.name]) < 1.0 < c.used * (1.0 + bands[c.name])
        for c in stages[-1].checked.checks
    )


_STRESSES: Final = ("stress", "net section", "inside corner", "fatigue", "weld", "section", "softened")


def _least_band(check: str) -> float:
    if check.startswith(FATIGUE_OF_SHEET):
        return LEAST_FATIGUE_BAND
    return LEAST_STRESS_BAND if check.startswith(_STRESSES) else LEAST_BAND
