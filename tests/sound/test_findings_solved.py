"""Whatever a finding tells of, short of a stop, is solved or told in a sentence: never a fault."""

from __future__ import annotations

import math

import pytest

from geometry.findings import findings_of
from geometry.placing import place_bolts
from solver.analyse import analyse, can_be_solved
from solver.errors import SolverError
from solver.kept_plates import KeptPlates
from tests.geometry.finding_case import Case, bracket_with, params
from tests.geometry.test_finding_words import CASES

KEPT = KeptPlates(first=8)


@pytest.mark.long
@pytest.mark.parametrize("case", params(CASES))
def test_it_is_solved_or_told(case: Case) -> None:
    bracket = bracket_with(case.make)
    if not can_be_solved(bracket, findings_of(bracket), place_bolts(bracket)):
        return
    results, words = None, ""
    try:
        results = analyse(bracket, refine=False, kept=KEPT)
    except SolverError as told:
        words = str(told).strip()
    if results is None:
        assert words
        return
    assert results.verdict == "no verdict"
    assert not any(math.isnan(check.demand) for check in results.checks)
