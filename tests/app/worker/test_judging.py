"""The bench, with analyses and solved brackets of the test's own."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from types import SimpleNamespace
from typing import Any

import pytest

import app.worker.judging
from app.worker.judging import KEPT, Bench
from app.worker.messages import Answer, Asked, AskedQuick, Dropped, Failed, Ink, Pencil, Progress, Quick
from geometry.bracket import Bracket
from geometry.casing import Casing, Envelope
from geometry.wanted import still_wanted
from solver.errors import SolverError
from solver.results import QuickAnswer
from tests.app.worker.stand_ins import results_for, with_couple

Tell = Callable[[str, float], None]


def fake_solved(bracket: Bracket, name: str) -> Any:  # noqa: ANN401
    return SimpleNamespace(bracket=bracket, name=name)


def in_turn(bracket: Bracket, *, progress: Tell, kept: object) -> Iterator[SimpleNamespace]:
    """Judge as the solver does."""
    for refined, word in ((False, "coarse"), (True, "fine")):
        progress(word, 0.5)
        solved = fake_solved(bracket, word)
        yield SimpleNamespace(results=results_for(bracket, refined=refined), solved=solved)


@pytest.fixture
def said() -> list[Answer]:
    return []


@pytest.fixture
def bench(said: list[Answer], monkeypatch: pytest.MonkeyPatch) -> Bench:
    monkeypatch.setattr(app.worker.judging, "analyse_in_turn", in_turn)
    return Bench(said.append)


def of_thickness(thickness_mm: float) -> Bracket:
    bracket = with_couple(30)
    return bracket.with_plate(bracket.plates[0].but(thickness_mm=thickness_mm))


def test_it_is_idle_once_after_an_analysis_that_no_other_follows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(app.worker.judging, "analyse_in_turn", in_turn)
    monkeypatch.setattr(app.worker.judging, "IDLE_S", 0.3)
    done: list[str] = []
    inked, rested = threading.Semaphore(0), threading.Semaphore(0)

    def said(answer: Answer) -> None:
        if isinstance(answer, Ink):
            done.append("ink")
            inked.release()

    def idle() -> None:
        done.append("idle")
        rested.release()

    bench = Bench(said, idle)
    threading.Thread(target=bench.judge_for_ever, daemon=True).start()
    for number in (1, 2):
        bench.take(Asked(number, with_couple(30)))
        assert inked.acquire(timeout=30)
    assert rested.acquire(timeout=30)
    assert not rested.acquire(timeout=0.7)
    assert done == ["ink", "ink", "idle"]


@pytest.mark.parametrize("refine", [True, False])
def test_pencil_is_said_then_ink_if_it_is_wanted(bench: Bench, said: list[Answer], refine: bool) -> None:
    bench._judge(Asked(1, with_couple(30), refine=refine))
    assert [type(a) for a in said] == [Progress, Pencil, Progress, Ink][: 4 if refine else 2]


def test_what_cannot_be_solved_is_no_figure_and_so_is_ink(
    bench: Bench, said: list[Answer], monkeypatch: pytest.MonkeyPatch
) -> None:
    unsolved = SimpleNamespace(results=results_for(with_couple(30), refined=False), solved=None)
    monkeypatch.setattr(app.worker.judging, "analyse_in_turn", lambda *_, **__: iter([unsolved]))
    bench._judge(Asked(1, with_couple(30)))
    assert [type(a) for a in said] == [Ink]


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (SolverError("plate foot is not held"), "plate foot is not held"),
        (ImportError("x.so: failed to map segment from shared object"), "This machine has too little memory"),
        (MemoryError(), "This machine has too little memory to analyse this bracket"),
        (
            IndexError("7"),
            "The analysis went wrong (IndexError: 7). That is a fault of the program, not of the",
        ),
    ],
)
def test_fault_is_told_in_a_sentence_and_the_next_question_answered(
    bench: Bench, said: list[Answer], monkeypatch: pytest.MonkeyPatch, fault: Exception, words: str
) -> None:
    def breaks(*_: object, **__: object) -> Iterator[None]:
        raise fault

    monkeypatch.setattr(app.worker.judging, "analyse_in_turn", breaks)
    bench._judge(Asked(5, with_couple(30)))
    (failed,) = said
    assert isinstance(failed, Failed)
    assert (failed.number, failed.final) == (5, True)
    assert failed.words.startswith(words)
    monkeypatch.setattr(app.worker.judging, "analyse_in_turn", in_turn)
    bench._judge(Asked(6, with_couple(30)))
    assert isinstance(said[-1], Ink)


def test_newer_question_ends_the_older_where_its_stage_ends(
    said: list[Answer], monkeypatch: pytest.MonkeyPatch
) -> None:
    done = threading.Event()

    def send(answer: Answer) -> None:
        said.append(answer)
        if answer == Progress(1, "coarse", 0.5):
            bench.take(Asked(2, with_couple(31)))
        if isinstance(answer, Ink):
            done.set()

    monkeypatch.setattr(app.worker.judging, "analyse_in_turn", in_turn)
    bench = Bench(send)
    threading.Thread(target=bench.judge_for_ever, daemon=True).start()
    bench.take(Asked(1, with_couple(30)))
    assert done.wait(30)
    told = [(type(a), a.number) for a in said if not isinstance(a, Progress)]
    # The pencil of the older was there before anybody looked; its ink is never begun.
    assert told == [(Pencil, 1), (Pencil, 2), (Ink, 2)]


@pytest.mark.parametrize("newer", [Asked(2, with_couple(31)), Dropped(1)])
def test_work_that_nobody_waits_for_any_more_ends_within_its_stage(
    said: list[Answer], monkeypatch: pytest.MonkeyPatch, newer: Asked | Dropped
) -> None:
    begun, ended, done = threading.Event(), threading.Event(), threading.Event()

    def endless(bracket: Bracket, **options: Any) -> Iterator[SimpleNamespace]:  # noqa: ANN401
        if bracket == with_couple(31):
            yield from in_turn(bracket, **options)
            done.set()
            return
        until = time.monotonic() + 30.0
        begun.set()
        try:
            while time.monotonic() < until:
                still_wanted()
                time.sleep(0.001)
        finally:
            ended.set()

    monkeypatch.setattr(app.worker.judging, "analyse_in_turn", endless)
    bench = Bench(said.append)
    threading.Thread(target=bench.judge_for_ever, daemon=True).start()
    bench.take(Asked(1, with_couple(30)))
    assert begun.wait(10)
    bench.take(newer)
    assert ended.wait(10)
    bench.take(Asked(3, with_couple(31)))
    assert done.wait(10)
    assert not [a for a in said if isinstance(a, Failed)]


@pytest.fixture
def answered_from(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the solved brackets that quick answers came from."""
    used: list[str] = []

    def quick_answer(solved: SimpleNamespace, *_: object, **__: object) -> QuickAnswer:
        used.append(f"{solved.name} {solved.bracket.plates[0].thickness_mm:g}")
        return QuickAnswer(None, (), (), ())

    monkeypatch.setattr(app.worker.judging, "quick_answer", quick_answer)
    return used


def test_fine_mesh_is_not_replaced_by_a_coarse_one_of_the_same_plates(
    bench: Bench, answered_from: list[str]
) -> None:
    bench._judge(Asked(1, with_couple(30), refine=False))
    bench.answer_quickly(AskedQuick(2, with_couple(31)))
    bench._judge(Asked(3, with_couple(32)))
    bench._judge(Asked(4, with_couple(33), refine=False))
    bench.answer_quickly(AskedQuick(5, with_couple(31)))
    assert answered_from == ["coarse 6", "fine 6"]


def test_few_sets_of_plates_are_kept(bench: Bench, said: list[Answer], answered_from: list[str]) -> None:
    for thickness in range(1, KEPT + 2):
        bench._judge(Asked(thickness, of_thickness(thickness)))
    said.clear()
    for thickness in range(1, KEPT + 2):
        bench.answer_quickly(AskedQuick(100 + thickness, of_thickness(thickness)))
    answers = [a.answer is not None for a in said if isinstance(a, Quick)]
    assert answers == [False] + KEPT * [True]
    assert answered_from == [f"fine {thickness}" for thickness in range(2, KEPT + 2)]


def test_what_can_no_longer_be_solved_has_no_quick_answer(
    bench: Bench, said: list[Answer], answered_from: list[str]
) -> None:
    bench._judge(Asked(1, with_couple(30)))
    bossless = Casing(bosses=(), envelope=Envelope(low_mm=(0, 0, 0), high_mm=(1, 1, 1)), mass_kg=1)
    bench.answer_quickly(AskedQuick(2, with_couple(30).but(casing=bossless)))
    assert said[-1] == Quick(2, with_couple(30).but(casing=bossless).input_hash(), None)
    assert answered_from == []


def test_quick_answer_that_fails_is_none_and_the_next_is_given(
    bench: Bench, said: list[Answer], monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = [ZeroDivisionError("0"), QuickAnswer(None, (), (), ())]

    def quick_answer(*_: object, **__: object) -> QuickAnswer:
        answer = answers.pop(0)
        if isinstance(answer, Exception):
            raise answer
        return answer

    monkeypatch.setattr(app.worker.judging, "quick_answer", quick_answer)
    bench._judge(Asked(1, with_couple(30)))
    for number in (2, 3):
        bench.answer_quickly(AskedQuick(number, with_couple(30)))
    assert [a.answer is None for a in said if isinstance(a, Quick)] == [True, False]
