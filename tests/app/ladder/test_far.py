"""Steps judged by workers behind a scheduler: one killed midway loses nothing."""

from __future__ import annotations

import os
import signal

import pytest

from app.ladder.climb import climb
from app.ladder.far_task import answered
from app.ladder.kept_answers import of_sources
from app.ladder.keys import varied
from app.ladder.rung import Answer
from app.ladder.steps import ladder_of
from solver.version import VERSION
from tests.brackets import straps

far = pytest.importorskip("app.ladder.far")


@pytest.mark.long
@pytest.mark.skipif(os.name == "nt", reason="a process is killed by a signal")
def test_two_workers_one_killed_midway_and_no_result_is_lost() -> None:
    ladder = ladder_of(straps("side by side"), [varied("plate.thickness=4,5,6,7,8,9,10,11")])
    crew = far.Far(workers=2)
    pids = list(crew.client.run(os.getpid).values())
    assert len(set(pids)) == 2
    assert os.getpid() not in pids
    rungs = []
    for rung in climb(ladder, crew.judge):
        if not rungs:
            os.kill(pids[0], signal.SIGKILL)
        rungs.append(rung)
    assert sorted(rung.values for rung in rungs) == sorted(step.values for step in ladder.steps)
    assert [rung.answer.trouble for rung in rungs] == [""] * len(rungs)
    assert {rung.answer.verdict for rung in rungs} == {"fail"}
    here = Answer.model_validate_json(answered(ladder.steps[0].bracket.model_dump_json()))
    there = next(rung.answer for rung in rungs if rung.values == ladder.steps[0].values)
    assert there.mass_kg == pytest.approx(here.mass_kg)
    assert there.used_upper == pytest.approx(here.used_upper, rel=1e-6)


def test_a_scheduler_that_is_not_there_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(far, "CONNECT_S", 1)
    with pytest.raises(far.FarError, match=r"tcp://127\.0\.0\.1:9 cannot be reached"):
        far.Far(scheduler="tcp://127.0.0.1:9")


def test_a_worker_with_other_sources_of_the_same_version_is_not_believed() -> None:
    class Told:
        def __init__(self, version: str) -> None:
            self.version = version

        def result(self) -> str:
            return Answer(verdict="pass", version=self.version).model_dump_json()

    bracket = straps("side by side")
    for other in (VERSION, f"{VERSION}-0123456789abcdef"):
        refused = far._answer(Told(other), bracket)
        assert (refused.verdict, refused.trouble[:23]) == ("no verdict", "the worker runs version")
    known = far._answer(Told(of_sources()), bracket)
    assert (known.verdict, known.version, known.trouble) == ("pass", VERSION, "")
