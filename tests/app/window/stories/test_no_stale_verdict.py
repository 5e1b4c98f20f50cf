"""In no state does a verdict stand as current for a bracket it was not computed from.

Seeded events all over the window, with a worker's process that answers at once (see stand_ins), is killed at
any moment, dies of one couple and never comes to an end of another. After every event, and after the window
has had a little time, every place that shows a verdict is asked of which bracket it is.
"""

from __future__ import annotations

import datetime
import json
import os
import random
import signal
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.files.autosave import Recovered
from app.window.judge import Judge
from app.window.main_window import PAGES
from app.worker.client import Worker
from geometry.bracket import Bracket
from geometry.bracket_file import save_bracket
from geometry.loads import StatedCouple
from tests.app.window.shown import window_shown
from tests.app.window.stories.builds import whole
from tests.app.window.stories.hands import CTRL, WindowHand, window_in_hand
from tests.app.worker import stand_ins

needs_kill = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system kills otherwise")
COUPLES = ("11", "12", "14", "30", str(stand_ins.KILLS), str(stand_ins.FOR_EVER))
LESSON_KEYS = (Qt.Key.Key_Right, Qt.Key.Key_1, Qt.Key.Key_Return, Qt.Key.Key_Up, Qt.Key.Key_B, Qt.Key.Key_F)


def is_of(results_hash: str, bracket: Bracket, where: str) -> None:
    assert results_hash == bracket.input_hash(), f"{where}: a verdict of another bracket stands as current"


def look_everywhere(hand: WindowHand) -> int:
    """Assert that what stands in ink is of what is shown; return how many places showed ink."""
    window, inked = hand.window, 0
    block, verdicts = hand.page.title_block, window.verdicts
    if block.standing.state == "ink" or block.stamp.told.startswith("Verdict:"):
        inked += 1
        assert verdicts.results is not None
        is_of(verdicts.results.hash, hand.door.drawn, "stamp")
        assert hand.page.trial.trial.is_none, "stamp: in ink while something else is tried"
    results = window.paper._ink()
    if results is not None:
        is_of(results.hash, hand.door.bracket, "paper")
    if window.beside_holder.isVisible():
        for pane in window.beside.panes:
            bracket, known, _ = pane._shown
            if known is not None and bracket is not None:
                inked += 1
                is_of(known.hash, bracket, "side by side")
    if window.record_holder.isVisible():
        desk = window.record.desk
        if desk.path is None or desk.path == window.files.path:
            assert desk.bracket == hand.door.bracket, "record: of another bracket than the one on the sheet"
    return inked


class Anything:
    """Does one event after another, chosen by a seeded die."""

    def __init__(self, hand: WindowHand, worker: Worker, folder: Path, seed: int) -> None:
        self.hand, self.worker, self.die = hand, worker, random.Random(seed)
        self.files = [folder / "one.bracket.json", folder / "two.bracket.json"]
        save_bracket(self.files[0], whole())
        save_bracket(self.files[1], whole().but(rake_deg=20.0))
        self.done: Counter[str] = Counter()
        self.ways: tuple[Callable[[], None], ...] = (
            self.drag,
            self.begin_gesture,
            self.end_gesture,
            self.step,
            self.step,
            self.kill_worker,
            self.stop_or_go_on,
            self.slide,
            self.slide,
            self.loosen,
            self.put_back_or_keep,
            self.variant,
            self.open_file,
            self.recover,
            self.turn_page,
            self.turn_page,
            self.work_lesson,
            self.change_limits,
            self.type_couple,
            self.type_couple,
            self.pause,
            self.pause,
        )

    def event(self) -> str:
        way = self.die.choice(self.ways)
        self.done[way.__name__] += 1
        way()
        self.hand.close_lists()
        return way.__name__

    def on_sheet(self) -> bool:
        return self.hand.view.isVisible() and bool(self.hand.bracket.plates)

    def corner(self) -> tuple[float, float]:
        return self.die.choice(self.hand.plate.outline).at_mm

    def drag(self) -> None:
        if self.on_sheet():
            x, y = self.corner()
            self.hand.drag((x, y), (x + self.die.uniform(-3, 3), y + self.die.uniform(-3, 3)))

    def begin_gesture(self) -> None:
        if self.on_sheet():
            x, y = self.corner()
            self.hand.press((x, y))
            self.hand.drag_to((x + self.die.uniform(-9, 9), y + self.die.uniform(-9, 9)))

    def end_gesture(self) -> None:
        if self.on_sheet():
            if self.die.random() < 0.5:
                self.hand.sheet_key(Qt.Key.Key_Escape)
            self.hand.release(self.corner())

    def step(self) -> None:
        self.hand.key(self.die.choice((Qt.Key.Key_Z, Qt.Key.Key_Z, Qt.Key.Key_Y)), CTRL)

    def kill_worker(self) -> None:
        line = self.worker._line
        if line is not None and line.process.pid is not None:
            os.kill(line.process.pid, signal.SIGKILL)

    def stop_or_go_on(self) -> None:
        act = self.hand.page.title_block.progress.act
        if act.isVisible():
            self.hand.press_widget(act)

    def slide(self) -> None:
        slide = self.die.choice(self.hand.page.trial.slides)
        if slide.isVisible() and slide.isEnabled():
            key = self.die.choice((Qt.Key.Key_Right, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_Home))
            QTest.keyClick(slide, key)

    def loosen(self) -> None:
        balloons = self.hand.view.marks().balloons if self.on_sheet() else []
        if balloons:
            self.hand.click_px(self.die.choice(balloons).box.center())
            self.hand.do(self.die.choice(("bolt.loosen", "bolt.take_out")))

    def put_back_or_keep(self) -> None:
        self.hand.do(self.die.choice(("bolt.put_back", "bolt.keep")))

    def variant(self) -> None:
        if not self.hand.bracket.plates or self.die.random() < 0.4:
            self.hand.answers.named = self.die.choice(("one", "two"))
            self.hand.do("saw.keep")
        elif self.hand.bracket.variants:
            self.hand.choose("saw.show", self.die.choice(self.hand.bracket.variants).name)

    def open_file(self) -> None:
        self.hand.answers.leaving = self.die.choice(("leave", "leave", "stay"))
        self.hand.answers.open = self.die.choice(self.files)
        self.hand.do(self.die.choice(("file.open", "file.open", "file.open", "new.blank")))

    def recover(self) -> None:
        when = datetime.datetime.now(tz=datetime.UTC)
        bracket = whole().but(rake_deg=self.die.choice((5.0, 6.0)))
        path = self.die.choice((None, self.files[0]))
        self.hand.window.files.put_recovered(Recovered(path, when, bracket, self.files[0].parent))

    def turn_page(self) -> None:
        self.hand.window.edges.turn_to(self.die.randrange(len(PAGES)))

    def work_lesson(self) -> None:
        if self.hand.window.lesson.isVisible():
            QTest.keyClick(self.hand.window.lesson.board, self.die.choice(LESSON_KEYS))

    def change_limits(self) -> None:
        used = self.die.choice((0.7, 0.75, 0.8))
        self.hand.door.attempt("limits", lambda b: b.but(limits=b.limits.but(marginal_used=used)))

    def type_couple(self) -> None:
        if not self.hand.page.notes.isVisible() or not self.hand.bracket.plates:
            return
        couple = float(self.die.choice(COUPLES))
        self.hand.door.attempt(
            "couple", lambda b: b.but(loads=b.loads.but(couple=StatedCouple(couple_nm=couple)))
        )

    def pause(self) -> None:
        self.hand.qtbot.wait(self.die.choice((20, 100, 500, 900)))


def walk(qtbot: QtBot, folder: Path, seed: int, events: int) -> None:
    worker = Worker(stand_ins.serve)
    with window_in_hand(qtbot, judge=Judge(worker=worker)) as hand:
        anything = Anything(hand, worker, folder, seed)
        assert hand.window.files.open_path(anything.files[0])
        inked, log = 0, []
        for number in range(events):
            log.append(anything.event())
            try:
                look_everywhere(hand)
                qtbot.wait(anything.die.choice((0, 5, 40)))
                QApplication.processEvents()
                inked += look_everywhere(hand)
            except AssertionError as wrong:
                raise AssertionError(f"event {number} of seed {seed}, after {log[-8:]}: {wrong}") from wrong
        assert inked > events // 20, inked
        come_to_rest(hand)


def come_to_rest(hand: WindowHand) -> None:
    """With everything put down, the verdict of what lies on the sheet comes."""
    hand.answers.leaving = "leave"
    hand.window.edges.turn_to(0)
    hand.view.set_tool("select")
    hand.sheet_key(Qt.Key.Key_Escape)
    hand.release((0.0, 0.0))
    hand.do("bolt.put_back")
    assert hand.window.files.put(whole().but(rake_deg=7.0), "at rest")
    hand.wait_for_ink()
    look_everywhere(hand)
    assert hand.stamp == "Verdict: pass"


def test_a_trial_outlives_ink_gestures_and_a_trial_of_the_lesson(qtbot: QtBot) -> None:
    with window_in_hand(qtbot, judge=Judge(worker=Worker(stand_ins.serve))) as hand:
        assert hand.window.files.put(whole(), "tried")
        hand.wait_for_ink()
        before, couple = hand.page.title_block.standing, hand.page.trial.slides[0]
        QTest.keyClick(couple, Qt.Key.Key_PageUp)
        assert not hand.stamp.startswith("Verdict:")
        hand.wait_until(lambda: hand.page.title_block.standing.state == "pencil")
        corner = hand.plate.outline[0].at_mm
        hand.press(corner)
        hand.drag_to((corner[0] - 5, corner[1] - 5))
        hand.sheet_key(Qt.Key.Key_Escape)
        hand.release(corner)
        assert not hand.stamp.startswith("Verdict:")
        hand.wait_until(lambda: hand.page.title_block.standing.state == "pencil")
        hand.window.edges.turn_to_words("Lesson")
        QTest.keyClick(hand.window.lesson.board, Qt.Key.Key_Up)
        hand.window.edges.turn_to_words("Bracket")
        assert not hand.page.trial.trial.is_none
        assert not hand.stamp.startswith("Verdict:")
        hand.type_field("31", "loads", "couple", "couple_nm")
        hand.wait_until(lambda: hand.window.verdicts.results is not None)
        hand.qtbot.wait(900)
        assert not hand.stamp.startswith("Verdict:")
        hand.undo()
        hand.do("bolt.put_back")
        assert hand.page.title_block.standing == before


@needs_kill
def test_no_verdict_stands_for_another_bracket(qtbot: QtBot, tmp_path: Path) -> None:
    walk(qtbot, tmp_path, 5, 60)


@needs_kill
@pytest.mark.long
@pytest.mark.parametrize("seed", range(30, 36))
def test_no_verdict_stands_for_another_bracket_for_long(qtbot: QtBot, tmp_path: Path, seed: int) -> None:
    walk(qtbot, tmp_path, seed, 400)


def test_the_record_follows_the_sheet_and_what_was_found_about_its_file(qtbot: QtBot, tmp_path: Path) -> None:
    whole_file, doubtful = tmp_path / "whole.bracket.json", tmp_path / "doubtful.bracket.json"
    save_bracket(whole_file, whole())
    written = json.loads(whole_file.read_text(encoding="utf-8"))
    written["plates"][0]["weld_seams"] = 3
    doubtful.write_text(json.dumps(written), encoding="utf-8")
    with window_shown(qtbot) as (window, answers, _judge):
        assert window.files.open_path(whole_file)
        window.edges.turn_to_words("Record")
        assert window.record.desk.path == whole_file
        assert not window.record.desk.findings
        answers.open = doubtful
        window.actions_by_name["file.open"].trigger()
        assert window.record.desk.path == doubtful
        assert any("weld_seams" in str(finding.values) for finding in window.record.desk.findings)
        assert window.record.desk.change(lambda record: record.model_copy(update={"title": "begun"}))
        answers.leaving = "stay"
        window.door.attempt("rake", lambda bracket: bracket.but(rake_deg=9.0))
        assert window.record.desk.bracket != window.door.bracket
        assert "of the bracket as it was before" in window.record.said.sentence
        answers.leaving = "leave"
        window.files.begin_blank()
        assert window.record.desk.bracket == window.door.bracket
        assert not window.record.desk.findings
