"""What can be done with what is selected works by the keyboard alone, on openings and on plates."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.editing.clips import copied_plate, pasted_plate
from app.editing.moved_shapes import middle_of
from app.editing.saw import saw
from app.window.actions import ACTIONS
from app.window.flat.tool_table import BY_KEY
from app.window.menus import reached
from app.window.selection import Pick
from tests.app.window.flat_hands import Hand, sample

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def hand(qtbot: QtBot) -> Hand:
    return Hand(qtbot, sample("tallow_stub"))


def _walk_to(hand: Hand, kind: str) -> Pick:
    """Go with Tab to the first thing of a kind."""
    for _ in range(200):
        QTest.keyClick(hand.view, Qt.Key.Key_Tab)
        pick = hand.door.pick
        if pick is not None and pick.kind == kind:
            return pick
    raise AssertionError(f"Tab came to no {kind}")


def _off_centre(hand: Hand) -> Pick:
    for opening in hand.plate.openings:
        if min(map(abs, middle_of(opening))) > 5.0:
            pick = Pick("opening", opening.name, hand.plate.name)
            hand.door.select(pick)
            return pick
    raise AssertionError("every opening lies on a centre line")


def test_an_opening_is_mirrored_repeated_copied_pasted_and_removed(hand: Hand) -> None:
    before = hand.plate
    pick = _off_centre(hand)
    QTest.keyClicks(hand.view, "o")
    assert hand.view.entry.isVisible()
    hand.view.entry.selectAll()
    QTest.keyClicks(hand.view.entry, "3")
    QTest.keyClick(hand.view.entry, Qt.Key.Key_Return)
    assert len(hand.plate.openings) == len(before.openings) + 2, hand.view.refused
    hand.door.undo()
    hand.door.select(pick)
    QTest.keyClick(hand.view, Qt.Key.Key_C, CTRL)
    QTest.keyClick(hand.view, Qt.Key.Key_V, CTRL)
    assert len(hand.plate.openings) == len(before.openings) + 1
    hand.door.undo()
    hand.door.select(pick)
    QTest.keyClick(hand.view, Qt.Key.Key_Delete)
    assert pick.name not in {opening.name for opening in hand.plate.openings}
    hand.door.undo()
    assert hand.plate == before


@pytest.mark.parametrize(("key", "turned"), [("d", (-1.0, 1.0)), ("v", (1.0, -1.0))])
def test_an_opening_is_mirrored_beside_itself(hand: Hand, key: str, turned: tuple[float, float]) -> None:
    pick = _off_centre(hand)
    x, y = middle_of(hand.plate.opening(pick.name))
    known = {opening.name for opening in hand.plate.openings}
    QTest.keyClicks(hand.view, key)
    (new,) = [o for o in hand.plate.openings if o.name not in known]
    assert middle_of(new) == pytest.approx((turned[0] * x, turned[1] * y))
    assert hand.last_step == f"mirror opening {pick.name}"


def test_a_plate_is_copied_mirrored_and_removed(hand: Hand) -> None:
    pick = _walk_to(hand, "plate")
    before = hand.plate
    QTest.keyClicks(hand.view, "d")
    assert hand.plate.outline != before.outline or hand.plate.openings != before.openings
    hand.door.undo()
    QTest.keyClick(hand.view, Qt.Key.Key_C, CTRL)
    QTest.keyClick(hand.view, Qt.Key.Key_V, CTRL)
    assert len(hand.door.bracket.plates) == 2
    hand.door.undo()
    hand.door.select(pick)
    QTest.keyClick(hand.view, Qt.Key.Key_Delete)
    assert not hand.door.bracket.plates
    assert hand.last_step == "remove plate"


def test_sawn_plates_are_joined_again_by_a_key(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("marlpit_one_piece"))
    whole = hand.door.bracket
    hand.door.attempt("saw", lambda b: saw(b, "plate", (-300.0, 6.0), (300.0, 6.0)))
    assert len(hand.door.bracket.plates) == 2
    QTest.keyClicks(hand.view, "j")
    assert len(hand.door.bracket.plates) == 1, hand.view.refused
    assert len(hand.plate.openings) == len(whole.plates[0].openings)


def test_with_several_plates_the_key_asks_which(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("marlpit_two_straps"))
    clip = copied_plate(hand.door.bracket, hand.plate.name)
    hand.door.attempt("more", lambda b: pasted_plate(b, clip))
    QTest.keyClicks(hand.view, "j")
    menu = QApplication.activePopupWidget()
    assert menu is not None
    assert len(menu.actions()) == len(hand.door.bracket.plates) - 1
    menu.close()


def test_with_nothing_selected_each_says_what_to_select(hand: Hand) -> None:
    said: list[str] = []
    hand.door.told.connect(said.append)
    hand.door.select(None)
    for deed in (hand.view.copy_selected, hand.view.remove_selected, hand.view.repeat_round_centre):
        deed()
        assert ", select " in said[-1]
    hand.view.paste_copied()
    assert said[-1].startswith("there is nothing to paste")
    hand.view.join()
    assert said[-1].startswith("there is no other plate")


def test_every_deed_of_the_menu_is_the_deed_of_its_key(hand: Hand) -> None:
    rows = [row for row in ACTIONS if row.calls.startswith("flat.") and len(row.key) == 1]
    for row in rows:
        assert callable(reached(type("Parts", (), {"flat": hand.view}), row.calls))
        assert row.calls == "flat.set_tool" or row.key not in BY_KEY, row


def test_escape_takes_back_in_turn_the_figure_the_tool_and_the_selection(hand: Hand) -> None:
    pick = _walk_to(hand, "opening")
    before = hand.door.bracket
    QTest.keyClick(hand.view, Qt.Key.Key_Return)
    assert hand.view.entry.isVisible()
    QTest.keyClicks(hand.view.entry, "99")
    QTest.keyClick(hand.view.entry, Qt.Key.Key_Escape)
    assert not hand.view.entry.isVisible()
    assert (hand.door.bracket, hand.door.pick) == (before, pick)
    QTest.keyClicks(hand.view, "h")
    assert hand.view.tool == "hole"
    QTest.keyClick(hand.view, Qt.Key.Key_Escape)
    assert (hand.view.tool, hand.door.pick) == ("select", pick)
    QTest.keyClick(hand.view, Qt.Key.Key_Escape)
    assert hand.door.pick is None


def test_a_dimension_that_stands_over_a_hole_is_typed_not_the_hole_dragged(hand: Hand) -> None:
    pick = _walk_to(hand, "opening")
    mark = next(m for m in hand.view.marks().dimensions if m.name)
    hand.click_px(mark.words.at if hasattr(mark.words, "at") else mark.words.box.center())
    assert hand.view.entry.isVisible()
    QTest.keyClick(hand.view.entry, Qt.Key.Key_Escape)
    assert hand.door.pick == pick
