"""The table of actions: each has words, calls something that is there, and no key is given twice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from app.window.actions import ACTIONS
from app.window.flat.tool_table import TOOLS
from app.window.main_window import MainWindow
from app.window.menus import reached
from tests.app.window.shown import Answers, window_shown


@pytest.fixture
def window(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> Iterator[tuple[MainWindow, Answers]]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (shown, answers, _):
        yield shown, answers


def test_every_name_and_every_key_is_given_once() -> None:
    assert max(Counter(row.name for row in ACTIONS).values()) == 1
    keys = [QKeySequence(row.key).toString() for row in ACTIONS if row.key]
    assert all(keys), "a key that Qt does not know"
    assert max(Counter([*keys, "Ctrl+Z", "Ctrl+Shift+Z", "Ctrl+Y"]).values()) == 1


def test_every_action_has_words_and_calls_something_there(window: tuple[MainWindow, Answers]) -> None:
    for row in ACTIONS:
        assert row.words.strip() == row.words != "", row
        assert row.menu, row
        for path in filter(None, (row.calls, row.choices, row.ticked)):
            assert callable(reached(window[0].parts, path)), row


def test_every_tool_is_in_a_menu_with_its_own_key() -> None:
    rows = {row.argument: row for row in ACTIONS if row.calls == "flat.set_tool"}
    assert {tool.name: tool.key for tool in TOOLS} == {name: row.key for name, row in rows.items()}


def test_menus_stand_in_order_and_undo_names_its_step(window: tuple[MainWindow, Answers]) -> None:
    shown, _ = window
    words = [action.text().replace("&", "") for action in shown.menuBar().actions() if action.isVisible()]
    assert words == ["File", "Draw", "Change", "Fold", "Bolt", "Saw", "See", "Help"]
    shown.door.attempt("give a title", lambda bracket: bracket.but(title="other"))
    words = [action.text().replace("&", "") for action in shown.menuBar().actions() if action.isVisible()]
    assert words[-2:] == ["Undo: give a title", "Help"]
    shown.actions_by_name["undo"].trigger()
    assert shown.door.bracket.title == "untitled bracket"
    words = [action.text().replace("&", "") for action in shown.menuBar().actions() if action.isVisible()]
    assert words[-2:] == ["Redo: give a title", "Help"]


def test_letters_of_a_menu_differ(window: tuple[MainWindow, Answers]) -> None:
    shown, _ = window
    for menu in (action.menu() for action in shown.menuBar().actions()):
        marked = (
            [a.text()[a.text().index("&") + 1] for a in menu.actions() if "&" in a.text()] if menu else []
        )
        assert len({letter.casefold() for letter in marked}) == len(marked)


def test_choices_are_made_when_the_menu_opens_and_taken(window: tuple[MainWindow, Answers]) -> None:
    shown, _ = window
    menu = shown.actions_by_name["new.sample"].menu()
    menu.aboutToShow.emit()
    words = [action.text() for action in menu.actions()]
    assert "marlpit one piece" in words
    menu.actions()[words.index("tallow stub")].trigger()
    assert shown.windowTitle() == "tallow_stub"
    assert shown.door.bracket.plates


def test_a_menu_without_choices_says_so(window: tuple[MainWindow, Answers]) -> None:
    menu = window[0].actions_by_name["see.motion"].menu()
    menu.aboutToShow.emit()
    assert [(a.text(), a.isEnabled()) for a in menu.actions()] == [("none yet", False)]


def test_ticks_follow_what_is_shown(window: tuple[MainWindow, Answers]) -> None:
    shown, _ = window
    shown.actions_by_name["see.slate"].trigger()
    see = next(a.menu() for a in shown.menuBar().actions() if a.text().replace("&", "") == "See")
    see.aboutToShow.emit()
    assert shown.actions_by_name["see.slate"].isChecked()
    assert not shown.actions_by_name["see.paper"].isChecked()
    assert shown.seeing.theme.name == "slate"


def test_space_presses_the_button_that_has_the_focus(
    window: tuple[MainWindow, Answers], qtbot: QtBot
) -> None:
    shown, _ = window
    shown.activateWindow()
    _, look = shown.menuBar().cornerWidget().findChildren(QPushButton)
    look.setFocus()
    qtbot.keyClick(look, Qt.Key.Key_Space)
    assert shown.seeing.theme.name == "slate"
    assert not shown.page.views.mounted_is_large


def test_space_swaps_the_views_and_f1_shows_the_help(
    window: tuple[MainWindow, Answers], qtbot: QtBot
) -> None:
    shown, _ = window
    shown.activateWindow()
    shown.page.flat.setFocus()
    qtbot.keyClick(shown.page.flat, Qt.Key.Key_Space)
    assert shown.page.views.mounted_is_large
    qtbot.keyClick(shown.page.flat, Qt.Key.Key_F1)
    assert shown.shows_help
    qtbot.keyClick(shown, Qt.Key.Key_Escape)
    assert not shown.shows_help
