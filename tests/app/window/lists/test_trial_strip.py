"""Trying without a step: sliders, a bolt loosened or out, kept as a step or put back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from app.theme import PAPER
from app.window.door import Door
from app.window.lists.trial import Trial, kept, tried
from app.window.lists.trial_strip import TrialStrip
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.loads import LoadCell
from geometry.placing import place_bolts
from solver.clamped_bolt import clamped_bolts
from tests.app.window.lists.samples import one_piece

Told = list[tuple[Bracket, frozenset[str], frozenset[str]]]


def _strip(qtbot: QtBot) -> tuple[TrialStrip, Door, Told]:
    door = Door(one_piece())
    strip = TrialStrip(door, PAPER)
    qtbot.addWidget(strip)
    strip.resize(1200, 30)
    strip.show()
    told: Told = []
    strip.trial_changed.connect(lambda bracket, out, slipped: told.append((bracket, out, slipped)))
    return strip, door, told


def test_a_couple_is_tried_while_it_is_slid_and_makes_no_step(qtbot: QtBot) -> None:
    strip, door, told = _strip(qtbot)
    slide = strip.slides[0]
    slide.setFocus()
    for _ in range(3):
        qtbot.keyClick(slide, Qt.Key.Key_Right)
    tried_nm = [t[0].loads.couple.value_nm for t in told]
    step = (120.0 - 0.5) / 100
    assert tried_nm == pytest.approx([30 + step, 30 + 2 * step, 30 + 3 * step])
    assert door.bracket == one_piece()
    qtbot.mouseClick(slide, Qt.MouseButton.LeftButton, pos=QPoint(slide.width() // 2, 10))
    assert len(told) == 4
    with qtbot.waitSignal(strip.trial_ended):
        qtbot.keyClick(slide, Qt.Key.Key_Home)
    assert strip.trial.is_none


def test_the_selected_bolt_is_tightened_loosened_and_taken_out(qtbot: QtBot) -> None:
    strip, door, told = _strip(qtbot)
    assert not strip.slides[1].isEnabled()
    strip.loosen()
    assert told == []
    door.select(Pick("bolt", "4"))
    strip.slides[1].slide_to(20.0)
    assert told[-1][0].bolt("4").tightening_nm == 20.0
    assert told[-1][0].bolt("5").tightening_nm == 30
    strip.loosen()
    assert told[-1][1:] == (frozenset(), frozenset({"4"}))
    strip.take_out()
    assert told[-1][1:] == (frozenset({"4"}), frozenset())
    strip.take_out()
    assert told[-1][1:] == (frozenset(), frozenset())
    assert door.bracket == one_piece()


def test_friction_is_tried_for_all_bolts(qtbot: QtBot) -> None:
    strip, _, told = _strip(qtbot)
    strip.slides[2].slide_to(0.1)
    assert {bolt.face_friction for bolt in told[-1][0].bolts} == {0.1}


def test_keep_makes_one_step_that_can_be_undone(qtbot: QtBot) -> None:
    strip, door, _ = _strip(qtbot)
    door.select(Pick("bolt", "4"))
    strip.slides[0].slide_to(45.0)
    strip.take_out()
    with qtbot.waitSignal(strip.trial_ended):
        strip.keep()
    assert door.steps.undoText() == "keep the trial: couple 45 N.m, bolt 4 out"
    assert door.bracket.loads.couple.value_nm == 45
    assert [bolt.name for bolt in door.bracket.bolts] == ["1", "2", "3", "5", "6", "7"]
    assert strip.trial.is_none
    door.undo()
    assert door.bracket == one_piece()


def test_put_back_ends_the_trial(qtbot: QtBot) -> None:
    strip, _, _ = _strip(qtbot)
    strip.slides[2].slide_to(0.1)
    with qtbot.waitSignal(strip.trial_ended):
        strip.put_back()
    assert strip.slides[2].value == 0.15


def test_a_trial_follows_another_edit_and_forgets_bolts_that_are_gone(qtbot: QtBot) -> None:
    strip, door, told = _strip(qtbot)
    door.select(Pick("bolt", "4"))
    strip.take_out()
    strip.slides[2].slide_to(0.1)
    door.attempt("remove", lambda b: b.without_bolt("4"))
    assert strip.trial == Trial(face_friction=0.1)
    assert told[-1][1] == frozenset()


def test_a_kept_loose_bolt_clamps_with_nothing() -> None:
    bracket = kept(one_piece(), Trial(loosened=frozenset({"4"})))
    assert bracket.bolt("4").preload_n == (0.0, 0.0)
    assert clamped_bolts(bracket, place_bolts(bracket))["4"].grip.preload_n == 0.0


def test_trying_a_measured_couple_keeps_its_factor() -> None:
    loads = one_piece().loads.but(couple=LoadCell(force_n=600, arm_mm=50))
    changed = tried(one_piece().but(loads=loads), Trial(couple_nm=45.0))
    assert (changed.loads.couple.value_nm, changed.loads.couple_factor) == (45.0, 1.5)
    stated = tried(one_piece(), Trial(couple_nm=45.0))
    assert (stated.loads.couple_factor, stated.loads.factor) == (2.0, None)
