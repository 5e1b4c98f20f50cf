"""Figures that cannot be meant are said at their cell; news and troubles are told apart; nobody is quoted."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.editing.blank_sheet import blank_bracket
from app.window.lists.field import put
from app.window.lists.field_edit import FieldEdit
from app.window.lists.finding_cells import cell_remarks
from app.window.main_window import MainWindow
from geometry.findings import findings_of
from tests.app.window.lists.samples import one_piece
from tests.app.window.shown import window_shown


@pytest.fixture
def window(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[MainWindow]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (shown, _, _):
        yield shown


def _note_edit(window: MainWindow, *path: str) -> FieldEdit:
    found = (s.edit_at(path) for s in window.page.notes.sentences)
    edit = next(edit for edit in found if edit is not None)
    edit.setFocus()
    return edit


def _type(qtbot: QtBot, edit: FieldEdit, text: str) -> None:
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    qtbot.keyClick(edit, Qt.Key.Key_Return)


def test_a_couple_nothing_could_make_is_said_at_its_cell_until_it_is_mended(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.starts.from_sample("tallow_stub")
    edit = _note_edit(window, "loads", "couple", "couple_nm")
    _type(qtbot, edit, "9000000 N.m")
    qtbot.waitUntil(lambda: "9e+06 N.m" in edit.below)
    assert edit.fault == ""
    assert "check the unit" in edit.accessibleDescription()
    _type(qtbot, edit, "28 N.m")
    qtbot.waitUntil(lambda: edit.below == "")


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("plates", "plate", "thickness_mm"), 9999.0),
        (("bolts", "1", "tightening_nm"), 1e9),
        (("bolts", "1", "length_mm"), 1e6),
        (("casing", "mass_kg"), 1e9),
        (("casing", "bosses", "top", "depth_mm"), 1e6),
        (("casing", "bosses", "top", "face_diameter_mm"), 1e6),
        (("casing", "bosses", "top", "at_mm", 1), 9e6),
        (("wheel", "diameter_mm"), 1e6),
        (("wheel", "station_mm"), 1e9),
        (("loads", "factor"), 1e9),
        (("loads", "weight_g"), 1e9),
        (("loads", "pull_n"), 1e9),
        (("dash_bar", "to_mm", 0), 1e7),
        (("dash_bar", "ends", 1, "seen_by"), None),
        (("column", "bearings", "lower", "stiffness_n_per_mm"), (1e9, 1e9)),
    ],
)
def test_every_figure_that_cannot_be_meant_has_its_sentence_at_its_own_cell(
    path: tuple[str | int, ...], value: object
) -> None:
    before = one_piece()
    assert path not in cell_remarks(before, findings_of(before))
    wrong = put(before, path, value)
    assert path in cell_remarks(wrong, findings_of(wrong))


def test_news_stands_in_ink_and_a_refusal_in_red(window: MainWindow) -> None:
    said = window.page.said
    window.door.tell("the distances agree within 0.05 mm")
    assert (said.sentence, said.is_trouble) == ("the distances agree within 0.05 mm", False)
    window.door.refuse("this cannot be")
    assert said.is_trouble
    window.page.next_blank()
    assert said.sentence
    assert not said.is_trouble


def test_on_a_new_sheet_nobody_has_stated_anything(qtbot: QtBot, window: MainWindow) -> None:
    assert window.door.bracket == blank_bracket()
    edit = _note_edit(window, "loads", "couple", "couple_nm")
    assert "Couple blank, stated by blank" in window.page.notes.sentences[0].accessibleName()
    _type(qtbot, edit, "30 N.m")
    assert window.door.bracket.loads.couple.words == "stated by nobody yet"
    who = _note_edit(window, "loads", "couple", "by")
    _type(qtbot, who, "the certifier")
    assert window.door.bracket.loads.couple.words == "stated by the certifier"
    who.selectAll()
    qtbot.keyClick(who, Qt.Key.Key_Delete)
    qtbot.keyClick(who, Qt.Key.Key_Return)
    assert window.door.bracket.loads.couple.words == "stated by nobody yet"


def test_what_is_said_at_the_pointer_follows_the_inch(window: MainWindow) -> None:
    from app.mounted.picking import Picked

    mounted = window.page.mounted
    here = Picked("plate", "plate", (0.0, 0.0, 0.0), 137.9)
    assert mounted._words_of(here).endswith("138 MPa")
    window.seeing.set_units("inch")
    assert mounted._words_of(here).endswith("20.0 ksi")
