"""Somebody who has read nothing, on an empty sheet: only what can be seen is pressed, never the menu bar."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from app.window.judge import Judge
from app.window.lists.field_edit import FieldEdit
from geometry.findings import findings_of
from tests.app.window.stories.hands import WindowHand, window_in_hand

CASING = {
    "shaft to A": "52",
    "shaft to B": "58.31",
    "shaft to C": "58.31",
    "A to B": "96.02",
    "A to C": "96.02",
    "B to C": "100",
    "thread": "M10",
    "boss face across": "24 mm",
    "usable depth of thread": "20 mm",
    "casing across": "128 mm",
    "casing high": "12 cm",
    "casing along the shaft": "135 mm",
    "casing's mass": "5,2 kg",
}
DASH_BAR = {
    "between its ends": "1240 mm",
    "both ends are": "welded",
    "middle of the bar above the shaft axis": "110 mm",
    "toward the driver from the boss faces": "34 mm",
    "tube": "40 x 40 x 3",
    "its material": "S235",
    "seen by": "the builder",
}
KNOWN = (
    ("what else holds the column", "bearings"),
    ("station of another bearing", "-220 mm"),
    ("stiffness of another bearing", "8 to 25 kN/mm"),
    ("diameter of the wheel", "360 mm"),
    ("station of the wheel", "410 mm"),
    ("rake of the shaft", "24 deg"),
    ("who states the couple", "the builder"),
    ("couple", "30 N.m"),
    ("grade", "8.8"),
    ("tightening torque", "25 N.m"),
    ("material", "S275"),
)
"""What the newcomer knows of the car, by what the field is called where it stands."""
MOST_GESTURES = 71


def describe(hand: WindowHand) -> None:
    """Follow the order line and fill in the two slips, going on with Tab and ending with Enter."""
    for step, answers in (("casing and bosses", CASING), ("dash bar", DASH_BAR)):
        hand.press_words(step)
        form = hand.page.sheet.form
        assert form is not None
        left = dict(answers)
        for _ in range(40):
            if hand.focus.accessibleName() in left:
                hand.type_words(left.pop(hand.focus.accessibleName()), None)
            if not left:
                break
            hand.key(Qt.Key.Key_Tab)
        assert not left, f"Tab does not reach {left}"
        hand.key(Qt.Key.Key_Return)
        assert hand.page.sheet.form is None, form.sentence


def take_stock_shape(hand: WindowHand, name: str) -> None:
    """Press the words in the middle of the sheet, then the shape in the list that opens."""
    hand.press_words("start from a stock shape")
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    (action,) = [a for a in menu.actions() if a.text() == name]
    hand.gestures += 1
    QTest.mouseMove(menu, menu.actionGeometry(action).center())
    QTest.mouseClick(menu, Qt.MouseButton.LeftButton, pos=menu.actionGeometry(action).center())
    hand.close_lists()


def fill_blanks(hand: WindowHand) -> None:
    """Press the count of blanks, type into what is led to, until the count is gone."""
    block = hand.page.title_block
    for _ in range(40):
        if not block.blanks.blanks:
            return
        (link,) = [b for b in block.blanks.children() if hasattr(b, "click")]
        hand.press_widget(link)
        field = hand.focus
        assert isinstance(field, FieldEdit), hand.said
        known = [value for words, value in KNOWN if words in field.field.spoken]
        assert known, f"nothing is known of {field.field.spoken!r}: {hand.said}"
        hand.type_words(known[0])
        assert field.fault == ""
    raise AssertionError([blank.sentence for blank in block.blanks.blanks])


@pytest.mark.parametrize(
    "judging", [False, pytest.param(True, marks=pytest.mark.long)], ids=["undisturbed", "judged"]
)
def test_from_an_empty_sheet_to_a_verdict_without_the_menu(qtbot: QtBot, judging: bool) -> None:
    with window_in_hand(qtbot, judge=Judge() if judging else None) as hand:
        hand.window.menuBar().hide()
        describe(hand)
        take_stock_shape(hand, "plate with folded foot")
        fill_blanks(hand)
        assert not [f for f in findings_of(hand.bracket) if f.bars_verdict]
        assert hand.gestures <= MOST_GESTURES
        if judging:
            results = hand.wait_for_ink()
            assert results.verdict in ("pass", "marginal", "fail")
