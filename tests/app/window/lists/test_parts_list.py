"""The parts list on the sheet: cells typed over, alike parts together and one by one, selection both ways."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea
from pytestqt.qtbot import QtBot

from app.theme import PAPER
from app.window.door import Door
from app.window.lists.field import Path
from app.window.lists.field_edit import FieldEdit
from app.window.lists.part_row import PartRow
from app.window.lists.parts_list import PartsList
from app.window.selection import Pick
from geometry.bracket import Bracket
from solver.results import BoltResult, QuickAnswer
from tests.app.example_results import example_results
from tests.app.window.lists.samples import one_piece


def _list(qtbot: QtBot, bracket: Bracket | None = None, width: int = 480) -> tuple[PartsList, Door]:
    door = Door(bracket or one_piece())
    parts = PartsList(door, PAPER)
    qtbot.addWidget(parts)
    parts.resize(width, 240)
    parts.show()
    parts.activateWindow()
    qtbot.waitUntil(parts.isActiveWindow)
    return parts, door


def _row(parts: PartsList, key: str) -> PartRow:
    return next(row for row in parts.rows if row.row.key == key)


def _edit(parts: PartsList, key: str, path: Path) -> FieldEdit:
    edit = _row(parts, key).edit_at(path)
    assert edit is not None
    return edit


def _type(qtbot: QtBot, edit: FieldEdit, text: str) -> None:
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    qtbot.keyClick(edit, Qt.Key.Key_Return)


def test_a_thickness_is_typed_in_inches_and_undone(qtbot: QtBot) -> None:
    parts, door = _list(qtbot)
    edit = _edit(parts, "plate plate", ("plates", "plate", "thickness_mm"))
    _type(qtbot, edit, "5/16 in")
    assert door.bracket.plate("plate").thickness_mm == pytest.approx(7.9375)
    assert door.steps.undoText() == "set thickness of plate to 7.9375 mm"
    door.undo()
    assert door.bracket == one_piece()
    assert edit.text() == "6 mm"


def test_a_shared_cell_changes_all_and_an_opened_one_only_its_own(qtbot: QtBot) -> None:
    parts, door = _list(qtbot)
    _type(qtbot, _edit(parts, "bolts 1", ("bolts", "1", "tightening_nm")), "20 lbf.ft")
    torques = [bolt.tightening_nm for bolt in door.bracket.bolts]
    assert torques[:3] == pytest.approx([27.1164] * 3, rel=1e-4)
    assert torques[3:] == [30] * 4
    assert door.steps.count() == 1
    qtbot.keyClick(_row(parts, "bolts 1").mark, Qt.Key.Key_Return)
    _type(qtbot, _edit(parts, "bolt 2", ("bolts", "2", "grade")), "10.9")
    assert [bolt.grade for bolt in door.bracket.bolts[:3]] == ["8.8", "10.9", "8.8"]


def test_bad_input_stays_in_its_cell_with_a_sentence_below_the_row(qtbot: QtBot) -> None:
    parts, door = _list(qtbot)
    row = _row(parts, "plate plate")
    edit = _edit(parts, "plate plate", ("plates", "plate", "material"))
    edit.setFocus()
    before = row.height()
    _type(qtbot, edit, "S276")
    assert (edit.text(), door.bracket) == ("S276", one_piece())
    assert "did you mean S275?" in edit.fault
    assert row.height() > before
    _type(qtbot, edit, "S355")
    assert door.bracket.plate("plate").material == "S355"
    assert (edit.fault, row.height()) == ("", before)


def test_a_row_selects_what_it_stands_for_and_the_reverse(qtbot: QtBot) -> None:
    parts, door = _list(qtbot)
    qtbot.mouseClick(_row(parts, "dash bar"), Qt.MouseButton.LeftButton)
    assert door.pick == Pick("dash bar")
    door.select(Pick("bolt", "5"))
    assert [row.row.key for row in parts.rows if row.chosen] == ["bolts 4"]
    parts.open_row("bolts 4")
    door.select(Pick("bolt", "6"))
    assert [row.row.key for row in parts.rows if row.chosen] == ["bolt 6"]
    door.select(None)
    assert not any(row.chosen for row in parts.rows)


def test_a_selected_row_tells_the_rest_and_takes_it(qtbot: QtBot) -> None:
    parts, door = _list(qtbot)
    door.select(Pick("bolt", "4"))
    row = _row(parts, "bolts 4")
    assert row.height() > _row(parts, "bolts 1").height() * 2
    _type(qtbot, _edit(parts, "bolts 4", ("bolts", "4", "washer")), "none")
    assert [bolt.washer for bolt in door.bracket.bolts] == ["standard"] * 3 + ["none"] * 4
    _type(qtbot, _edit(parts, "bolts 4", ("plates", "plate", "openings", "foot 1", "diameter_mm")), "8.4")
    holes = {o.name: o.diameter_mm for o in door.bracket.plate("plate").openings}  # type: ignore[union-attr]
    assert [holes[f"foot {number}"] for number in (1, 2, 3, 4)] == [8.4] * 4
    _type(qtbot, _edit(parts, "bolts 4", ("bolts", "4", "preload_n")), "14 to 20 kN")
    assert door.bracket.bolt("7").preload_n == (14_000, 20_000)


def test_arrows_go_from_row_to_row_in_the_same_column(qtbot: QtBot) -> None:
    parts, _ = _list(qtbot)
    _edit(parts, "bolts 1", ("bolts", "1", "size")).setFocus()
    qtbot.keyClick(parts.focusWidget(), Qt.Key.Key_Down)
    assert parts.focusWidget() is _edit(parts, "bolts 4", ("bolts", "4", "size"))
    qtbot.keyClick(parts.focusWidget(), Qt.Key.Key_Up)
    assert parts.focusWidget() is _edit(parts, "bolts 1", ("bolts", "1", "size"))


def test_tab_reaches_every_cell(qtbot: QtBot) -> None:
    parts, _ = _list(qtbot)
    _row(parts, "bolts 1").mark.setFocus()
    seen: set[Path] = set()
    for _ in range(120):
        here = parts.focusWidget()
        if isinstance(here, FieldEdit):
            seen.update(here.field.paths)
        qtbot.keyClick(here, Qt.Key.Key_Tab)
    wanted = {path for row in parts.rows for edit in row.edits for path in edit.field.paths}
    assert wanted <= seen


@pytest.mark.parametrize("width", [380, 480, 700])
def test_all_columns_stand_within_the_width(qtbot: QtBot, width: int) -> None:
    parts, _ = _list(qtbot, width=width)
    qtbot.wait(10)
    for row in parts.rows:
        assert all(edit.geometry().right() <= row.width() for edit in row.edits)
        boxes = [edit.geometry() for edit in row.edits]
        assert not any(a.intersects(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])


def test_numbers_of_bolts_and_plates_are_shown_whole_at_1280(qtbot: QtBot) -> None:
    parts, _ = _list(qtbot, width=384)
    qtbot.wait(10)
    for row in parts.rows:
        if row.row.decides:
            assert all(edit.width() >= edit.sizeHint().width() for edit in row.edits), row.row.key


def test_what_has_no_room_is_whole_and_scrolled_to(qtbot: QtBot) -> None:
    """At a window of 1024 pixels all was cut to a letter or two, with nothing to bring it into view."""
    parts, _ = _list(qtbot, width=290)
    qtbot.wait(10)
    for row in parts.rows:
        assert all(edit.width() >= edit.sizeHint().width() for edit in row.edits), row.row.key
    first = _row(parts, "bolts 1")
    torque = first.edit_at(("bolts", "1", "tightening_nm"))
    assert torque is not None
    sheet = parts.findChild(QScrollArea)
    assert sheet is not None
    assert not sheet.viewport().rect().contains(torque.mapTo(sheet.viewport(), torque.rect().center()))
    torque.setFocus()
    seen = sheet.viewport().rect()
    assert seen.contains(torque.mapTo(sheet.viewport(), torque.rect().topLeft()))
    assert seen.contains(torque.mapTo(sheet.viewport(), torque.rect().bottomRight()))
    first.mark.setFocus()
    assert sheet.horizontalScrollBar().value() <= 3
    # with room it is not scrolled to the side at all
    parts.resize(480, 240)
    qtbot.wait(10)
    assert sheet.horizontalScrollBar().maximum() == 0


def test_states_are_those_of_the_newest_answer(qtbot: QtBot) -> None:
    parts, _ = _list(qtbot)

    def state() -> str:
        return str(_row(parts, "bolts 1").row.cells[3][0])

    stuck = [BoltResult(name, "stuck", 0, 0, 0, 0, 0.1, "") for name in "123"]
    slipped = [BoltResult(name, "slipped", 0, 0, 0, 0, 1.1, "") for name in "123"]
    parts.set_results(replace(example_results(), bolts=tuple(stuck)), "ink")
    assert state() == "stuck"
    parts.set_quick(QuickAnswer(None, tuple(slipped), (), ()))
    assert state() == "slipped"
    parts.set_quick(None)
    assert state() == "stuck"
    parts.set_results(None, "none")
    assert state() == ""


def test_a_blank_is_gone_to_wherever_it_is(qtbot: QtBot) -> None:
    bolts = [bolt.but(grade=None) if bolt.name == "6" else bolt for bolt in one_piece().bolts]
    parts, door = _list(qtbot, one_piece().but(bolts=tuple(bolts)))
    assert parts.go_to(("bolts", "6", "grade"))
    assert parts.focusWidget() is _edit(parts, "bolt 6", ("bolts", "6", "grade"))
    assert door.pick == Pick("bolt", "6")
    assert not parts.go_to(("rake_deg",))


def test_rows_stay_with_what_is_being_typed_when_something_else_changes(qtbot: QtBot) -> None:
    parts, door = _list(qtbot)
    edit = _edit(parts, "plate plate", ("plates", "plate", "thickness_mm"))
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, "8")
    door.attempt("other", lambda b: b.but(rake_deg=30))
    assert edit.text() == "8"
    assert parts.focusWidget() is edit


def test_a_thread_friction_no_thread_has_stays_in_its_cell(qtbot: QtBot) -> None:
    parts, door = _list(qtbot)
    first = door.bracket.bolts[0].name
    row = next(r for r in parts.rows if r.has(("bolts", first, "thread_friction")))
    row.mark.setFocus()
    edit = row.edit_at(("bolts", first, "thread_friction"))
    assert edit is not None
    _type(qtbot, edit, "8.8")
    assert "thread friction" in edit.fault
    assert edit.text() == "8.8"
    assert door.bracket == one_piece()


def test_a_selected_row_leaves_room_for_others_until_somebody_reads_on(qtbot: QtBot) -> None:
    parts, door = _list(qtbot, width=420)
    door.select(Pick("bolt", "1"))
    row = _row(parts, "bolts 1")
    first = row.height()
    assert first < parts.height() / 2
    row.stops()[-1].setFocus()
    assert row.height() > first
    door.select(Pick("plate", "plate"))
    parts.setFocus()
    door.select(Pick("bolt", "1"))
    (more,) = [stop for stop in row.stops() if stop.accessibleName().startswith("all of ")]
    more.setFocus()
    qtbot.keyClick(more, Qt.Key.Key_Space)
    assert row.height() > first
    assert parts.focusWidget() in row.stops()


def test_a_cell_takes_the_room_of_empty_cells_after_it(qtbot: QtBot) -> None:
    parts, _ = _list(qtbot, width=420)
    row = next(row for row in parts.rows if row.row.key.startswith("bosses "))
    metal = next(edit for edit in row.edits if edit.text() == "cast aluminium")
    assert metal.width() >= metal.sizeHint().width()
