"""The Lesson page by real events: predict, reveal, loosen bolts, full screen; the bracket never changes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.mounted.overlay import Words
from app.mounted.shapes import CASING, Floats
from app.window.lesson_board import LessonBoard
from app.window.main_window import PAGES, MainWindow
from app.window.still_judge import StillJudge
from geometry.bracket import Bracket
from solver.results import CasingMovement, OneBoltLost, QuickAnswer, Results
from tests.app.lesson.made_results import made_results
from tests.app.lesson.samples import two_straps
from tests.app.window.shown import window_shown
from tests.brackets import one_piece

LESSON = [page.words for page in PAGES].index("Lesson")


class Class:
    """A window with the lesson on top of two straps, judged."""

    def __init__(self, window: MainWindow, judge: StillJudge, qtbot: QtBot) -> None:
        self.window, self.judge, self.qtbot = window, judge, qtbot
        bracket = two_straps()
        window.door.open(bracket)
        lost = (OneBoltLost("4", "slip", 9.0, "the casing turns about the shaft"),)
        judge.ink.emit(made_results(bracket, verdict="fail", lost=lost))
        window.edges.turn_to(LESSON)

    @property
    def board(self) -> LessonBoard:
        return self.window.lesson.board

    def press(self, *keys: Qt.Key) -> None:
        for key in keys:
            self.qtbot.keyClick(self.board, key)

    def to(self, name: str) -> None:
        for _ in range(20):
            if self.board.step is not None and self.board.step.name == name:
                return
            self.press(Qt.Key.Key_Right)
        raise AssertionError(name)


@pytest.fixture
def room(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Class]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (window, _, judge):
        yield Class(window, judge, qtbot)


def test_a_prediction_comes_before_the_answer(room: Class) -> None:
    side = room.board.side
    room.to("grip")
    assert room.board.motion is None
    room.press(Qt.Key.Key_Return)
    assert side.answer.text().startswith("Predict first")
    assert not room.board.standing.revealed
    room.press(Qt.Key.Key_1)
    assert "predicted" in side.choices[0].text()
    room.press(Qt.Key.Key_Return)
    assert side.answer.text().startswith("Not as predicted. The casing turns about the shaft")
    assert side.choices[2].text().endswith("\u2713")
    # once revealed, the prediction stands
    room.press(Qt.Key.Key_3)
    assert room.board.standing.predicted == 0


def test_revealing_what_lost_grip_does_lets_it_swing(room: Class) -> None:
    room.to("grip")
    room.press(Qt.Key.Key_3, Qt.Key.Key_Return)
    board = room.board
    assert board.side.answer.text().startswith("As predicted.")
    assert board.motion is not None
    assert board.motion.moves_casing
    assert board.view.playing
    room.press(Qt.Key.Key_Right)
    assert board.motion is None


def test_neither_words_nor_picture_tell_the_force_while_it_is_asked(room: Class) -> None:
    room.to("force")

    def told() -> str:
        drawn = [item.words for item in room.board.view.over_items() if isinstance(item, Words)]
        return " ".join([*drawn, room.board.side.forces.text(), room.board.side.couples.text()])

    assert "58.8" not in told()
    assert "577" not in told()
    room.press(Qt.Key.Key_1, Qt.Key.Key_Return)
    assert "a person of 58.8 kg here" in told()
    assert "577 N" in told()


def test_a_choice_is_taken_by_the_mouse(room: Class) -> None:
    room.to("force")
    room.qtbot.mouseClick(room.board.side.choices[1], Qt.MouseButton.LeftButton, pos=QPoint(8, 8))
    assert room.board.standing.predicted == 1


def test_friction_off_turns_bolts_into_pins_and_on_holds_again(room: Class) -> None:
    board = room.board
    assert board.motion is None
    room.press(Qt.Key.Key_F)
    assert board.motion is not None
    assert "OFF" in board.side.friction.text()
    room.press(Qt.Key.Key_F)
    assert board.motion is None


def test_friction_off_bends_what_holds_by_its_shape_as_with_bolts_slipped(room: Class) -> None:
    """The class sees `friction: OFF`, so the picture must not say that bolts are stuck."""
    bracket = one_piece()
    room.window.door.open(bracket)
    results = made_results(bracket)
    slipped = [replace(case, state="all slipped") for case in results.cases]
    room.judge.ink.emit(replace(results, cases=(*results.cases, *slipped)))
    shown: list[int | None] = []
    show = room.board.view.show_lesson

    def told(bracket: Bracket, results: Results | None, free: int | None, case: int | None) -> None:
        shown.append(case)
        show(bracket, results, free, case)

    room.board.view.show_lesson = told  # type: ignore[method-assign]
    room.press(Qt.Key.Key_F)
    assert room.board.motion is None
    assert shown[-1] == 3
    room.press(Qt.Key.Key_F)
    assert shown[-1] is None


def test_bolts_are_loosened_taken_out_and_tightened(room: Class) -> None:
    board, side = room.board, room.board.side
    link = side.bolts["1"]
    for said, trial in (("loose", ((), ("1",))), ("OUT", (("1",), ())), ("tight", ((), ()))):
        room.qtbot.mouseClick(link, Qt.MouseButton.LeftButton, pos=QPoint(6, 6))
        assert link.text() == f"bolt 1: {said}"
        assert room.judge.trials[-1] == trial
    # every one loose by keys: nothing holds it any more
    for _ in range(4):
        assert board.motion is None
        room.press(Qt.Key.Key_B)
    assert board.motion is not None
    room.press(Qt.Key.Key_B)
    assert board.motion is None
    assert board.standing.trial.is_none


def test_a_bolt_clicked_in_the_picture_is_loosened(room: Class) -> None:
    room.board.view.picked.emit("plate", "front strap")
    assert room.board.standing.trial.is_none
    room.board.view.picked.emit("bolt", "2")
    assert room.board.standing.trial.loosened == {"2"}


def test_both_couples_follow_the_slider(room: Class) -> None:
    side = room.board.side
    room.to("grip")
    assert side.couples.text().splitlines()[0].startswith("30.0 N.m as felt")
    side.slider.setValue(50)
    assert side.couples.text().splitlines() == ["50.0 N.m as felt", "100 N.m times 2, what it is held to"]
    assert "98.0 kgf" in side.forces.text()
    room.press(Qt.Key.Key_Up)
    assert side.couples.text().startswith("51.0 N.m")
    assert side.slider.value() == 51
    room.press(Qt.Key.Key_Down, Qt.Key.Key_Down)
    assert side.couples.text().startswith("49.0 N.m")
    drawn = [item.words for item in room.board.view.over_items() if isinstance(item, Words)]
    assert "49.0 N.m" in drawn
    assert any("a person of" in words for words in drawn)


def test_what_the_quick_path_says_is_told_so_far(room: Class) -> None:
    side = room.board.side
    room.press(Qt.Key.Key_B)
    room.judge.quick.emit(QuickAnswer(CasingMovement(0.02, 0.0, 0.11, 0.0), (), (), ()))
    assert side.casing.text() == "So far: turns 0.0200 deg, moves 0.110 mm as felt."
    room.judge.quick.emit(QuickAnswer(None, (), (), ()))
    assert side.casing.text() == "Nothing holds the casing."


def test_the_bracket_never_changes_and_what_is_tried_ends_with_the_page(room: Class) -> None:
    before = room.window.door.bracket
    for name in ("force", "grip", "bolt lost", "saw", "verdict"):
        room.to(name)
        room.press(Qt.Key.Key_1, Qt.Key.Key_Return)
        assert room.board.standing.revealed
    room.press(Qt.Key.Key_Up, Qt.Key.Key_B, Qt.Key.Key_L, Qt.Key.Key_V)
    assert room.window.door.bracket is before
    assert room.window.door.steps.count() == 0
    room.window.edges.turn_to(0)
    assert room.judge.trials[-1] == ((), ())
    assert not room.board.view.playing


def test_the_sawn_twin_is_shown_only_while_it_is_asked_about(room: Class) -> None:
    room.to("saw")
    assert room.board.view.scene.bracket is room.window.door.bracket
    room.press(Qt.Key.Key_2, Qt.Key.Key_Return)
    assert len(room.board.view.scene.bracket.plates) == 3
    room.press(Qt.Key.Key_Left)
    assert room.board.view.scene.bracket is room.window.door.bracket


def test_the_linkage_is_drawn_where_the_picture_has_moved(room: Class) -> None:
    board = room.board
    room.press(Qt.Key.Key_F)
    board.view.scene.set_phase(1.5)
    body = board.view.scene.moved(two_straps_boss(), CASING)
    assert abs(body[0, 0]) > 3.0
    words = [item.words for item in board.view.over_items() if isinstance(item, Words)]
    assert "centre" in words
    room.press(Qt.Key.Key_L)
    words = [item.words for item in board.view.over_items() if isinstance(item, Words)]
    assert "centre" not in words


def test_the_full_screen_is_left_by_escape(room: Class) -> None:
    page, board = room.window.lesson, room.board
    size = board.side.question.font().pixelSize()
    room.press(Qt.Key.Key_F11)
    assert page.is_full_screen
    assert board.isFullScreen()
    assert board.side.question.font().pixelSize() >= 1.25 * size
    room.press(Qt.Key.Key_Right, Qt.Key.Key_3, Qt.Key.Key_Return)
    assert board.standing.revealed
    room.press(Qt.Key.Key_Escape)
    assert not page.is_full_screen
    assert board.window() is room.window
    assert board.standing.revealed
    assert board.side.question.font().pixelSize() == size


def test_each_free_motion_is_shown_in_turn(room: Class) -> None:
    board = room.board
    room.press(Qt.Key.Key_F)
    assert not board.side.motions.isVisible()
    room.window.door.open(two_straps(held=False))
    assert board.side.motions.text() == "motion 1 of 2 (M)"
    assert board.motion is not None
    assert "swings sideways" in board.motion.words
    room.press(Qt.Key.Key_M)
    assert "racking" in board.motion.words
    assert "parallel" in board.side._motion.text()
    room.press(Qt.Key.Key_M)
    assert "swings sideways" in board.motion.words


def test_another_bracket_brings_its_own_questions(room: Class) -> None:
    room.to("grip")
    room.window.door.open(one_piece())
    QApplication.processEvents()
    room.to("grip")
    room.press(Qt.Key.Key_1, Qt.Key.Key_Return)
    assert room.board.side.answer.text().startswith("As predicted. Its plates lock")
    assert room.board.motion is None


def test_an_empty_sheet_says_what_to_do(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (window, _, _judge):
        window.edges.turn_to(LESSON)
        board = window.lesson.board
        assert board.step is None
        assert "first" in board.side.question.text()
        for key in (
            Qt.Key.Key_Return,
            Qt.Key.Key_1,
            Qt.Key.Key_Right,
            Qt.Key.Key_F,
            Qt.Key.Key_B,
            Qt.Key.Key_V,
        ):
            qtbot.keyClick(board, key)
        assert board.motion is None


def two_straps_boss() -> Floats:
    return np.array([[0.0, 52.0, 0.0]])


def test_in_inches_question_choices_answer_and_picture_tell_pounds_too(room: Class) -> None:
    def told() -> str:
        drawn = " ".join(
            item.words for item in room.board.picture.view.over_items() if isinstance(item, Words)
        )
        side = room.board.side
        return f"{side.question.text()} {side.choices[0].text()} {side.couples.text()} {drawn}"

    room.to("force")
    assert "lb" not in told()
    room.window.seeing.set_units("inch")
    assert "N.m (" in room.board.side.question.text()
    assert "lb)" in room.board.side.choices[0].text()
    assert told().count("lbf.ft)") >= 3
    room.press(Qt.Key.Key_1, Qt.Key.Key_Return)
    assert "lb)" in room.board.side.answer.text()
    room.window.seeing.set_units("mm")
    assert "lb" not in told()


def test_the_lesson_has_the_keys_when_it_is_turned_to_for_the_first_time(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (window, _, _judge):
        window.door.open(two_straps())
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)
        window.page.flat.setFocus()
        window.edges.turn_to(LESSON)
        for key in (Qt.Key.Key_2, Qt.Key.Key_Return):
            qtbot.keyClick(QApplication.focusWidget(), key)
        assert window.lesson.board.side.answer.text()


def test_arrows_on_the_edges_go_from_page_to_page_past_the_lesson(room: Class) -> None:
    edges = room.window.edges
    room.window.activateWindow()
    room.qtbot.waitUntil(room.window.isActiveWindow)
    edges.turn_to(0)
    edges.setFocus()
    for _ in range(LESSON):
        room.qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Down)
    assert room.window.lesson.isVisible()
    assert edges.hasFocus()
    room.qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Up)
    assert not room.window.lesson.isVisible()
