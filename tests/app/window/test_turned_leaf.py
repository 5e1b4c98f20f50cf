"""The leaf One input by real events: run, progress, stop, what goes wrong, and what the file bars."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.theme import PAPER
from app.window.background import Stopped
from app.window.beside.turned_leaf import TurnedLeaf
from app.window.beside.turned_run import Doing, NotTurned, in_a_process
from app.window.door import Door
from app.window.main_window import PAGES
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.trials import OneAtATime, Trial, Turning
from tests.app.example_results import example_results
from tests.app.window.shown import window_shown
from tests.brackets import one_piece

FOUND = OneAtATime(
    example_results(),
    (
        Trial(
            "couple", "30 N.m", "37.5 N.m", "marginal", "slip", 0.84, 57.4, "slip uses 84% of its allowable"
        ),
    ),
    (
        Turning("couple", "30 N.m", "45.5 N.m", "marginal", better=False, falls=False, turns=True),
        Turning("pull at the wheel", "300 N", "0 N", "pass", better=True, falls=True, turns=False),
    ),
)


class Answers:
    """Answers what it is given once it is let."""

    def __init__(self, answer: object) -> None:
        self.answer, self.let = answer, threading.Event()
        self.findings: Sequence[Finding] = ()

    def ask(
        self,
        _bracket: Bracket,
        of_file: Sequence[Finding],
        stopped: Stopped,
        tell: Callable[[object], None],
    ) -> object:
        self.findings = of_file
        tell(Doing("turning couple", 0.25))
        while not self.let.wait(0.01):
            if stopped():
                return None
        return self.answer


UNKNOWN = Finding(code="unknown-key", severity="doubt", where="file", values={"key": "x"})


@pytest.fixture
def answers() -> Answers:
    return Answers(FOUND)


@pytest.fixture
def leaf(qtbot: QtBot, answers: Answers) -> Iterator[TurnedLeaf]:
    made = TurnedLeaf(Door(one_piece()), PAPER, lambda: (UNKNOWN,), answers.ask)
    qtbot.addWidget(made)
    made.resize(1100, 600)
    made.show()
    yield made
    made.leave()


def cells(leaf: TurnedLeaf) -> list[list[str]]:
    tables = (leaf.trials, leaf.turnings)
    return [
        [item.text() for column in range(table.columnCount()) if (item := table.item(row, column))]
        for table in tables
        for row in range(table.rowCount())
    ]


def press(qtbot: QtBot, leaf: TurnedLeaf, answers: Answers) -> None:
    qtbot.mouseClick(leaf.start, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: "25%" in leaf.said.sentence)
    answers.let.set()
    qtbot.waitUntil(lambda: not leaf.busy)


def test_it_is_worked_out_and_shown(qtbot: QtBot, leaf: TurnedLeaf, answers: Answers) -> None:
    press(qtbot, leaf, answers)
    assert answers.findings == (UNKNOWN,)
    assert leaf.sentence.text() == FOUND.results.sentence
    # and the report takes it along
    assert leaf.trials_of(one_piece()) == FOUND.trials
    assert leaf.trials_of(one_piece().but(bolts=())) == ()
    assert cells(leaf) == [
        ["couple", "30 N.m", "37.5 N.m", "MARGINAL", "slip 84 %", "57.4"],
        ["couple", "30 N.m", "up to 45.5 N.m", "MARGINAL"],
        ["pull at the wheel", "300 N", "down to 0 N", "the same"],
    ]


def test_stop_shows_nothing(qtbot: QtBot, leaf: TurnedLeaf) -> None:
    qtbot.mouseClick(leaf.start, Qt.MouseButton.LeftButton)
    assert leaf.busy
    qtbot.mouseClick(leaf.end, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not leaf.busy)
    assert leaf.said.sentence == "Stopped."
    assert cells(leaf) == []


def test_a_change_of_the_bracket_is_told(qtbot: QtBot, leaf: TurnedLeaf, answers: Answers) -> None:
    press(qtbot, leaf, answers)
    leaf._door.attempt("thin", lambda b: b.with_plate(b.plates[0].but(thickness_mm=3.0)))
    assert leaf.said.is_trouble
    assert "changed" in leaf.said.sentence


@pytest.mark.parametrize("answer", [NotTurned("no memory"), RuntimeError("no memory")])
def test_what_goes_wrong_is_said(qtbot: QtBot, leaf: TurnedLeaf, answers: Answers, answer: object) -> None:
    answers.answer = answer
    press(qtbot, leaf, answers)
    assert leaf.said.sentence == "It could not be worked out (no memory)."


def test_nothing_solved_is_said(qtbot: QtBot, leaf: TurnedLeaf, answers: Answers) -> None:
    answers.answer = replace(FOUND, trials=(), turnings=())
    press(qtbot, leaf, answers)
    assert "Nothing was solved" in leaf.said.sentence


def test_the_process_answers_and_can_be_stopped() -> None:
    bare = one_piece().but(bolts=())
    told: list[object] = []
    found = in_a_process(bare, (), lambda: False, told.append)
    assert isinstance(found, OneAtATime)
    assert found.results.verdict != "pass"
    assert told
    assert in_a_process(one_piece(), (), lambda: bool(told), told.append) is None


def test_it_is_a_leaf_of_the_page(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (window, _, _judge):
        window.door.open(one_piece())
        window.edges.turn_to([page.words for page in PAGES].index("Side by side"))
        page = window.beside
        qtbot.mouseClick(page.leaves.links[2], Qt.MouseButton.LeftButton)
        assert page.turned.isVisible()
