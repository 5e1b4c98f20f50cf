"""From the judge to the sheet: nothing before it begins, states told rightly, trials come and go."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from app.window.door import Door
from app.window.still_judge import StillJudge
from app.window.verdict_flow import VerdictFlow
from geometry.bracket import Bracket
from geometry.finding import Finding, Severity
from solver.results import Results
from tests.app.example_results import example_results
from tests.brackets import one_piece


@pytest.fixture
def flow(qtbot: QtBot) -> tuple[VerdictFlow, StillJudge, Door, list[tuple[object, str]]]:
    door, judge = Door(one_piece()), StillJudge()
    flow = VerdictFlow(door, judge)
    told: list[tuple[object, str]] = []
    flow.results_changed.connect(lambda results, state: told.append((results, state)))
    return flow, judge, door, told


def results_of(bracket: Bracket) -> Results:
    """Return the example's results as if they were that bracket's."""
    return replace(example_results(), hash=bracket.input_hash())


Flow = tuple[VerdictFlow, StillJudge, Door, list[tuple[object, str]]]


def test_nothing_is_asked_before_it_begins(flow: Flow) -> None:
    verdicts, judge, door, _ = flow
    door.attempt("rake", lambda bracket: bracket.but(rake_deg=11.0))
    assert judge.asked == []
    verdicts.begin()
    assert judge.asked == [door.bracket]


def test_pencil_then_ink_then_out_of_date(flow: Flow) -> None:
    verdicts, judge, _, told = flow
    results = results_of(one_piece())
    judge.pencil.emit(results)
    judge.ink.emit(results)
    judge.out_of_date.emit()
    assert told == [(results, "pencil"), (results, "ink"), (results, "out of date")]
    verdicts.forget()
    assert told[-1] == (None, "none")
    judge.out_of_date.emit()
    assert told[-1] == (None, "none")


def test_findings_follow_a_change_after_the_drawing(flow: Flow, qtbot: QtBot) -> None:
    verdicts, _, door, _ = flow
    verdicts.begin()
    with qtbot.waitSignal(verdicts.findings_changed) as found:
        door.attempt("no casing", lambda bracket: bracket.but(casing=None))
    assert any("boss" in str(finding.values) or "casing" in finding.code for finding in found.args[0])


def test_a_trial_asks_at_once_and_its_end_shows_what_stood_before(flow: Flow) -> None:
    verdicts, judge, door, told = flow
    quick: list[object] = []
    verdicts.quick_changed.connect(quick.append)
    results = results_of(one_piece())
    judge.ink.emit(results)
    verdicts.try_out(door.bracket, ("1",), ())
    assert judge.trials == [(("1",), ())]
    verdicts.end_trial()
    assert judge.trials[-1] == ((), ())
    assert quick == [None]
    assert told[-1] == (results, "ink")


def test_what_was_said_of_a_failure_goes_with_the_next_verdict(flow: Flow) -> None:
    verdicts, judge, _, _ = flow
    said: list[str] = []
    verdicts.told.connect(said.append)
    judge.ink.emit(results_of(one_piece()))
    assert said == []
    judge.failed.emit("It stopped.")
    judge.ink.emit(results_of(one_piece()))
    assert said == ["It stopped.", ""]


@pytest.mark.parametrize(
    ("severity", "verdict"), [("doubt", "no verdict"), ("stop", "no verdict"), ("note", "pass")]
)
def test_what_was_found_about_the_file_stands_against_a_pass(
    flow: Flow, severity: Severity, verdict: str
) -> None:
    verdicts, judge, _, told = flow
    verdicts.forget((Finding("key-unknown", severity, "plate main", {"key": "welds"}),))
    results = results_of(one_piece())
    assert results.verdict == "pass"
    judge.ink.emit(results)
    judge.out_of_date.emit()
    for shown, _state in told[1:]:
        assert isinstance(shown, Results)
        assert shown.verdict == verdict
        assert ("welds" in shown.reasons[0]) == (verdict != "pass")
    verdicts.forget()
    judge.ink.emit(results)
    assert told[-1] == (results, "ink")


def test_no_verdict_stands_as_if_it_were_about_a_gesture_in_progress(flow: Flow) -> None:
    verdicts, judge, door, told = flow
    verdicts.begin()
    results = results_of(one_piece())
    judge.ink.emit(results)
    door.preview(lambda bracket: bracket.but(rake_deg=11.0))
    assert told[-1] == (results, "out of date")
    shown = len(told)
    door.preview(lambda bracket: bracket.but(rake_deg=12.0))
    assert len(told) == shown
    judge.ink.emit(results)
    assert told[-1] == (results, "out of date")
    door.preview(lambda bracket: bracket)
    assert told[-1] == (results, "ink")
    door.preview(lambda bracket: bracket.but(rake_deg=12.0))
    door.drop_preview()
    assert told[-1] == (results, "ink")
    door.preview(lambda bracket: bracket.but(title="other"))
    door.keep_preview("title")
    assert told[-1] == (results, "ink")


def test_a_gesture_that_is_kept_is_judged_anew(flow: Flow) -> None:
    verdicts, judge, door, told = flow
    verdicts.begin()
    results = results_of(one_piece())
    judge.ink.emit(results)
    door.preview(lambda bracket: bracket.but(rake_deg=11.0))
    door.keep_preview("rake")
    assert judge.asked[-1].rake_deg == 11.0
    assert told[-1] == (results, "out of date")
    judge.ink.emit(results)
    # they are of the bracket before the gesture
    assert told[-1] == (results, "out of date")
    anew = results_of(door.bracket)
    judge.ink.emit(anew)
    assert told[-1] == (anew, "ink")
