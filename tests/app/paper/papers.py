"""Jobs for tests of paper: the samples, with answers of a soft spring in place of an analysis."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np

from app.paper.job import PaperJob
from app.paper.paper_names import PaperName
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.stiffness_ranges import ALL_LOW
from solver.results import CasingAnswer, Results
from tests.app.example_results import example_results

SAMPLES = Path(__file__).parents[3] / "sample_brackets"
NAMES = sorted(path.name.removesuffix(".bracket.json") for path in SAMPLES.glob("*.bracket.json"))
DATE = "2026-11-25"


@cache
def sample(name: str) -> Bracket:
    """Return a sample bracket."""
    bracket = read_bracket(SAMPLES / f"{name}.bracket.json").bracket
    assert bracket is not None
    return bracket


def computed(bracket: Bracket) -> Results:
    """Return invented results of that bracket: they check no figure."""
    motions = np.diag([1e-5, 1e-5, 1e-5, 1e-9, 1e-9, 2e-9])
    answers = tuple(
        CasingAnswer(taken, ALL_LOW, motions * times, (True,) * 6, np.zeros(3))  # type: ignore[arg-type]
        for taken, times in (("stuck", 1.0), ("all slipped", 3.0))
    )
    return replace(example_results(), hash=bracket.input_hash(), casing_answers=answers)


def job_of(name: str, paper: PaperName = "A4", bracket: Bracket | None = None) -> PaperJob:
    """Return a job of a sample, or of another bracket under that name."""
    bracket = bracket or sample(name)
    return PaperJob(bracket, f"{name}.bracket.json", DATE, paper, computed(bracket))
