"""The trial can fail: each thing that must never be is told when it is."""

from __future__ import annotations

from dataclasses import replace
from multiprocessing import get_context

import numpy as np
import pytest

from geometry.finding_words import found
from geometry.solid_mesh import least_jacobian
from solver.analyse import Judged, judge
from solver.results import Check, Results
from tests.brackets import meshed, one_piece
from tests.sound.invariants import problems_of
from tests.sound.mirror import mirrored_mesh
from tests.sound.sound_trial import _row_of, _Worker
from tests.sound.telling import table
from tests.sound.the_way import NO_FIGURE, Asked, kind_of, whole_way

BRACKET = one_piece()


@pytest.fixture(scope="module")
def judged() -> Judged:
    return judge(BRACKET, refine=False)


def _told(judged: Judged, **changes: object) -> str:
    results = replace(judged.results, **changes)
    return "; ".join(problems_of(BRACKET, replace(judged, results=results), refined=False)[0])


def _worse(results: Results, **changes: object) -> tuple[Check, ...]:
    return (replace(results.checks[0], **changes), *results.checks[1:])


def test_a_sound_answer_has_no_problem(judged: Judged) -> None:
    assert _told(judged) == ""


def test_what_is_no_number_is_told(judged: Judged) -> None:
    assert "came out as no number" in _told(judged, checks=_worse(judged.results, demand=float("nan")))
    assert "results.holds_to_nm" in _told(judged, holds_to_nm=float("nan"))


def test_a_band_below_nought_and_no_reason_are_told(judged: Judged) -> None:
    assert "band below nought" in _told(judged, checks=_worse(judged.results, band=-0.1, parts=()))
    assert "without a reason" in _told(judged, reasons=())
    assert "empty reason" in _told(judged, reasons=(" ",))


def test_a_pass_that_is_none_is_told(judged: Judged) -> None:
    doubt = found("material-thickness", "dash bar", material="S235", thickness_mm=50.0)
    assert "although material-thickness is a doubt" in _told(judged, verdict="pass", findings=(doubt,))
    assert "although it holds to 1" in _told(
        judged, verdict="pass", holds_to_nm=1.0, checks=(), findings=(), free_motions=()
    )


def test_what_is_printed_in_place_of_a_figure_is_seen() -> None:
    assert [bool(NO_FIGURE.search(t)) for t in ("used nan %", "inf mm", "information", "finance")] == [
        True,
        True,
        False,
        False,
    ]


def test_a_mirrored_mesh_is_right_side_out() -> None:
    (plate,) = meshed(BRACKET, 30.0)
    mesh = mirrored_mesh(plate.condensed.mesh)
    assert least_jacobian(mesh.points, mesh.tets).min() > 0.0
    assert np.array_equal(np.sort(mesh.tets, axis=1), np.sort(plate.condensed.mesh.tets, axis=1))


def test_a_fault_is_known_by_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("figure 12 of 7")

    monkeypatch.setattr("tests.sound.the_way.judge", broken)
    outcome = whole_way(BRACKET, Asked())
    assert outcome.ended == "traceback"
    assert outcome.problems[0].startswith("ZeroDivisionError in sound/test_invariants.py, broken")
    assert kind_of(outcome.problems[0]) == kind_of(outcome.problems[0].replace("12", "13"))


def test_a_bracket_that_hangs_is_given_up() -> None:
    here, there = get_context("spawn").Pipe()
    worker = _Worker(None, here, number=6, since=-1e9)  # type: ignore[arg-type]
    row = _row_of(worker, 1, 120.0)
    there.close()
    assert row is not None
    assert row["ended"] == "hang"
    assert any("no answer after" in line for line in table([row]))
