"""Several workers at once, with a stand-in for the solver in their processes."""

from __future__ import annotations

import os

import pytest

from app.ladder.crew import ONE_THREAD, Crew
from app.worker.client import STOPPED_TWICE, Worker
from tests.app.worker.stand_ins import FOR_EVER, KILLS, serve, with_couple


def test_all_are_answered_by_two_processes_and_one_that_kills_its_worker_takes_none_along() -> None:
    made: list[Worker] = []

    def make() -> Worker:
        made.append(Worker(serve))
        return made[-1]

    couples = [20.0, KILLS, 21.0, 22.0, 23.0]
    answers = {
        bracket.loads.couple.value_nm: answer
        for bracket, answer in Crew(2, make).judge([with_couple(c) for c in couples])
    }
    assert set(answers) == set(couples)
    assert answers[KILLS].trouble == STOPPED_TWICE
    assert {answers[c].verdict for c in couples if c != KILLS} == {"pass"}
    assert len(made) == 2
    assert not any(worker.alive for worker in made)


def test_left_midway_every_process_ends_at_once() -> None:
    made: list[Worker] = []

    def make() -> Worker:
        made.append(Worker(serve))
        return made[-1]

    judging = Crew(2, make).judge([with_couple(20.0), with_couple(FOR_EVER)])
    next(judging)
    assert any(worker.alive for worker in made)
    judging.close()
    assert not any(worker.alive for worker in made)


def test_what_processes_are_told_is_taken_back(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("OMP_NUM_THREADS", "7")
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    before = {name: os.environ.get(name) for name in ONE_THREAD}
    assert len(list(Crew(2, lambda: Worker(serve)).judge([with_couple(20.0)]))) == 1
    assert {name: os.environ.get(name) for name in ONE_THREAD} == before
