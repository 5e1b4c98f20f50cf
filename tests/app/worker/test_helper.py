"""The helper: a second process whose answers are those of the first, and which may be lost at any time."""

from __future__ import annotations

import os
import queue
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from app.cli.report_json import json_text
from app.report.judged_file import JudgedFile, as_judged
from app.worker import helper as second
from app.worker.client import Worker
from app.worker.helper import MOST_DEATHS, ROOM_BYTES, SecondProcess, have_second_process
from app.worker.helping import Found, help_out
from app.worker.line import Line
from app.worker.messages import Ink, Ready
from geometry.bracket import Bracket
from geometry.placing import place_bolts
from geometry.solid_mesh import SolidMesh
from geometry.wanted import while_wanted
from solver.analyse import analyse, analyse_in_turn
from solver.asides import asides_alone
from solver.helper import HelperLostError, have_helper, helper_had
from solver.kept_plates import KeptPlates
from solver.results import Results
from tests.app.worker.stand_ins import serve
from tests.app.worker.test_client import gone, hear, kind, pid
from tests.app.worker.test_process import small

Begin = Callable[[Callable[[Connection], None]], SecondProcess]
PATIENCE_S = 30.0


@pytest.fixture
def begin() -> Iterator[Begin]:
    """Begin helpers that every analysis then asks; they end with the test."""
    begun: list[SecondProcess] = []

    def one(serve: Callable[[Connection], None] = help_out) -> SecondProcess:
        begun.append(SecondProcess(serve))
        have_helper(begun[-1])
        return begun[-1]

    yield one
    have_helper(None)
    for helper in begun:
        helper.close()


def dies(connection: Connection) -> None:
    connection.recv()
    os._exit(3)


def knows_nothing(connection: Connection) -> None:
    while True:
        connection.send(Found(connection.recv().number, None))


def says_nothing(connection: Connection) -> None:
    while True:
        connection.recv()


def says_what_is_nowhere(connection: Connection) -> None:
    """Say a thing of a name that its module has not, and wait."""
    connection.send_bytes(b"cos\nno_such_thing\n.")
    says_nothing(connection)


def hears_nothing(connection: Connection) -> None:
    """Read nothing: a mesh is more than a pipe holds."""
    while not connection.closed:
        time.sleep(0.05)


def meshes(bracket: Bracket) -> tuple[SolidMesh, ...]:
    return KeptPlates().first_meshes(bracket, place_bolts(bracket))


def said(results: Results) -> str:
    """Return every digit that is said of a bracket; how long it took is no part of it."""
    return json_text([as_judged(JudgedFile("it"), replace(results, seconds={}))])


@pytest.fixture
def alone() -> str:
    return said(analyse(small()))


def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return what is asked of any helper from now on."""
    names: list[str] = []
    for name in "begin_around", "begin_asides", "begin_lost":
        true = getattr(SecondProcess, name)

        def noted(own: SecondProcess, *given: object, name: str = name, true: object = true) -> object:
            names.append(name)
            return true(own, *given)  # type: ignore[operator]

        monkeypatch.setattr(SecondProcess, name, noted)
    return names


def test_with_a_helper_all_is_said_to_the_last_digit_as_without(
    begin: Begin, alone: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    names = asked(monkeypatch)
    begin(help_out)

    def here(*_: object) -> None:
        raise AssertionError("this is the helper's work")

    monkeypatch.setattr("solver.analyse.asides_of", here)
    monkeypatch.setattr("solver.analyse.around", here)
    monkeypatch.setattr("solver.analyse.lost_bolts", here)
    assert said(analyse(small())) == alone
    assert names == ["begin_around", "begin_asides", "begin_lost"]
    pencil, ink = analyse_in_turn(small())
    assert not pencil.results.accuracy.refined
    assert said(ink.results) == alone


@pytest.mark.parametrize("serve", [dies, knows_nothing])
def test_a_helper_that_is_lost_is_done_without(
    begin: Begin, alone: str, serve: Callable[[Connection], None]
) -> None:
    begin(serve)
    assert said(analyse(small())) == alone


@pytest.mark.parametrize("serve", [says_nothing, hears_nothing])
def test_a_helper_that_hangs_is_ended_and_done_without(
    begin: Begin, alone: str, monkeypatch: pytest.MonkeyPatch, serve: Callable[[Connection], None]
) -> None:
    monkeypatch.setattr(second, "_PATIENCE_S", 0.2)
    monkeypatch.setattr(second, "_PATIENCE_SHARE", 0.0)
    helper = begin(serve)
    process = helper.process_id
    assert process is not None
    assert said(analyse(small())) == alone
    assert helper.process_id != process
    waited_for(lambda: gone(process))


def test_a_question_that_cannot_be_sent_ends_the_process_and_nobody_waits_for_ever(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told: queue.SimpleQueue[threading.ExceptHookArgs] = queue.SimpleQueue()
    monkeypatch.setattr(threading, "excepthook", told.put)
    line: Line[Found] = Line(says_nothing)
    try:
        line.send(lambda: None)
        assert line.said.get(timeout=PATIENCE_S) is None
        assert "pickle" in str(told.get(timeout=PATIENCE_S).exc_value)
    finally:
        line.cut()


def test_an_answer_that_cannot_be_read_ends_the_process_and_nobody_waits_for_ever() -> None:
    line: Line[Found] = Line(says_what_is_nowhere)
    try:
        assert line.said.get(timeout=PATIENCE_S) is None
        line.process.join(PATIENCE_S)
        assert not line.process.is_alive()
    finally:
        line.cut()


def test_a_helper_that_died_too_often_is_not_started_again(begin: Begin) -> None:
    helper = begin(dies)
    processes = set()
    for _ in range(MOST_DEATHS):
        lost = helper.begin_around(small())
        processes.add(helper.process_id)
        with pytest.raises(HelperLostError):
            lost()
    assert len(processes) == MOST_DEATHS
    with pytest.raises(HelperLostError):
        helper.begin_around(small())()
    assert helper.process_id is None


def test_a_newer_question_takes_the_place_of_an_older_one(begin: Begin) -> None:
    helper = begin(help_out)
    older = helper.begin_asides(small(), meshes(small()))
    newer = helper.begin_around(small())
    assert isinstance(newer(), tuple)
    with pytest.raises(HelperLostError):
        older()


def test_work_that_nobody_waits_for_any_more_ends_before_its_end() -> None:
    class Enough(Exception):  # noqa: N818 - no error
        pass

    def no_longer() -> None:
        raise Enough

    with pytest.raises(Enough), while_wanted(no_longer):
        asides_alone(small(), meshes(small()), KeptPlates())


def test_asides_alone_are_those_of_the_first_mesh(begin: Begin) -> None:
    helper, bracket = begin(help_out), small()
    calls: list[int] = []
    with while_wanted(lambda: calls.append(1)):
        here = asides_alone(bracket, meshes(bracket), KeptPlates())
    there = helper.begin_asides(bracket, meshes(bracket))()
    assert len(calls) >= 3
    assert there.sure == here.sure
    assert there.footprints == here.footprints
    assert there.friction_fails_nm == here.friction_fails_nm
    assert there.swing is not None
    assert here.swing is not None
    assert there.swing.hz == here.swing.hz
    assert [s.rest for s in there.suppleness] == [s.rest for s in here.suppleness]


def test_no_helper_on_one_core_nor_without_memory_nor_unwanted(monkeypatch: pytest.MonkeyPatch) -> None:
    def never() -> None:
        raise AssertionError("no helper is wanted here")

    monkeypatch.setattr(second, "SecondProcess", never)
    monkeypatch.setattr(second, "CORES", 2)
    monkeypatch.setattr(second, "free_bytes", lambda: 0.5 * ROOM_BYTES)
    monkeypatch.setenv("HOLDSQUARE_HELPER", "")
    have_second_process()
    monkeypatch.setattr(second, "free_bytes", lambda: None)
    monkeypatch.setenv("HOLDSQUARE_HELPER", "no")
    have_second_process()
    monkeypatch.setenv("HOLDSQUARE_HELPER", "")
    monkeypatch.setattr(second, "CORES", 1)
    have_second_process()
    assert helper_had() is None
    monkeypatch.setattr(second, "CORES", 2)
    with pytest.raises(AssertionError):
        have_second_process()


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="looks processes up in /proc")
def test_the_windows_worker_has_a_helper_that_ends_with_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOLDSQUARE_HELPER", "")
    monkeypatch.setenv("HOLDSQUARE_CORES", "2")
    worker = Worker()
    try:
        worker.ask(small())
        hear(worker, kind(Ink))
        helpers = children_of(pid(worker))
        assert helpers
        # Who asks is waited for, and comes first.
        niceness = [os.getpriority(os.PRIO_PROCESS, process) for process in (pid(worker), *helpers)]
        assert niceness[0] < max(niceness[1:]) or niceness[0] == 19
        os.kill(pid(worker), signal.SIGKILL)
        waited_for(lambda: all(gone(process) for process in helpers))
    finally:
        worker.close()


def children_of(process: int) -> list[int]:
    told = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii")
    return [int(child) for child in told.split()]


def waited_for(what: Callable[[], bool]) -> None:
    end = time.monotonic() + PATIENCE_S
    while not what():
        assert time.monotonic() < end
        time.sleep(0.02)


@pytest.mark.skipif(sys.platform == "win32", reason="keys go another way there")
def test_a_key_pressed_while_a_process_is_still_starting_does_not_reach_it() -> None:
    line: Line[Ready] = Line(serve)
    try:
        os.kill(line.process.pid or 0, signal.SIGINT)
        assert isinstance(line.said.get(timeout=60.0), Ready)
        assert signal.SIGINT not in signal.pthread_sigmask(signal.SIG_BLOCK, ())
    finally:
        line.cut()
