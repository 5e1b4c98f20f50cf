"""One input at a time: what it says is what an analysis of the changed bracket says."""

from __future__ import annotations

from pathlib import Path

import pytest

from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.casing import Column
from geometry.loads import StatedCouple
from solver.analyse import analyse
from solver.kept_plates import KeptPlates
from solver.one_at_a_time import one_at_a_time
from solver.trials import OneAtATime
from tests.brackets import one_piece, straps


def _bracket() -> Bracket:
    return one_piece().but(loads=one_piece().loads.but(couple=StatedCouple(couple_nm=12), pull_n=200))


@pytest.fixture(scope="module")
def kept() -> KeptPlates:
    return KeptPlates()


@pytest.fixture(scope="module")
def asked(kept: KeptPlates) -> OneAtATime:
    return one_at_a_time(_bracket(), kept=kept)


def test_the_verdict_turns_where_it_says(asked: OneAtATime, kept: KeptPlates) -> None:
    """Held against whole analyses on both sides of the couple that is told."""
    assert asked.results.verdict == "pass"
    turning = next(t for t in asked.turnings if t.what == "couple" and not t.better)
    assert turning.turns
    couple = float(turning.at.split()[0])

    def at(couple_nm: float) -> str:
        loads = _bracket().loads.but(couple=StatedCouple(couple_nm=couple_nm))
        return analyse(_bracket().but(loads=loads), kept=kept).verdict

    assert at(0.96 * couple) == "pass"
    assert at(1.04 * couple) == turning.verdict == "marginal"


@pytest.mark.parametrize("what", ["friction of clamped faces", "what else holds the column"])
def test_a_trial_is_the_analysis_of_that_bracket(what: str, asked: OneAtATime, kept: KeptPlates) -> None:
    trial = next(t for t in asked.trials if t.what == what)
    bracket = _bracket()
    if what == "what else holds the column":
        changed = bracket.but(column=Column(held_by="nothing"))
    else:
        changed = bracket.but(bolts=tuple(b.but(face_friction=0.1) for b in bracket.bolts))
    results = analyse(changed, kept=kept)
    assert trial.verdict == results.verdict
    # bands are those of the bracket as it is, and what slides is left out: a fail is told, not how far
    if results.verdict != "fail":
        assert results.governs is not None
        assert trial.nearest == results.governs.name
        assert trial.used_upper == pytest.approx(results.governs.used_upper, rel=0.15)


def test_another_sheet_does_what_drawing_it_does(asked: OneAtATime) -> None:
    trial = next(t for t in asked.trials if t.then == "5 mm")
    bracket = _bracket()
    assert bracket.dash_bar is not None
    # what it is bolted to comes up to the thinner sheet
    (x, y, z), (far, _, _) = bracket.dash_bar.from_mm, bracket.dash_bar.to_mm
    bar = bracket.dash_bar.but(from_mm=(x, y, z - 1.0), to_mm=(far, y, z - 1.0))
    plate = bracket.plates[0].but(thickness_mm=5.0)
    results = analyse(bracket.but(plates=(plate,), dash_bar=bar))
    assert trial.verdict == results.verdict
    assert results.governs is not None
    assert trial.nearest == results.governs.name
    assert trial.used_upper == pytest.approx(results.governs.used_upper, rel=0.1)


def test_turning_to_what_asks_less_mends_a_fail(kept: KeptPlates) -> None:
    bracket = _bracket().but(loads=_bracket().loads.but(couple=StatedCouple(couple_nm=60)))
    found = one_at_a_time(bracket, kept=kept)
    assert found.results.verdict == "fail"
    less = next(t for t in found.turnings if t.what == "couple" and t.better)
    assert less.turns
    assert less.falls
    assert less.verdict != "fail"


def test_nothing_hangs_on_what_cannot_be_solved() -> None:
    bracket = straps("in line")
    found = one_at_a_time(bracket.but(bolts=()))
    assert found.results.verdict == "no verdict"
    assert found.trials == found.turnings == ()


@pytest.mark.long
def test_what_buckles_is_worked_out_again() -> None:
    """A slender strap, under a couple that leaves it sound, against whole analyses of what was changed."""
    path = Path(__file__).parents[2] / "sample_brackets" / "marlpit_steady_strap.bracket.json"
    bracket = read_bracket(path).bracket
    assert bracket is not None
    kept = KeptPlates()
    found = one_at_a_time(bracket, kept=kept, search=False)
    buckling = next(c for c in found.results.checks if c.name == "buckling")
    for what in ("pull at the wheel", "what else holds the column"):
        trial = next(t for t in found.trials if t.what == what)
        if what == "pull at the wheel":
            changed = bracket.but(loads=bracket.loads.but(pull_n=float(trial.then.split()[0])))
        else:
            changed = bracket.but(column=Column(held_by="nothing"))
        results = analyse(changed, kept=kept)
        assert trial.verdict == results.verdict
        assert results.holds_to_nm is not None
        assert trial.holds_to_nm == pytest.approx(results.holds_to_nm, rel=0.02, abs=0.2)
        again = next(c for c in results.checks if c.name == "buckling")
        assert trial.nearest == "buckling"
        assert trial.used_upper == pytest.approx(again.used_upper, rel=0.02)
        assert again.used > 1.1 * buckling.used
    thin = next(t for t in found.trials if t.what == "thickness of steady strap" and t.then == "1.5 mm")
    plates = tuple(p.but(thickness_mm=1.5) if p.name == "steady strap" else p for p in bracket.plates)
    results = analyse(bracket.but(plates=plates))
    assert results.holds_to_nm is not None
    assert thin.holds_to_nm is not None
    assert thin.holds_to_nm <= 1.15 * results.holds_to_nm + 0.2
    again = next(c for c in results.checks if c.name == "buckling")
    assert thin.used_upper == pytest.approx(again.used_upper, rel=0.2)
