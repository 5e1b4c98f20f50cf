"""The register in the window by real events: add, search as it is typed, open by Enter, out and in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from app.record.comparison import Judgements
from app.record.record_file import save_record
from app.register.database import Register
from app.window.main_window import PAGES
from app.window.record_page import RecordPage
from geometry.bracket_file import save_bracket
from tests.app.record.examples import clear_results, locked_bracket, settled_record
from tests.app.register.entries import due, entry
from tests.app.window.shown import Answers, window_shown


class Hand:
    """The Record page with its register on top."""

    def __init__(self, page: RecordPage, answers: Answers, qtbot: QtBot, folder: Path) -> None:
        self.page, self.answers, self.qtbot, self.folder = page, answers, qtbot, folder
        self.leaf = page.register
        self.file, self.record = folder / "theirs.bracket.json", folder / "theirs.record.json"

    def press(self, words: str) -> None:
        button = next(b for b in self.leaf.findChildren(QPushButton) if b.text() == words)
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    def key(self, key: Qt.Key) -> None:
        self.qtbot.keyClick(QApplication.focusWidget() or self.page, key)


@pytest.fixture
def hand(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Hand]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    late = due("refit bolt 3", "2001-05-01")
    Register().add([entry(1), entry(2, title="the late one", due=(late,)), entry(3, certifier="somebody")])
    with window_shown(qtbot) as (window, answers, _):
        window.edges.turn_to([page.words for page in PAGES].index("Record"))
        window.activateWindow()
        window.record.turn_to_words("Register")
        hand = Hand(window.record, answers, qtbot, tmp_path)
        save_bracket(hand.file, locked_bracket())
        save_record(hand.record, settled_record().but(bracket_file=hand.file.name))
        yield hand


def judged(hand: Hand) -> None:
    hand.page.desk._judge.judged.emit(Judgements(under_profile=clear_results()))


def test_what_is_overdue_leads_and_typing_narrows_it_down(hand: Hand) -> None:
    assert hand.leaf.titles == ("the late one", "car 3", "car 1")
    assert hand.leaf.said == "3 inspections, 1 overdue."
    assert (
        hand.leaf.list.item(0)
        .text()
        .startswith("2   the late one   OVERDUE 2001-05-01: refit bolt 3\naccepted;")
    )
    hand.leaf.search.setFocus()
    hand.qtbot.keyClicks(hand.leaf.search, "somebody 2031")
    assert hand.leaf.titles == ("car 3",)
    assert hand.leaf.said == "1 of 3 inspections, 0 overdue."


def test_an_inspection_is_added_once_saved_and_opened_by_enter(hand: Hand) -> None:
    page = hand.page
    page.open_path(hand.file)
    page.turn_to_words("Register")
    hand.press("Add this one")
    assert "Wait until all is computed" in page.said.sentence
    judged(hand)
    page.desk.change(lambda r: r.but(title="the cart"))
    hand.press("Add this one")
    assert "Save the record first" in page.said.sentence
    assert page.save()
    hand.press("Add this one")
    assert page.said.sentence == "the cart is in the register."
    hand.press("Add this one")
    assert "just so already" in page.said.sentence
    (added,) = (one.entry for one in Register().newest() if one.entry.title == "the cart")
    assert (added.verdict, added.record_file) == ("pass", str(hand.record))
    page.desk.look_at(locked_bracket().but(title="another"), None)
    hand.leaf.search.setFocus()
    hand.qtbot.keyClicks(hand.leaf.search, "cart")
    hand.key(Qt.Key.Key_Down)
    hand.key(Qt.Key.Key_Return)
    assert page.desk.path == hand.file
    assert page.desk.record.title == "the cart"
    assert page.leaf == "Comparison"


def test_a_record_that_is_gone_is_told(hand: Hand) -> None:
    hand.leaf.search.setFocus()
    hand.key(Qt.Key.Key_Return)
    assert hand.page.said.sentence.startswith("/cars/car 2.record.json is not there: put it back")


def test_out_and_in_and_a_bad_register_are_told(hand: Hand) -> None:
    hand.answers.save = hand.folder / "list.csv"
    hand.press("Write as CSV…")
    assert hand.page.said.sentence == f"Written to {hand.folder / 'list.csv'}: 3 entries."
    Register().path.unlink()
    hand.answers.open = hand.folder / "list.csv"
    hand.press("Take in a CSV…")
    assert hand.page.said.sentence == "Added 3 from list.csv; 0 stood there just so already."
    Register().path.write_bytes(b"no register at all, far from it" * 99)
    hand.leaf.look()
    assert "is no register: name another file" in hand.leaf.said
    assert hand.leaf.titles == ()
    hand.press("Take in a CSV…")
    assert "is no register" in hand.page.said.sentence


def test_an_inch_reader_is_told_what_it_holds_to_in_pounds_too(hand: Hand) -> None:
    Register().add([entry(4, title="with a figure", holds_to_nm=57.4)])
    hand.leaf.look()
    row = hand.leaf.list.item(hand.leaf.titles.index("with a figure"))
    assert "lbf.ft" not in row.text()
    hand.leaf.set_inch(True)
    row = hand.leaf.list.item(hand.leaf.titles.index("with a figure"))
    assert "holds to 57.4 N.m (42.3 lbf.ft)" in row.text()
