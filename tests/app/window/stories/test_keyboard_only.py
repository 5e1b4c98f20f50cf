"""The whole window without a mouse: every part is reached by Tab and shows it, every action has a key."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot

from app.window.action import Action
from app.window.actions import ACTIONS
from tests.app.example_results import example_bracket, example_results
from tests.app.window.stories.builds import whole
from tests.app.window.stories.hands import CTRL, WindowHand, window_in_hand

ALT, SHIFT = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier
MOST_STOPS = 400


@pytest.fixture
def hand(qtbot: QtBot) -> Iterator[WindowHand]:
    with window_in_hand(qtbot) as made:
        made.window.files.put(whole(), "for the saw")
        made.settle()
        yield made


def test_tab_goes_round_all_parts_and_each_shows_that_it_has_the_keyboard(hand: WindowHand) -> None:
    bracket = example_bracket()
    hand.window.files.put(bracket, "an example")
    hand.window.verdicts._ink(replace(example_results(), hash=bracket.input_hash()))
    hand.settle()
    page = hand.page
    parts: dict[str, QWidget] = {
        "flat pattern": page.flat,
        "as mounted": page.mounted,
        "controls": page.controls,
        "trial strip": page.trial,
        "free motions": page.free_motions,
        "checks": page.checks,
        "parts list": page.parts_list,
        "notes": page.notes,
        "title block": page.title_block,
        "page edges": hand.window.edges,
        "order line": page.order,
    }
    page.flat.setFocus()
    first = hand.focus
    reached: list[str] = []
    unseen: list[str] = []
    for _ in range(MOST_STOPS):
        here = hand.focus
        reached += [
            name
            for name, part in parts.items()
            if (part is here or part.isAncestorOf(here)) and reached[-1:] != [name]
        ]
        with_it = here.grab().toImage()
        hand.key(Qt.Key.Key_Tab)
        if hand.focus is here:
            continue
        if here.isVisible() and here.grab().toImage() == with_it:
            unseen.append(here.accessibleName() or repr(here))
        if hand.focus is first:
            break
    else:
        raise AssertionError("Tab does not come round")
    assert reached == list(parts)
    assert unseen == []


def test_shift_tab_goes_the_same_way_back(hand: WindowHand) -> None:
    hand.page.notes.sentences[0].edits[0].setFocus()
    start = hand.focus
    way = []
    for _ in range(12):
        way.append(hand.focus)
        hand.key(Qt.Key.Key_Tab)
    for there in reversed(way):
        hand.key(Qt.Key.Key_Backtab, SHIFT)
        assert hand.focus is there
    assert hand.focus is start


def test_every_key_of_the_table_does_its_action(hand: WindowHand, monkeypatch: pytest.MonkeyPatch) -> None:
    for row in (row for row in ACTIONS if row.key):
        if row.calls == "flat.set_tool":
            hand.view.set_tool("measure" if row.argument != "measure" else "hole")
            hand.sheet_key(row.key)
            assert hand.view.tool == row.argument
            continue
        with monkeypatch.context() as patch:
            done = spied(hand, row, patch)
            hand.view.setFocus()
            press(hand, row.key)
        assert done == [row.name]


def test_every_action_is_reached_through_the_menus_by_keys(
    hand: WindowHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    menus = {action.text().replace("&", ""): action.text() for action in hand.window.menuBar().actions()}
    for row in ACTIONS:
        action = hand.window.actions_by_name[row.name]
        with monkeypatch.context() as patch:
            done = [] if row.choices else spied(hand, row, patch)
            hand.view.setFocus()
            QTest.keyClick(hand.window, letter_of(menus[row.menu]), ALT)
            menu = QApplication.activePopupWidget()
            assert isinstance(menu, QMenu), row
            if "&" in action.text():
                QTest.keyClick(menu, letter_of(action.text()))
            else:
                menu.setActiveAction(action)
                QTest.keyClick(menu, Qt.Key.Key_Return)
            if row.choices:
                assert action.menu().isVisible(), row
            else:
                assert done == [row.name], row
        while (popup := QApplication.activePopupWidget()) is not None:
            popup.close()
        hand.close_lists()


def test_a_bracket_is_described_tried_and_saved_by_keys_alone(hand: WindowHand, qtbot: QtBot) -> None:
    window, page = hand.window, hand.page
    hand.door.open(
        whole().but(
            column=whole().column.but(held_by=None, bearings=()),
            bolts=tuple(bolt.but(grade=None) for bolt in whole().bolts),
        )
    )
    hand.view.setFocus()
    for _ in range(10):
        if not page.title_block.blanks.blanks:
            break
        hand.key(Qt.Key.Key_F4)
        words = hand.focus.accessibleName()
        hand.type_words("nothing" if "column" in words else "8.8")
    assert page.title_block.blanks.blanks == ()
    assert hand.bracket.column.held_by == "nothing"
    hand.view.setFocus()
    go_to(hand, page.trial)
    for _ in range(20):
        hand.key(Qt.Key.Key_Right)
    assert not page.trial.trial.is_none
    assert hand.bracket.loads.couple.value_nm == 12.0
    page.trial.put_back()
    hand.view.setFocus()
    hand.key(Qt.Key.Key_Space)
    assert page.views.mounted_is_large
    hand.key(Qt.Key.Key_F1)
    assert window.shows_help
    hand.key(Qt.Key.Key_Escape)
    assert not window.shows_help
    page.order.setFocus()
    hand.view.setFocus()
    go_to(hand, page.order, Qt.Key.Key_Backtab)
    while not hand.focus.accessibleName().startswith("casing"):
        hand.key(Qt.Key.Key_Backtab, SHIFT)
    hand.key(Qt.Key.Key_Space)
    assert page.sheet.form is not None
    hand.key(Qt.Key.Key_Escape)
    assert page.sheet.form is None
    steps = hand.door.steps.index()
    for _ in range(steps):
        hand.undo()
    assert hand.bracket.column.held_by is None
    for _ in range(steps):
        hand.key(Qt.Key.Key_Z, CTRL | SHIFT)
    assert hand.bracket.column.held_by == "nothing"


def go_to(hand: WindowHand, part: QWidget, key: Qt.Key = Qt.Key.Key_Tab) -> None:
    """Press Tab until something of a part has the keyboard."""
    for _ in range(MOST_STOPS):
        if part is hand.focus or part.isAncestorOf(hand.focus):
            return
        hand.key(key, SHIFT if key == Qt.Key.Key_Backtab else Qt.KeyboardModifier.NoModifier)
    raise AssertionError(f"Tab does not reach {part.accessibleName()}")


def spied(hand: WindowHand, row: Action, patch: pytest.MonkeyPatch) -> list[str]:
    """Put a note of the call in place of what a row calls."""
    done: list[str] = []
    part, method = row.calls.split(".")
    patch.setattr(getattr(hand.window.parts, part), method, lambda *_: done.append(row.name))
    return done


def press(hand: WindowHand, key: str) -> None:
    """Press a key as the table writes it."""
    *held, last = key.split("+")
    keys = Qt.KeyboardModifier.NoModifier
    for name in held:
        keys |= {"Ctrl": CTRL, "Shift": SHIFT}[name]
    hand.key(getattr(Qt.Key, f"Key_{last}"), keys)


def letter_of(words: str) -> str:
    return words[words.index("&") + 1].lower()
