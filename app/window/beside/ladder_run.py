"""A ladder climbed outside the window's thread: steps on all cores, behind everything else."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass

from app.ladder.climb import Judge, climb, in_order
from app.ladder.crew import Crew, cores
from app.ladder.kept_answers import KeptAnswers
from app.ladder.ladder_curve import curve_png
from app.ladder.least import Least, least_of
from app.ladder.rung import Rung
from app.ladder.steps import Ladder
from app.theme import Theme
from app.window.background import Job, Stopped

Makes = Callable[[Stopped], Judge]
"""Returns who judges the steps until told to stop."""


@dataclass(frozen=True)
class Climbed:
    """How far it has come."""

    ladder: Ladder
    rungs: tuple[Rung, ...]
    """In the order of the steps."""
    least: Least
    curve: bytes
    """PNG."""


def crew_judge(stopped: Stopped) -> Judge:
    """Return the judge that takes every core, at a low priority."""
    return Crew(cores(), stopped=stopped, gently=True).judge


def climbing(ladder: Ladder, theme: Theme, make: Makes = crew_judge, kept: KeptAnswers | None = None) -> Job:
    """Return the job that climbs, telling of each rung and answering with all that are there."""

    def job(stopped: Stopped, tell: Callable[[object], None]) -> object:
        answers = KeptAnswers() if kept is None else kept
        rungs: list[Rung] = []
        with closing(climb(ladder, make(stopped), answers)) as rising:
            for rung in rising:
                rungs.append(rung)
                if stopped():
                    break
                tell(_so_far(ladder, rungs, theme))
        answers.clear_old()
        return _so_far(ladder, rungs, theme)

    return job


def _so_far(ladder: Ladder, rungs: Sequence[Rung], theme: Theme) -> Climbed:
    known = tuple(in_order(ladder, rungs))
    least = least_of(ladder, known)
    return Climbed(ladder, known, least, curve_png(ladder, known, "", theme) if known else b"")
