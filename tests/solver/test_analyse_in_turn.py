"""One run gives pencil, then ink, and each is what an analysis of its own would say."""

from __future__ import annotations

import numpy as np
import pytest

import solver.stages
from geometry.bracket import Bracket
from solver.analyse import analyse, analyse_in_turn
from solver.results import Results
from tests.brackets import bolt_group, straps


def small() -> Bracket:
    """Return one bolt to the casing and one to an anchor: little to mesh."""
    return bolt_group([(0, 50)], size="M8", hole_mm=9, pad_mm=16, thickness_mm=16, casing_places_mm=[(0, 0)])


def figures(results: Results) -> list[float]:
    return [value for c in results.checks for value in (c.demand, c.allowable, c.band)]


@pytest.mark.parametrize("refine", [False, True])
def test_each_is_what_an_analysis_of_its_own_says(refine: bool) -> None:
    pencil, ink = analyse_in_turn(small())
    in_turn = (ink if refine else pencil).results
    alone = analyse(small(), refine=refine)
    assert (in_turn.verdict, in_turn.sentence) == (alone.verdict, alone.sentence)
    assert [c.name for c in in_turn.checks] == [c.name for c in alone.checks]
    # Sums are taken in threads, in any order: they agree but for rounding.
    assert figures(in_turn) == pytest.approx(figures(alone), rel=1e-6, abs=1e-6)
    field, alike = in_turn.plates[0].von_mises_mpa, alone.plates[0].von_mises_mpa
    assert np.allclose(field, alike, rtol=1e-6, atol=1e-6 * alike.max())
    assert [m.words for m in in_turn.free_motions] == [m.words for m in alone.free_motions]


def test_pencil_on_the_way_leaves_out_what_ink_says_soon(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[object] = []
    monkeypatch.setattr("solver.stages.friction_fails_nm", asked.append)
    told = analyse_in_turn(small())
    assert not next(told).results.one_bolt_lost
    assert not asked
    (ink,) = (judged.results for judged in told)
    assert len(asked) == 1
    last = analyse(small(), refine=False)
    assert len(asked) == 1  # a blank makes it a guess
    assert [lost.bolt for lost in last.one_bolt_lost] == [lost.bolt for lost in ink.one_bolt_lost] != []


def test_pencil_comes_first_and_no_mesh_is_solved_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    solved = []
    stage = solver.stages.stage_on
    monkeypatch.setattr(solver.stages, "stage_on", lambda *given: solved.append(1) or stage(*given))
    shares: list[float] = []
    turns = analyse_in_turn(small(), progress=lambda _, share: shares.append(share))
    pencil = next(turns)
    assert len(solved) == 1
    assert (pencil.results.verdict, pencil.results.accuracy.refined) == ("no verdict", False)
    ink = next(turns)
    assert ink.results.accuracy.refined
    assert len(solved) == len(ink.results.accuracy.unknowns)
    assert ink.results.accuracy.unknowns[0] == pencil.results.accuracy.unknowns[0]
    assert pencil.solved is not None
    assert ink.solved is not None
    assert len(ink.solved.plates[0].mesh.tets) > len(pencil.solved.plates[0].mesh.tets)
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


def test_what_cannot_be_solved_is_said_once() -> None:
    bracket = straps("side by side")
    loose = bracket.but(bolts=tuple(b for b in bracket.bolts if b.joins.to == "boss"))
    (only,) = analyse_in_turn(loose)
    assert only.solved is None
    alone = analyse(loose)
    assert only.results.plates == ()
    assert (only.results.verdict, only.results.reasons) == (alone.verdict, alone.reasons)


def test_what_progress_raises_ends_the_analysis() -> None:
    class StoppedError(Exception):
        pass

    def stop(words: str, share: float) -> None:
        if words == "solving the first mesh":
            raise StoppedError

    with pytest.raises(StoppedError):
        next(analyse_in_turn(small(), progress=stop))
