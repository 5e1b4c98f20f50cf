"""The window's end of the worker, with a stand-in for the solver in its process."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from app.worker.client import CANNOT_START, LATE_S, STARTED_AGAIN, STOPPED_TWICE, Worker
from app.worker.messages import Answer, Failed, Ink, Pencil, Progress, Quick, Ready
from geometry.loads import Limits
from tests.app.thread_time import tells_queueing, thread_time, waited
from tests.app.worker.stand_ins import (
    FOR_EVER,
    HANGS,
    KILLS,
    QUICK_S,
    STARTED,
    serve,
    serve_at_leisure,
    serve_never,
    with_couple,
)

PATIENCE_S = 60.0


@pytest.fixture
def worker() -> Iterator[Worker]:
    worker = Worker(serve)
    yield worker
    worker.close()


def hear(worker: Worker, until: Callable[[Answer], bool], patience_s: float = PATIENCE_S) -> list[Answer]:
    """Return all that is said, up to the answer waited for; TimeoutError if it never comes."""
    heard: list[Answer] = []
    end = time.monotonic() + patience_s
    while time.monotonic() < end:
        for answer in worker.poll():
            heard.append(answer)
            if until(answer):
                return heard
        time.sleep(0.005)
    raise TimeoutError(f"waited {patience_s:.0f} s; heard {[type(a).__name__ for a in heard]}")


def kind(*kinds: type[Answer]) -> Callable[[Answer], bool]:
    return lambda answer: isinstance(answer, kinds)


def pid(worker: Worker) -> int:
    assert worker._line is not None
    found = worker._line.process.pid
    assert found is not None
    return found


def gone(process: int) -> bool:
    try:
        os.waitpid(process, os.WNOHANG)
    except ChildProcessError:
        return True
    return False


def test_asked_before_it_is_ready_it_answers_in_pencil_then_in_ink(worker: Worker) -> None:
    bracket = with_couple(30)
    number = worker.ask(bracket)
    assert worker.busy
    heard = hear(worker, kind(Ink))
    assert [type(a) for a in heard] == [Ready, Progress, Pencil, Ink]
    assert all(a.number == number for a in heard if not isinstance(a, Ready))
    assert {a.key for a in heard if isinstance(a, Pencil | Ink)} == {bracket.input_hash()}
    assert not worker.busy
    assert worker.alive


def test_answers_belong_to_the_bracket_under_the_limits_in_force(worker: Worker) -> None:
    bracket, limits = with_couple(30), Limits(turn_deg=0.05)
    worker.ask(bracket, limits=limits)
    ink = hear(worker, kind(Ink))[-1]
    assert isinstance(ink, Ink)
    assert ink.key == bracket.but(limits=limits).input_hash() != bracket.input_hash()


def test_cancel_kills_and_starts_again_without_waiting(worker: Worker) -> None:
    worker.ask(with_couple(FOR_EVER))
    hear(worker, kind(Progress))
    before = pid(worker)
    began = thread_time()
    worker.cancel()
    ended = thread_time()
    assert ended.worked - began.worked < 1.0
    if tells_queueing():
        # Of the process that goes nothing is awaited but that the system has taken it away.
        assert waited(began, ended) < 1.0
    assert not worker.busy
    assert pid(worker) != before
    heard = hear(worker, kind(Ready))
    assert [type(a) for a in heard] == [Ready]
    worker.ask(with_couple(30))
    hear(worker, kind(Ink))


def test_what_is_ended_while_it_starts_has_started_before_it_is_killed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed while it starts its helper it would leave that one to complain in the terminal."""
    mark = tmp_path / "started"
    monkeypatch.setenv(STARTED, str(mark))
    worker = Worker(serve_at_leisure)
    worker.start()
    assert worker._line is not None
    process = worker._line.process
    worker.close()
    assert not worker.alive
    process.join(PATIENCE_S)
    assert process.exitcode is not None
    assert mark.exists()


def test_of_questions_with_the_same_plates_only_the_newest_is_answered_by_the_same_process(
    worker: Worker,
) -> None:
    worker.ask(with_couple(FOR_EVER))
    hear(worker, kind(Progress))
    before = pid(worker)
    number = worker.ask(with_couple(30))
    heard = hear(worker, kind(Ink))
    assert {a.number for a in heard if not isinstance(a, Ready)} == {number}
    assert pid(worker) == before


@pytest.mark.parametrize("dropped", [False, True])
def test_question_with_other_plates_is_answered_by_the_same_process(worker: Worker, dropped: bool) -> None:
    bracket = with_couple(FOR_EVER)
    worker.ask(bracket)
    hear(worker, kind(Progress))
    before = pid(worker)
    other = with_couple(30).with_plate(bracket.plates[0].but(thickness_mm=5))
    if dropped:
        worker.drop()
    worker.ask(other)
    ink = hear(worker, kind(Ink))[-1]
    assert isinstance(ink, Ink)
    assert ink.key == other.input_hash()
    assert pid(worker) == before


@pytest.mark.parametrize("dropped", [False, True])
def test_process_that_does_not_end_what_nobody_waits_for_is_replaced_without_a_word(
    worker: Worker, dropped: bool
) -> None:
    worker.ask(with_couple(HANGS))
    hear(worker, kind(Progress))
    before = pid(worker)
    if dropped:
        worker.drop()
    asked = time.monotonic()
    number = worker.ask(with_couple(30))
    worker.ask_quick(with_couple(31))
    heard = hear(worker, kind(Quick))
    assert time.monotonic() - asked > LATE_S
    assert pid(worker) != before
    assert [type(a) for a in heard] == [Ready, Progress, Pencil, Ink, Quick]
    assert {a.number for a in heard if isinstance(a, Ink)} == {number}
    # What hung is no fault of the bracket that came after it.
    worker.ask(with_couple(FOR_EVER))
    hear(worker, kind(Progress))
    before = pid(worker)
    end = time.monotonic() + LATE_S + 0.5
    while time.monotonic() < end:
        assert worker.poll() == []
        time.sleep(0.02)
    assert pid(worker) == before


def test_dropped_question_is_not_answered(worker: Worker) -> None:
    worker.ask(with_couple(30))
    worker.drop()
    assert not worker.busy
    worker.ask_quick(with_couple(30))
    assert not [a for a in hear(worker, kind(Quick)) if isinstance(a, Pencil | Ink)]


def test_killed_process_is_noticed_and_the_question_asked_again(worker: Worker) -> None:
    number = worker.ask(with_couple(FOR_EVER))
    hear(worker, kind(Progress))
    before = pid(worker)
    listening = [t for t in threading.enumerate() if t.name == "holdsquare listening"]
    os.kill(before, signal.SIGKILL)
    for thread in listening:
        thread.join(PATIENCE_S)
    # At the first look after the pipe broke: no timer has to run out.
    [failed] = worker.poll()
    assert failed == Failed(number, STARTED_AGAIN, final=False)
    assert worker.busy
    assert hear(worker, kind(Progress))[-1] == Progress(number, "solving the first mesh", 0.1)
    assert pid(worker) != before


def test_bracket_that_kills_it_twice_is_left_alone_until_it_changes(worker: Worker) -> None:
    number = worker.ask(with_couple(KILLS))
    heard = [a for a in hear(worker, lambda a: isinstance(a, Failed) and a.final) if isinstance(a, Failed)]
    assert heard == [Failed(number, STARTED_AGAIN, final=False), Failed(number, STOPPED_TWICE)]
    assert not worker.busy
    hear(worker, kind(Ready))
    before = pid(worker)
    again = worker.ask(with_couple(KILLS))
    assert worker.poll() == [Failed(again, STOPPED_TWICE)]
    worker.ask_quick(with_couple(KILLS))
    worker.ask(with_couple(30))
    assert not [a for a in hear(worker, kind(Ink)) if isinstance(a, Quick)]
    assert pid(worker) == before


def test_death_while_nothing_is_asked_is_mended_in_silence(worker: Worker) -> None:
    worker.start()
    hear(worker, kind(Ready))
    os.kill(pid(worker), signal.SIGKILL)
    assert [type(a) for a in hear(worker, kind(Ready))] == [Ready]


def test_process_that_never_gets_ready_is_not_started_for_ever() -> None:
    worker = Worker(serve_never)
    worker.ask(with_couple(30))
    said = hear(worker, lambda a: isinstance(a, Failed) and a.final)[-1]
    assert isinstance(said, Failed)
    assert said.words == CANNOT_START.format(why="it ends before it is ready")
    assert not worker.alive
    assert not worker.busy
    time.sleep(0.1)
    assert worker.poll() == []


def test_system_that_starts_no_process_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(serve: object) -> None:
        raise OSError(11, "Resource temporarily unavailable")

    monkeypatch.setattr("app.worker.client.Line", refuse)
    worker = Worker(serve)
    number = worker.ask(with_couple(30))
    assert worker.poll() == [Failed(number, CANNOT_START.format(why="Resource temporarily unavailable"))]
    assert not worker.busy


def test_of_quick_questions_that_wait_only_the_newest_is_answered(worker: Worker) -> None:
    worker.start()
    hear(worker, kind(Ready))
    numbers = [worker.ask_quick(with_couple(20 + i)) for i in range(40)]
    heard = hear(worker, lambda a: isinstance(a, Quick) and a.number == numbers[-1])
    assert [a.number for a in heard if isinstance(a, Quick)] == [numbers[0], numbers[-1]]
    assert [a.key for a in heard if isinstance(a, Quick)][-1] == with_couple(59).input_hash()
    time.sleep(3 * QUICK_S)
    assert worker.poll() == []


def test_closed_worker_is_gone_and_can_be_asked_again(worker: Worker) -> None:
    worker.start()
    hear(worker, kind(Ready))
    process = pid(worker)
    worker.close()
    end = time.monotonic() + PATIENCE_S
    while not gone(process) and time.monotonic() < end:
        time.sleep(0.01)
    assert gone(process)
    assert not worker.alive
    worker.ask(with_couple(30))
    hear(worker, kind(Ink))


def test_no_room_for_a_thread_is_told_and_leaves_no_process(
    worker: Worker, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_thread: threading.Thread) -> None:
        raise RuntimeError("can't start new thread")

    with monkeypatch.context() as short:
        short.setattr(threading.Thread, "start", refuse)
        worker.ask(with_couple(30))
    (failed,) = worker.poll()
    assert isinstance(failed, Failed)
    assert failed.words == CANNOT_START.format(why="can't start new thread")
    assert not worker.busy
    worker.ask(with_couple(30))
    hear(worker, kind(Ink))
