"""What computes for a record: in what order, nothing twice, and what becomes of a worker that dies."""

from __future__ import annotations

from collections.abc import Collection

import pytest
from pytestqt.qtbot import QtBot

from app.record.comparison import Judgements
from app.record.loosenings import loosenings_of
from app.record.profile import Profile, under
from app.record.record import Measured, MeasuredThickness, Record
from app.window.inspection.inspection_judge import InspectionJudge
from app.worker.messages import Answer, Failed, Ink, Quick
from geometry.bracket import Bracket
from geometry.loads import Limits
from solver.results import QuickAnswer
from tests.app.record.examples import clear_results, settled_record
from tests.brackets import STIFF_BEARINGS, one_piece


class PretendedWorker:
    """Answers every question at the next look, whole ones with results, quick ones with an empty answer."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, Bracket]] = []
        self.answers: list[Answer] = []
        self.dies_over_quick = self.fails = False
        self.following = False
        self.closed = False

    def ask(self, bracket: Bracket) -> int:
        self.asked.append(("whole", bracket))
        number = len(self.asked)
        answer = (
            Failed(number, "it stopped twice")
            if self.fails
            else Ink(number, bracket.input_hash(), clear_results())
        )
        self.answers.append(answer)
        return number

    def ask_quick(self, bracket: Bracket, *, out: Collection[str] = (), slipped: Collection[str] = ()) -> int:
        self.asked.append(("quick", bracket))
        number = len(self.asked)
        if not self.dies_over_quick:
            self.following = True
            answer = QuickAnswer(None, (), (), ())
            self.answers.append(Quick(number, bracket.input_hash(), answer))
        return number

    def poll(self) -> list[Answer]:
        said, self.answers = self.answers, []
        self.following = False
        return said

    def close(self) -> None:
        self.closed = True


class Bench:
    def __init__(self, qtbot: QtBot) -> None:
        self.qtbot = qtbot
        self.worker = PretendedWorker()
        self.judge = InspectionJudge(worker=self.worker)  # type: ignore[arg-type]
        self.told: list[Judgements] = []
        self.judge.judged.connect(self.told.append)

    def run(self, bracket: Bracket, record: Record) -> Judgements:
        idle: list[bool] = []
        self.judge.progressed.connect(lambda words, _share: idle.append(not words))
        self.judge.judge(bracket, record, Profile(), ())
        self.qtbot.waitUntil(lambda: any(idle))
        return self.told[-1]


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return Bench(qtbot)


LOOSE = one_piece(column=STIFF_BEARINGS).but(limits=Limits(turn_deg=0.3))
RECORD = settled_record(LOOSE)


def thin(mm: float) -> Record:
    reading = MeasuredThickness(plate=LOOSE.plates[0].name, thickness_mm=mm)
    return RECORD.but(measured=Measured(thicknesses=(reading,)))


def test_own_limits_first_then_weights_then_the_builders_then_as_built(bench: Bench) -> None:
    found = bench.run(LOOSE, thin(5.5))
    kinds = [kind for kind, _ in bench.worker.asked]
    weighed = [one for one in loosenings_of(LOOSE) if one.usual is not None]
    assert kinds == ["whole", *["quick"] * (1 + len(weighed)), "whole", "whole"]
    assert bench.worker.asked[0][1] == under(LOOSE, Profile())
    assert bench.worker.asked[-2][1] == LOOSE
    assert bench.worker.asked[-1][1].plates[0].thickness_mm == 5.5
    assert found.under_profile is not None
    assert found.under_file is not None
    assert found.built is not None
    assert len(found.quick) == len(weighed)


def test_another_measured_value_asks_only_for_what_is_new(bench: Bench) -> None:
    bench.run(LOOSE, thin(5.5))
    before = len(bench.worker.asked)
    found = bench.run(LOOSE, thin(5.0))
    assert [b.plates[0].thickness_mm for _, b in bench.worker.asked[before:]] == [5.0]
    assert found.quick
    before = len(bench.worker.asked)
    assert bench.run(LOOSE, RECORD).built is None
    assert len(bench.worker.asked) == before


def test_a_worker_that_dies_over_a_quick_answer_holds_nothing_up(bench: Bench) -> None:
    bench.worker.dies_over_quick = True
    found = bench.run(LOOSE, RECORD)
    assert found.before is None
    assert set(found.quick.values()) == {None}
    assert found.under_file is not None


def test_a_failure_is_told_and_ends_it(bench: Bench) -> None:
    bench.worker.fails = True
    found = bench.run(LOOSE, RECORD)
    assert found.trouble == "it stopped twice"
    assert found.verdict == "no verdict"
    assert len(bench.worker.asked) == 1


def test_the_end_closes_the_worker(bench: Bench) -> None:
    bench.judge.judge(LOOSE, RECORD, Profile(), ())
    bench.judge.stop()
    assert bench.worker.closed


def test_what_was_judged_under_other_limits_of_the_builder_is_not_told_again(bench: Bench) -> None:
    """Under the profile both are one bracket; under their own limits they are two."""
    bench.run(LOOSE, RECORD)
    before = len(bench.worker.asked)
    looser = LOOSE.but(limits=Limits(turn_deg=0.9))
    bench.run(looser, RECORD)
    assert looser in [b for kind, b in bench.worker.asked[before:] if kind == "whole"]
