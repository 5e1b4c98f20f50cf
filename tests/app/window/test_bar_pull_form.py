"""The form for a pull at the dash bar: told as it is typed, put in with its source, refused in a sentence."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from app.editing.refused import EditRefused
from app.theme import PAPER
from app.window.door import Door
from app.window.forms.bar_pull_form import BarPullForm
from geometry.bracket import Bracket
from tests.app.editing.test_bar_pull import BRACKET, bends_mm


@pytest.fixture
def door(qtbot: QtBot) -> Door:
    return Door(BRACKET)


def typed(qtbot: QtBot, form: BarPullForm, **texts: str) -> None:
    for words, text in texts.items():
        told = words.replace("_", " ")
        entry = next(e for e in form.findChildren(QLineEdit) if e.accessibleName() == told)
        entry.clear()
        qtbot.keyClicks(entry, text)


def test_it_tells_as_it_is_typed_and_puts_the_measured_ends_in(door: Door, qtbot: QtBot) -> None:
    form = BarPullForm(door, PAPER)
    qtbot.addWidget(form)
    qtbot.keyClick(form, Qt.Key.Key_Return)
    assert form.sentence == "pull at its middle is blank: read it, 0 if the needle stood still"
    middle = f"{bends_mm(588.4, 500.0) + 0.05:.3f}"
    typed(qtbot, form, pull_at_its_middle="60 kgf", its_middle_moved=middle, its_first_end_moved="0.04")
    typed(qtbot, form, its_other_end_moved="0,06")
    assert not door.bracket.dash_bar or door.bracket.dash_bar.ends[0].kind == "bolted flange"
    qtbot.keyClick(form, Qt.Key.Key_Return)
    assert form.sentence == "read by is blank: a measured stiffness says who read it"
    typed(qtbot, form, read_by="us, 3 gauges")
    assert "N.m/deg" in form.sentence
    with qtbot.waitSignal(form.left):
        qtbot.keyClick(form, Qt.Key.Key_Return)
    assert door.bracket.dash_bar is not None
    end = door.bracket.dash_bar.ends[1]
    assert end.kind == "stiffness"
    assert end.seen_by is not None
    assert end.seen_by.startswith("measured: 588.4 N at its middle")
    assert end.seen_by.endswith("read by us, 3 gauges")
    door.steps.undo()
    assert door.bracket == BRACKET


def test_what_cannot_be_is_told(door: Door, qtbot: QtBot) -> None:
    form = BarPullForm(door, PAPER)
    qtbot.addWidget(form)
    typed(qtbot, form, pull_at_its_middle="600", its_middle_moved="9", its_first_end_moved="0")
    typed(qtbot, form, its_other_end_moved="0", read_by="us")
    assert "its ends give way" in form.sentence
    typed(qtbot, form, its_middle_moved="much")
    assert "much" in form.sentence
    qtbot.keyClick(form, Qt.Key.Key_Return)
    assert door.bracket == BRACKET


def test_without_a_bar_there_is_no_form(qtbot: QtBot) -> None:
    with pytest.raises(EditRefused, match="no dash bar"):
        BarPullForm(Door(Bracket()), PAPER)
