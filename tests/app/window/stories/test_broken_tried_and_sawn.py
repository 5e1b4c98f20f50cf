"""A judged bracket broken and mended, tried, folded and sawn, and judged by a worker that dies."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.window.judge import Judge
from app.worker.client import STARTED_AGAIN, STOPPED_TWICE, Worker
from geometry.bracket_file import read_bracket
from geometry.findings import findings_of
from tests.app.window.stories.builds import BOSSES, IN_BAR, SAW, unbolted, whole
from tests.app.window.stories.hands import CTRL, WindowHand, window_in_hand
from tests.app.worker import stand_ins


def test_a_hole_over_the_edge_is_found_and_undo_shows_the_ink_at_once(judged: WindowHand) -> None:
    hand = judged
    assert hand.stamp == "Verdict: pass"
    before = hand.page.title_block.standing
    hand.drag(IN_BAR["bar 2"], (101, 80))
    assert hand.last_step == "move opening bar 2"
    assert hand.stamp == "No verdict now: drawn since; it was pass"
    hand.wait_until(lambda: bool(hand.view.marks().flags))
    flag = hand.view.marks().flags[0]
    assert flag.finding.severity == "stop"
    hand.click_px(flag.box.center())
    assert hand.view.note.isVisible()
    assert "bar 2" in hand.view.note.accessibleName()
    hand.wait_until(lambda: hand.page.title_block.standing.state == "ink")
    assert hand.stamp == "No verdict"
    hand.undo()
    assert hand.bracket == whole()
    assert hand.stamp == "Verdict: pass"
    assert hand.page.title_block.standing == before
    hand.wait_until(lambda: not hand.view.marks().flags)


def test_a_loosened_bolt_is_answered_at_once_and_put_back(judged: WindowHand) -> None:
    hand = judged
    before = hand.page.title_block.standing
    (balloon,) = [b for b in hand.view.marks().balloons if b.bolt == "4"]
    hand.click_px(balloon.box.center())
    hand.press_words("loosen 4")
    hand.wait_until(lambda: hand.page.title_block.standing.state == "pencil")
    assert hand.stamp == "No verdict yet: the figures so far are pencil"
    assert "stress waits" in hand.page.title_block.standing.words
    (row,) = [row for row in hand.page.parts_list.rows if row.row.key == "bolts 3"]
    assert "1 slipped" in str(row.row.cells[-1])
    assert hand.bracket == whole()
    assert not hand.door.steps.canUndo()
    hand.press_words("put back")
    assert hand.stamp == "Verdict: pass"
    assert hand.page.title_block.standing == before
    hand.settle()
    assert hand.page.title_block.standing == before


def fold_and_bolt(hand: WindowHand) -> None:
    """Bolt the bare plate to bosses and bar where they show, tighten, and fold a lip along its lower edge."""
    assert hand.window.files.put(unbolted(), "bare")
    hand.sheet_key("B")
    for place in (BOSSES | IN_BAR).values():
        hand.click(place)
    hand.sheet_key(Qt.Key.Key_Escape)
    for number, opening in enumerate(hand.plate.openings):
        assert opening.kind == "hole"
        assert opening.centre_mm == pytest.approx([*BOSSES.values(), *IN_BAR.values()][number])
    for bolt in ("1", "3"):
        hand.type_field("8.8", "bolts", bolt, "grade")
        hand.type_field("22 N.m", "bolts", bolt, "tightening_nm")
    assert hand.page.title_block.blanks.blanks == ()
    hand.sheet_key("L")
    hand.drag((-104, 21), (104, 21))
    assert hand.last_step == "fold the plate"
    (fold,) = hand.plate.folds
    assert fold.from_mm[1] == fold.to_mm[1] == 21
    hand.type_numbers("", "", "90", "6")
    assert (hand.plate.folds[0].angle_deg, hand.plate.folds[0].inside_radius_mm) == (90, 6)
    assert hand.page.mounted.scene.bracket.plates[0].folds == hand.plate.folds
    assert not [f for f in findings_of(hand.bracket) if f.bars_verdict]


def test_a_bare_plate_is_bolted_and_folded(qtbot: QtBot) -> None:
    with window_in_hand(qtbot) as hand:
        fold_and_bolt(hand)
        hand.sheet_key("W")
        hand.drag(*SAW)
        assert [len(plate.folds) for plate in hand.bracket.plates] == [1, 1]
        while hand.door.steps.canUndo():
            hand.undo()
        assert hand.bracket == unbolted()


@pytest.mark.long
def test_a_bolted_and_folded_plate_passes_and_sawn_in_two_it_racks(qtbot: QtBot) -> None:
    with window_in_hand(qtbot, judge=Judge(), in_3d=True) as hand:
        fold_and_bolt(hand)
        hand.wait_for_ink()
        assert hand.stamp == "Verdict: pass"
        hand.sheet_key("W")
        hand.drag(*SAW)
        hand.wait_for_ink()
        assert hand.stamp == "Verdict: fail"
        assert "the casing turns about the shaft" in hand.free_motions()


def test_a_plate_sawn_in_two_racks_and_both_are_kept_in_one_file(judged: WindowHand, tmp_path: Path) -> None:
    hand = judged
    assert hand.stamp == "Verdict: pass"
    assert hand.free_motions().startswith("No free motion")
    held = hand.window.verdicts.results
    assert held is not None
    assert held.holds_to_nm is not None
    hand.answers.named = "one piece"
    hand.do("saw.keep")
    hand.sheet_key("W")
    hand.drag(*SAW)
    assert hand.last_step == "saw plate"
    assert len(hand.bracket.plates) == 2
    assert [bolt.name for bolt in hand.bracket.bolts] == ["1", "2", "3", "4"]
    assert {bolt.plate for bolt in hand.bracket.bolts} == {plate.name for plate in hand.bracket.plates}
    assert hand.stamp == "No verdict now: drawn since; it was pass"
    sawn = hand.wait_for_ink()
    assert hand.stamp == "Verdict: fail"
    assert sawn.holds_to_nm != held.holds_to_nm
    assert "the casing turns about the shaft" in hand.free_motions()
    in_two = hand.bracket.plates
    hand.undo()
    assert hand.stamp == "Verdict: pass"
    assert hand.free_motions().startswith("No free motion")
    hand.redo()
    assert hand.stamp == "Verdict: fail"
    hand.answers.save = tmp_path / "both.bracket.json"
    hand.key("S", CTRL)
    hand.settle()
    assert hand.window.windowTitle() == "both"
    kept = read_bracket(tmp_path / "both.bracket.json").bracket
    assert kept is not None
    assert kept.plates == in_two
    hand.window.files.begin_blank()
    assert hand.bracket.plates == ()
    assert hand.window.files.open_path(tmp_path / "both.bracket.json")
    assert hand.bracket.plates == in_two
    hand.choose("saw.show", "one piece")
    assert hand.bracket.plates == whole().plates
    hand.wait_for_ink()
    assert hand.stamp == "Verdict: pass"


@pytest.mark.long
def test_a_worker_killed_while_it_judges_is_told_and_the_verdict_comes(judged: WindowHand) -> None:
    hand = judged
    said: list[str] = []
    shares: list[float] = []
    judge = hand.window.judge
    assert isinstance(judge, Judge)
    hand.window.verdicts.told.connect(said.append)
    judge.progressed.connect(lambda _words, share: shares.append(share))
    hand.type_field("S355", "plates", "plate", "material")
    hand.wait_until(lambda: bool(shares))
    assert hand.page.title_block.progress.isVisible()
    line = judge._worker._line
    assert line is not None
    assert line.process.pid is not None
    os.kill(line.process.pid, signal.SIGKILL)
    hand.wait_until(lambda: bool(said))
    assert said == ["The analysis stopped unexpectedly; it has been started again."]
    assert hand.said == said[0]
    hand.wait_for_ink()
    assert hand.stamp == "Verdict: pass"
    hand.undo()
    assert hand.stamp == "Verdict: pass"
    assert hand.bracket == whole()


def test_a_worker_that_dies_of_a_bracket_is_told_and_the_next_change_is_judged(qtbot: QtBot) -> None:
    """With a stand-in for the solver that is killed by a couple of 13 N.m."""
    judge = Judge(worker=Worker(stand_ins.serve))
    with window_in_hand(qtbot, judge=judge) as hand:
        assert hand.window.files.put(stand_ins.with_couple(20.0), "stood in for")
        hand.wait_for_ink()
        said: list[str] = []
        hand.window.verdicts.told.connect(said.append)
        hand.type_field(f"{stand_ins.KILLS:g} N.m", "loads", "couple", "couple_nm")
        hand.wait_until(lambda: len(said) == 2)
        assert said == [STARTED_AGAIN, STOPPED_TWICE]
        assert hand.said == STOPPED_TWICE
        assert hand.stamp.startswith("No verdict")
        hand.type_field("21 N.m", "loads", "couple", "couple_nm")
        hand.wait_for_ink()
        assert hand.stamp.startswith("Verdict: ")
        assert hand.said == ""
