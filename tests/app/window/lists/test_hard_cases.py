"""Strangers' files and long ones: markup in names, many bolts, figures that are no numbers."""

from __future__ import annotations

import math
import time
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from pytestqt.qtbot import QtBot

from app.theme import PAPER
from app.window.door import Door
from app.window.lists.check_bar import CheckBar
from app.window.lists.checks_strip import ChecksStrip
from app.window.lists.field_edit import FieldEdit
from app.window.lists.notes import Notes
from app.window.lists.parts_list import PartsList
from app.window.lists.title_block import TitleBlock
from geometry.loads import StatedCouple
from tests.app.example_results import TURN, example_results
from tests.app.window.lists.samples import one_piece
from tests.pace import paced

MARKUP = "<img src='/etc/x'><b>9</b>"


def test_markup_in_names_is_shown_as_it_is_written(qtbot: QtBot) -> None:
    bracket = one_piece()
    loads = bracket.loads.but(couple=StatedCouple(couple_nm=30, by=MARKUP))
    bolts = (bracket.bolts[0].but(name=MARKUP, grade=None), *bracket.bolts[1:])
    door = Door(bracket.but(title=MARKUP, bolts=bolts, loads=loads))
    parts, notes, block = PartsList(door, PAPER), Notes(door, PAPER), TitleBlock(door, PAPER)
    for widget in (parts, notes, block):
        qtbot.addWidget(widget)
        for child in widget.findChildren(FieldEdit):
            assert "<img" not in child.toolTip()
            assert "<b>9" not in child.toolTip()
    assert any("&lt;img" in child.toolTip() for child in parts.findChildren(FieldEdit))
    block.set_results(replace(example_results(), couple_source=MARKUP, reasons=(MARKUP,)), "ink")
    block.read_all()
    assert MARKUP in block.panel.text
    assert MARKUP in block.standing.words


def test_words_of_several_lines_are_shown_on_one_and_left_as_they_are(qtbot: QtBot) -> None:
    bracket = one_piece().but(title="one\ntwo\u202ethree", note="a\nb")
    door = Door(bracket)
    block, notes = TitleBlock(door, PAPER), Notes(door, PAPER)
    qtbot.addWidget(block)
    qtbot.addWidget(notes)
    assert block.title.text() == "one two\\u202ethree"
    for edit in (block.title, *(e for s in notes.sentences for e in s.edits)):
        edit.setFocus()
        edit.commit()
        edit.clearFocus()
    assert door.bracket == bracket
    assert door.steps.count() == 0


def test_two_hundred_bolts_that_all_differ_are_listed_without_a_long_wait(qtbot: QtBot) -> None:
    bolt = one_piece().bolts[0]
    bolts = tuple(bolt.but(name=str(n), tightening_nm=20 + n / 10) for n in range(1, 201))
    door = Door(one_piece().but(bolts=bolts))
    began = time.process_time()
    parts = PartsList(door, PAPER)
    qtbot.addWidget(parts)
    parts.resize(480, 300)
    parts.show()
    door.attempt("other", lambda b: b.but(rake_deg=30))
    assert time.process_time() - began < paced(6.0)
    assert sum(row.row.balloon for row in parts.rows) == 200


def test_a_figure_that_is_no_number_is_shown_as_over(qtbot: QtBot) -> None:
    for demand, allowable in ((math.nan, 1.0), (math.inf, 1.0), (1.0, 0.0)):
        check = replace(TURN, demand=demand, allowable=allowable)
        bar = CheckBar(check, 0.8, PAPER)
        qtbot.addWidget(bar)
        bar.resize(180, 34)
        assert not bar.grab().isNull()
        assert bar.figure_words.startswith("over")
    strip = ChecksStrip(Door(one_piece()), PAPER)
    qtbot.addWidget(strip)
    nan = replace(TURN, demand=math.nan)
    strip.set_results(replace(example_results(), checks=(*example_results().checks, nan)), "ink")
    assert math.isnan(strip.bars[0].check.demand)


def test_undo_goes_to_the_window_while_nothing_is_typed(qtbot: QtBot) -> None:
    door = Door(one_piece())
    notes = Notes(door, PAPER)
    qtbot.addWidget(notes)
    undo = QShortcut(QKeySequence(QKeySequence.StandardKey.Undo), notes)
    undo.activated.connect(door.undo)
    notes.show()
    notes.activateWindow()
    qtbot.waitUntil(notes.isActiveWindow)
    door.attempt("rake", lambda b: b.but(rake_deg=30))
    edit = notes.sentences[0].edits[0]
    edit.setFocus()
    qtbot.keyClick(edit, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert door.bracket == one_piece()
    door.redo()
    edit.selectAll()
    qtbot.keyClicks(edit, "45")
    qtbot.keyClick(edit, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert door.bracket.rake_deg == 30
