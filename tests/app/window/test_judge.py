"""The judge, with a worker's process that answers by the bracket's couple: see stand_ins."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from itertools import pairwise

import pytest
from PySide6.QtCore import Qt, QTimer
from pytestqt.qtbot import QtBot

from app.window.judge import KEPT_INKS, PAUSE_MS, Judge
from app.worker.client import STARTED_AGAIN, STOPPED_TWICE, Worker
from geometry.bracket import Bracket
from solver.results import QuickAnswer, Results
from tests.app.thread_time import ThreadTime, tells_queueing, thread_time, waited
from tests.app.worker.stand_ins import FOR_EVER, HANGS, KILLS, serve, with_couple

PATIENCE_MS = 60_000


class SpiedWorker(Worker):
    """Remembers what it was asked, and how often it was cancelled."""

    def __init__(self) -> None:
        super().__init__(serve)
        self.judged: list[Bracket] = []
        self.followed: list[tuple[Bracket, tuple[str, ...]]] = []
        self.cancelled = 0

    def ask(self, bracket: Bracket, **options: object) -> int:
        self.judged.append(bracket)
        return super().ask(bracket, **options)

    def ask_quick(self, bracket: Bracket, *, out: tuple[str, ...] = (), slipped: tuple[str, ...] = ()) -> int:
        self.followed.append((bracket, tuple(out)))
        return super().ask_quick(bracket, out=out, slipped=slipped)

    def cancel(self) -> None:
        self.cancelled += 1
        super().cancel()


class Heard:
    """All that a judge said, in order."""

    def __init__(self, judge: Judge) -> None:
        self.words: list[str] = []
        self.results: list[Results] = []
        self.quick: list[QuickAnswer] = []
        self.failures: list[str] = []
        judge.pencil.connect(lambda results: self._note("pencil", results))
        judge.ink.connect(lambda results: self._note("ink", results))
        judge.quick.connect(self.quick.append)
        judge.failed.connect(self.failures.append)
        judge.out_of_date.connect(lambda: self.words.append("out of date"))

    def _note(self, word: str, results: Results) -> None:
        self.words.append(word)
        self.results.append(results)


@pytest.fixture
def worker() -> SpiedWorker:
    return SpiedWorker()


@pytest.fixture
def judge(qtbot: QtBot, worker: SpiedWorker) -> Iterator[Judge]:
    judge = Judge(worker=worker)
    yield judge
    judge.stop()


@pytest.fixture
def heard(judge: Judge) -> Heard:
    return Heard(judge)


def other_plate(couple_nm: float) -> Bracket:
    bracket = with_couple(couple_nm)
    return bracket.with_plate(bracket.plates[0].but(thickness_mm=5))


def test_bracket_is_judged_in_pencil_then_in_ink(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    assert judge.state == "idle"
    states: list[str] = []
    judge.state_changed.connect(states.append)
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS) as progress, qtbot.waitSignal(judge.ink):
        judge.set_bracket(with_couple(30))
    assert progress.args == ["solving the first mesh", pytest.approx(0.1)]
    assert heard.words == ["pencil", "ink"]
    assert [r.accuracy.refined for r in heard.results] == [False, True]
    assert states == ["working", "up to date"]


def test_other_plates_are_judged_at_once_and_before_anything_is_drawn(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    qtbot.wait(PAUSE_MS + 50)
    when_drawn: list[int] = []
    judge.out_of_date.connect(lambda: when_drawn.append(len(worker.judged)))
    judge.set_bracket(other_plate(30))
    assert worker.judged == [with_couple(30), other_plate(30)]
    assert when_drawn == [2]
    assert judge.state == "working"


def test_other_loads_are_followed_and_judged_after_a_pause(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    qtbot.wait(PAUSE_MS + 50)
    judge.set_bracket(with_couple(31))
    assert (judge.state, len(worker.judged), len(worker.followed)) == ("waiting", 1, 1)
    qtbot.waitUntil(lambda: len(worker.judged) == 2, timeout=PATIENCE_MS)


def test_of_many_edits_the_first_and_the_last_are_judged(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    for couple in range(20, 31):
        judge.set_bracket(with_couple(couple).with_plate(other_plate(1).plates[0].but(thickness_mm=couple)))
        qtbot.wait(10)
    qtbot.waitUntil(lambda: bool(heard.results) and heard.results[-1].couple_nm == 30, timeout=PATIENCE_MS)
    assert [b.loads.couple.value_nm for b in worker.judged] == [20, 30]
    assert worker.cancelled == 0


def test_what_changes_no_result_begins_nothing(qtbot: QtBot, judge: Judge, worker: SpiedWorker) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    judge.set_bracket(with_couple(30).but(title="renamed"))
    assert judge.state == "up to date"
    qtbot.wait(2 * PAUSE_MS)
    assert len(worker.judged) == 1


def test_edit_puts_what_was_told_out_of_date_and_undo_brings_its_ink_back_at_once(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    judge.set_bracket(with_couple(31))
    judge.set_bracket(with_couple(32))
    assert heard.words == ["pencil", "ink", "out of date"]
    judge.set_bracket(with_couple(30))
    assert heard.words == ["pencil", "ink", "out of date", "ink"]
    assert heard.results[-1] is heard.results[-2]
    assert judge.state == "up to date"
    qtbot.wait(2 * PAUSE_MS)
    assert worker.judged == [with_couple(30)]


def test_only_the_last_inks_are_kept(qtbot: QtBot, judge: Judge, worker: SpiedWorker) -> None:
    judge._pause.setInterval(1)
    for couple in range(1, KEPT_INKS + 2):
        with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
            judge.set_bracket(with_couple(couple))
    judge.set_bracket(with_couple(2))
    assert judge.state == "up to date"
    judge.set_bracket(with_couple(1))
    assert judge.state == "waiting"


def test_nothing_begins_while_the_pointer_is_down(qtbot: QtBot, judge: Judge, worker: SpiedWorker) -> None:
    judge.set_hold(True)
    judge.set_bracket(with_couple(30))
    qtbot.wait(PAUSE_MS + 100)
    assert (judge.state, worker.judged) == ("waiting", [])
    assert worker.judged == []
    judge.set_hold(False)
    # The change came by itself: nothing more is waited for.
    assert judge.state == "working"
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        pass


def test_gesture_begins_the_pause_anew(qtbot: QtBot, judge: Judge, worker: SpiedWorker) -> None:
    judge.set_bracket(with_couple(30))
    judge.set_bracket(with_couple(31))
    for _ in range(8):
        qtbot.wait(PAUSE_MS // 4)
        judge.hold()
    assert worker.judged == [with_couple(30)]
    qtbot.waitUntil(lambda: len(worker.judged) == 2, timeout=PATIENCE_MS)


def test_edit_of_a_plate_drops_the_analysis_and_its_process_goes_on(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(FOR_EVER))
    process = worker.process_id
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(other_plate(30))
    assert (worker.cancelled, worker.process_id) == (0, process)
    assert heard.results[-1].hash == other_plate(30).input_hash()


def test_edit_of_a_plate_is_judged_though_the_analysis_before_it_hangs(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(HANGS))
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(other_plate(30))
    assert heard.failures == []
    assert heard.results[-1].hash == other_plate(30).input_hash()


def test_edit_of_loads_lets_the_analysis_go_on_until_the_next_begins(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(FOR_EVER))
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    assert worker.cancelled == 0
    assert heard.results[-1].couple_nm == 30


def test_loads_are_followed_at_once_other_plates_are_not(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    judge.set_bracket(with_couple(30))
    assert worker.followed == []
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        pass
    with qtbot.waitSignal(judge.quick, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(31))
    assert worker.followed == [(with_couple(31), ())]
    assert judge.state in ("waiting", "working")
    judge.set_bracket(other_plate(31))
    assert len(worker.followed) == 1
    with qtbot.waitSignal(judge.quick, timeout=PATIENCE_MS):
        judge.follow(with_couple(33))


def test_slider_is_followed_while_it_moves(qtbot: QtBot, judge: Judge, heard: Heard) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    for step in range(60):
        judge.set_bracket(with_couple(31 + 0.1 * step))
        qtbot.wait(16)
    # Each answer takes the process 50 ms and up to 30 ms until it is heard.
    assert len(heard.quick) >= 5


def test_edits_in_quick_succession_do_not_keep_the_judge_from_listening(qtbot: QtBot, judge: Judge) -> None:
    judge.start()
    # A coarse timer may be moved by a twentieth of so long a while.
    judge._poll.setTimerType(Qt.TimerType.PreciseTimer)
    judge._poll.setInterval(60_000)
    qtbot.wait(50)
    judge.set_bracket(with_couple(30))
    assert judge._poll.remainingTime() < 60_000 - 20


def test_quick_answer_about_other_plates_is_not_told(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(31))
        judge.set_bracket(other_plate(30))
    assert len(worker.followed) == 1
    assert heard.quick == []


def test_trial_is_answered_though_the_verdict_is_up_to_date(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    with qtbot.waitSignal(judge.quick, timeout=PATIENCE_MS):
        judge.set_trial(out=["1"])
    assert worker.followed == [(with_couple(30), ("1",))]
    judge.set_trial(slipped=["1"])
    judge.set_trial()
    qtbot.wait(300)
    assert len(heard.quick) == 1
    assert judge.state == "up to date"


@pytest.mark.parametrize("trial", ["bolt", "couple"])
def test_trial_is_answered_by_a_process_that_was_started_anew(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard, trial: str
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    assert worker._line is not None
    assert worker._line.process.pid is not None
    os.kill(worker._line.process.pid, signal.SIGKILL)
    qtbot.waitUntil(lambda: judge._solved == [] and worker.alive, timeout=PATIENCE_MS)
    with qtbot.waitSignal(judge.quick, timeout=PATIENCE_MS):
        if trial == "bolt":
            judge.set_trial(out=["1"])
        else:
            judge.set_trial()
            judge.follow(with_couple(40))
    assert heard.words == ["pencil", "ink"]
    assert judge.state == "up to date"
    assert worker.judged == [with_couple(30)] * 2


def test_trial_that_went_with_its_process_is_taken_up_again(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    judge.set_trial(out=["1"])
    assert heard.quick == []
    assert worker.process_id is not None
    os.kill(worker.process_id, signal.SIGKILL)
    with qtbot.waitSignal(judge.quick, timeout=PATIENCE_MS):
        pass
    assert judge.state == "up to date"


def test_trial_that_ended_meanwhile_is_not_answered(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    judge._cancel()
    judge.follow(with_couple(40))
    judge.set_trial()
    qtbot.waitUntil(lambda: bool(judge._solved), timeout=PATIENCE_MS)
    qtbot.wait(200)
    assert heard.quick == []
    assert heard.words == ["pencil", "ink"]


def test_dropped_analysis_is_stopped_and_the_next_change_begins_again(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(FOR_EVER))
    judge.drop()
    assert (judge.state, worker.cancelled, worker.busy) == ("stopped", 1, False)
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    judge.drop()
    assert judge.state == "up to date"


def test_stopped_judge_has_no_process_and_begins_again_with_the_same_bracket(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker
) -> None:
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    judge.stop()
    assert judge.state == "stopped"
    assert not worker.alive
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))


def test_dead_process_is_told_of_and_the_bracket_judged_all_the_same(
    qtbot: QtBot, judge: Judge, worker: SpiedWorker, heard: Heard
) -> None:
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(FOR_EVER))
    assert worker._line is not None
    assert worker._line.process.pid is not None
    os.kill(worker._line.process.pid, signal.SIGKILL)
    with qtbot.waitSignal(judge.progressed, timeout=PATIENCE_MS):
        pass
    assert heard.failures == [STARTED_AGAIN]
    assert judge.state == "working"


def test_bracket_that_kills_the_process_is_left_alone_until_it_changes(
    qtbot: QtBot, judge: Judge, heard: Heard
) -> None:
    judge.set_bracket(with_couple(KILLS))
    qtbot.waitUntil(lambda: heard.failures == [STARTED_AGAIN, STOPPED_TWICE], timeout=PATIENCE_MS)
    assert judge.state == "out of date"
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))


def test_window_never_waits(qtbot: QtBot, judge: Judge, worker: SpiedWorker) -> None:
    """Between two ticks of a timer nothing waits and nothing computes, whatever is asked, killed or heard.

    What is measured is the thread's own doing, so that a busy machine proves nothing against it: the loop
    sleeps for some 5 ms at a time; a wait for the worker would be a longer sleep, an analysis in the window
    seconds of work.
    """
    ticks: list[ThreadTime] = []
    timer = QTimer(interval=5)
    timer.timeout.connect(lambda: ticks.append(thread_time()))
    judge.set_bracket(with_couple(FOR_EVER))
    timer.start()
    for i in range(10):
        judge.set_bracket((with_couple if i % 2 else other_plate)(FOR_EVER))
        qtbot.wait(PAUSE_MS + 100)
        if i % 3 == 2:
            judge.drop()
    with qtbot.waitSignal(judge.ink, timeout=PATIENCE_MS):
        judge.set_bracket(with_couple(30))
    assert worker.cancelled > 0
    assert max(b.worked - a.worked for a, b in pairwise(ticks)) < 1.0
    if tells_queueing():
        assert max(waited(a, b) for a, b in pairwise(ticks)) < 0.1
