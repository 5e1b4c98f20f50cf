"""Welds on the flat pattern: drawn, picked, laid by menu and by key, taken away, each with undo."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.window.flat.under_menu import choices
from app.window.flat.walking import walk_of
from app.window.selection import Pick
from tests.app.window.flat_hands import Hand, sample


def _top(hand: Hand) -> Pick:
    places = [corner.at_mm[1] for corner in hand.plate.outline]
    index = next(i for i, y in enumerate(places) if y == places[(i + 1) % len(places)] == 90.0)
    return Pick("edge", plate=hand.plate.name, index=index)


def test_a_weld_is_drawn_on_both_plates(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("sluice_welded"))
    sheet = hand.view.on_sheet
    assert sheet is not None
    assert [(run.weld, run.on_edge) for run in sheet.welds] == [("top", True)]
    assert Pick("weld", "top") in walk_of(sheet)
    hand.door.show_plate("foot plate")
    sheet = hand.view.on_sheet
    assert sheet is not None
    assert [(run.weld, run.on_edge) for run in sheet.welds] == [("top", False)]
    assert "a4" in sheet.welds[0].words
    assert any("a4" in words.text for words in hand.view.marks().words)


def test_an_edge_is_welded_by_key_and_back(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("sluice_welded").but(welds=()))
    hand.door.select(_top(hand))
    hand.view.weld_selected()
    assert [weld.length_mm for weld in hand.door.bracket.welds] == [152.0]
    assert hand.door.steps.count() == 1
    hand.door.undo()
    assert hand.door.bracket.welds == ()


def test_what_cannot_be_welded_is_said(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("sluice_welded").but(welds=()))
    hand.door.select(Pick("edge", plate=hand.plate.name, index=0))
    hand.view.weld_selected()
    assert "stands on no plate, bar or anchor" in hand.view.refused
    assert hand.door.bracket.welds == ()


def test_the_menu_of_an_edge_lays_and_takes_away(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("sluice_welded"))
    there = {choice.words: choice for choice in choices(hand.view, _top(hand), (0.0, 90.0))}
    assert "weld it to what it stands on" not in there
    there["lay weld top on the front alone"].do()
    assert hand.door.bracket.welds[0].sides == "front"
    there = {choice.words: choice for choice in choices(hand.view, _top(hand), (0.0, 90.0))}
    there["lay weld top on both sides"].do()
    there["remove weld top"].do()
    assert hand.door.bracket.welds == ()
    there = {choice.words: choice for choice in choices(hand.view, _top(hand), (0.0, 90.0))}
    there["weld it to what it stands on"].do()
    assert len(hand.door.bracket.welds) == 1


def test_a_selected_weld_is_removed_by_key(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("sluice_welded"))
    hand.door.select(Pick("weld", "top"))
    QTest.keyClick(hand.view, Qt.Key.Key_Delete)
    assert hand.door.bracket.welds == ()
    hand.door.undo()
    assert len(hand.door.bracket.welds) == 1


def test_a_weld_follows_a_dragged_edge(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("sluice_welded"))
    hand.drag((76.0, 90.0), (60.0, 90.0))
    (weld,) = hand.door.bracket.welds
    assert abs(weld.length_mm - 136.0) < 1.0
