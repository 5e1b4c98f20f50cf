"""A trainer's hour by mouse and keys: questions, bolts, full screen, what is handed out, the rig's log."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot

from app.mounted.overlay import Words
from app.window.leaf_asks import LeafAsks
from app.window.lesson_board import LessonBoard
from app.window.lesson_page import LessonPage
from app.window.still_judge import StillJudge
from geometry.loads import LoadCell, StatedCouple, TorqueMeters
from geometry.placing import place_bolts
from solver.results import OneBoltLost
from tests.app.lesson.made_results import made_results
from tests.app.lesson.samples import FOLDER, two_straps
from tests.app.window.stories.hands import WindowHand, window_in_hand

LEFT = Qt.MouseButton.LeftButton


class InFolder(LeafAsks):
    """Takes the name that is suggested, in a folder of the test's; opens the invented log."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def log_to_open(self, over: QWidget, folder: Path) -> Path | None:
        return FOLDER / "marlpit_couple_log.csv"

    def where_to_put_lesson(self, over: QWidget, suggested: Path) -> Path | None:
        return self.folder / suggested.name


class Trainer:
    """Clicks words, presses keys on the board, and reads what stands there."""

    def __init__(self, hand: WindowHand, judge: StillJudge, folder: Path) -> None:
        self.hand, self.judge, self.folder = hand, judge, folder
        self.page.desk.asks = InFolder(folder)

    @property
    def page(self) -> LessonPage:
        return self.hand.window.lesson

    @property
    def board(self) -> LessonBoard:
        return self.page.board

    def key(self, *keys: Qt.Key) -> None:
        for key in keys:
            QTest.keyClick(self.board, key)

    def click(self, words: str) -> None:
        self.hand.press_words(words, self.board.window())

    def drawn(self) -> list[str]:
        return [item.words for item in self.board.view.over_items() if isinstance(item, Words)]

    def write_by_the_link(self, words: str) -> None:
        self.click("write for the class")
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu)
        (action,) = [a for a in menu.actions() if a.text() == words]
        QTest.mouseClick(menu, LEFT, pos=menu.actionGeometry(action).center())
        self.wait_for_paper()

    def wait_for_paper(self) -> None:
        self.hand.wait_until(lambda: not self.page.desk.busy)
        assert self.page.said.sentence.startswith("Written to "), self.page.said.sentence


@pytest.fixture
def trainer(qtbot: QtBot, tmp_path: Path) -> Iterator[Trainer]:
    judge = StillJudge()
    with window_in_hand(qtbot, judge=judge) as hand:
        assert hand.window.files.open_path(FOLDER / "marlpit_two_straps.bracket.json")
        lost = (OneBoltLost("4", "slip", 9.0, "the casing turns about the shaft"),)
        judge.ink.emit(made_results(hand.bracket, verdict="fail", lost=lost))
        hand.window.edges.turn_to_words("Lesson")
        yield Trainer(hand, judge, tmp_path)


def test_a_lesson_from_the_first_question_to_the_paper(trainer: Trainer) -> None:
    before = trainer.hand.bracket
    asks_everything(trainer)
    lets_them_feel_the_couple(trainer)
    loosens_and_lets_go(trainer)
    fills_the_screen(trainer)
    assert trainer.hand.bracket is before
    hands_out(trainer)
    reads_the_rig(trainer)
    assert trainer.hand.bracket.loads == before.loads


def asks_everything(see: Trainer) -> None:
    """Predict and reveal each: wrong by a click and right by a key; nothing is told before."""
    side, names = see.board.side, []
    while see.board.step is not None and see.board.step.name not in names:
        step = see.board.step
        names.append(step.name)
        assert side.answer.text() == ""
        see.click("Reveal (Return)")
        assert side.answer.text().startswith("Predict first")
        wrong = (step.answer + 1) % len(step.choices)
        see.hand.press_widget(side.choices[wrong])
        see.key(Qt.Key(Qt.Key.Key_1 + step.answer) if len(names) % 2 else Qt.Key(Qt.Key.Key_1 + wrong))
        see.key(Qt.Key.Key_Return)
        told = "As predicted. " if len(names) % 2 else "Not as predicted. "
        assert side.answer.text() == told + step.reveal
        assert side.note.text() == step.note
        assert len(step.reveal) < 120, "too long for the last row"
        see.click("next \u2192")
    assert names == ["force", "grip", "plate way", "friction", "side load", "bolt lost", "saw", "verdict"]


def lets_them_feel_the_couple(see: Trainer) -> None:
    """Drag the slider; both couples, the forces, the arm and the person follow."""
    see.click("next \u2192")
    slider, side = see.board.side.slider, see.board.side

    def at(value: int) -> QPoint:
        share = (value - slider.minimum()) / (slider.maximum() - slider.minimum())
        return QPoint(round(7 + share * (slider.width() - 14)), slider.height() // 2)

    assert slider.value() == 30
    QTest.mousePress(slider, LEFT, pos=at(30))
    QTest.mouseMove(slider, at(60))
    QTest.mouseRelease(slider, LEFT, pos=at(60))
    felt = float(slider.value())
    assert felt == pytest.approx(60.0, abs=2.0)
    assert side.couples.text().splitlines() == [
        f"{felt:.1f} N.m as felt",
        f"{2.0 * felt:.0f} N.m times 2, what it is held to",
    ]
    weight = f"a person of {felt / 0.052 / 9.80665:.0f} kg"
    assert f"{weight} standing 52 mm beside the shaft" in side.forces.text()
    assert {f"{felt:.1f} N.m", f"{weight} here", "52 mm"} <= set(see.drawn())


def loosens_and_lets_go(see: Trainer) -> None:
    """Click a bolt in the picture, turn friction off: the linkage is drawn as it swings."""
    board, view = see.board, see.board.view
    head = next(place for place in place_bolts(two_straps()) if place.bolt == "1")
    x, y = (float(v) for v in view.scene.camera.project(head.mating_mm.reshape(1, 3))[0, :2])
    QTest.mouseClick(view, LEFT, pos=QPoint(round(x), round(y)))
    (name,) = board.standing.trial.loosened
    assert board.side.bolts[name].text() == f"bolt {name}: loose"
    assert see.judge.trials[-1] == ((), (name,))
    see.click(f"bolt {name}: loose")
    see.click(f"bolt {name}: OUT")
    assert board.standing.trial.loosened | board.standing.trial.out == frozenset()
    assert board.motion is None
    see.click("friction: on (F)")
    assert board.motion is not None
    assert "centre" in see.drawn()
    assert {bolt.name for bolt in see.hand.bracket.bolts} <= set(see.drawn()), "a balloon is hidden"
    see.click("linkage (L)")
    assert "centre" not in see.drawn()
    see.key(Qt.Key.Key_L, Qt.Key.Key_F)
    assert board.motion is None


def fills_the_screen(see: Trainer) -> None:
    """Ask on the whole screen in bigger type, and come back to where it was."""
    question = see.board.side.question
    small = question.font().pixelSize()
    see.click("full screen (F11)")
    assert see.page.is_full_screen
    see.hand.wait_until(lambda: question.font().pixelSize() >= 1.25 * small)
    see.key(Qt.Key.Key_1, Qt.Key.Key_Return)
    assert see.board.standing.revealed
    see.key(Qt.Key.Key_Escape)
    assert not see.page.is_full_screen
    assert see.board.standing.revealed
    see.hand.wait_until(lambda: question.font().pixelSize() == small)


def hands_out(see: Trainer) -> None:
    """Write hand-out and strip by the link, the questions by the menu of the window."""
    see.write_by_the_link("Hand-out, two pages\u2026")
    see.write_by_the_link("Motion, as a strip for paper\u2026")
    see.hand.choose("file.class", "Question sheet\u2026")
    see.wait_for_paper()
    written = {path.name.rpartition(" ")[2]: path for path in see.folder.glob("*.p*")}
    assert set(written) == {"hand-out.pdf", "strip.png", "questions.pdf"}
    assert len(PdfReader(written["hand-out.pdf"]).pages) == 2
    told, asked = (words_of(written[name]) for name in ("hand-out.pdf", "questions.pdf"))
    assert "58.8 kg" in told
    assert "marlpit_two_straps.bracket.json" in told
    assert "All together: what is the verdict?" in asked
    assert "nothing but friction stops it" not in asked
    with Image.open(written["strip.png"]) as strip:
        assert strip.width == 5 * strip.height


def words_of(pdf: Path) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(pdf).pages).split())


def reads_the_rig(see: Trainer) -> None:
    """Open the invented log, take its couple into the bracket, and take that back."""
    see.click("Rig log")
    leaf = see.page.rig
    see.click("open a log\u2026")
    see.hand.wait_until(lambda: not leaf.busy and leaf.answer is not None)
    assert not leaf.asks_columns, leaf.form.question.text()
    see.click("take the couple into the bracket")
    couple = see.hand.bracket.loads.couple
    assert isinstance(couple, TorqueMeters | LoadCell)
    assert "marlpit_couple_log.csv, line" in see.hand.bracket.note
    see.hand.undo()
    assert isinstance(see.hand.bracket.loads.couple, StatedCouple)
