"""Notes on the sheet: typed over, refused, undone, walked through with the keyboard."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.theme import PAPER, SLATE
from app.window.door import Door
from app.window.lists.field import Path
from app.window.lists.field_edit import FieldEdit
from app.window.lists.notes import Notes
from app.window.lists.sentence import Sentence
from geometry.bracket import Bracket
from tests.app.window.lists.samples import one_piece, sample


def _notes(qtbot: QtBot, bracket: Bracket) -> tuple[Notes, Door]:
    door = Door(bracket)
    notes = Notes(door, PAPER)
    qtbot.addWidget(notes)
    notes.resize(460, 300)
    notes.show()
    notes.activateWindow()
    qtbot.waitUntil(notes.isActiveWindow)
    return notes, door


def _edit(notes: Notes, path: Path) -> FieldEdit:
    return next(e for s in notes.sentences if (e := s.edit_at(path)) is not None)


def _type(qtbot: QtBot, edit: FieldEdit, text: str) -> None:
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    qtbot.keyClick(edit, Qt.Key.Key_Return)


COUPLE: Path = ("loads", "couple", "couple_nm")


@pytest.mark.parametrize(("text", "wanted"), [("40", 40.0), ("30 lbf.ft", 40.6745), ("4 kgf.m", 39.2266)])
def test_a_couple_is_typed_in_any_unit(qtbot: QtBot, text: str, wanted: float) -> None:
    notes, door = _notes(qtbot, one_piece())
    _type(qtbot, _edit(notes, COUPLE), text)
    assert door.bracket.loads.couple.value_nm == pytest.approx(wanted, rel=1e-4)
    assert door.steps.undoText().startswith("set couple to")
    assert _edit(notes, COUPLE).text() == f"{wanted:.3f}".rstrip("0").rstrip(".") + " N.m"


def test_bad_input_stays_with_its_sentence_and_the_bracket_keeps_its_value(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    edit = _edit(notes, COUPLE)
    before = notes.sentences[0].height()
    _type(qtbot, edit, "30 kg")
    assert edit.text() == "30 kg"
    assert "torque is wanted" in edit.fault
    assert edit.fault in edit.accessibleDescription()
    assert door.bracket == one_piece()
    assert door.steps.count() == 0
    assert notes.sentences[0].height() > before
    door.attempt("other", lambda b: b.but(title="other"))
    assert edit.text() == "30 kg"
    qtbot.keyClick(edit, Qt.Key.Key_Escape)
    assert (edit.text(), edit.fault) == ("30 N.m", "")
    assert notes.sentences[0].height() == before


def test_a_value_that_cannot_be_is_told_as_such(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    edit = _edit(notes, ("loads", "pull_n"))
    _type(qtbot, edit, "-5")
    assert edit.fault.startswith("pull at the wheel: -5 cannot be")
    assert door.bracket.loads.pull_n == 300


def test_undo_puts_the_number_back(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    _type(qtbot, _edit(notes, ("rake_deg",)), "30")
    assert door.bracket.rake_deg == 30
    door.undo()
    assert door.bracket == one_piece()
    assert _edit(notes, ("rake_deg",)).text() == "24 deg"


def test_leaving_a_field_takes_what_was_typed(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    edit = _edit(notes, ("loads", "pull_n"))
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, "350")
    qtbot.keyClick(edit, Qt.Key.Key_Tab)
    assert door.bracket.loads.pull_n == 350


def test_an_untouched_field_writes_nothing_even_where_it_is_shown_rounded(qtbot: QtBot) -> None:
    odd = one_piece().but(wheel=one_piece().wheel.but(station_mm=410.123456))  # type: ignore[union-attr]
    notes, door = _notes(qtbot, odd)
    notes.set_inch(True)
    edit = _edit(notes, ("wheel", "station_mm"))
    edit.setFocus()
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    qtbot.keyClick(edit, Qt.Key.Key_Tab)
    assert door.steps.count() == 0
    assert door.bracket == odd


def test_inches_are_shown_and_bare_numbers_taken_for_them(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    notes.set_inch(True)
    edit = _edit(notes, ("wheel", "diameter_mm"))
    assert edit.text() == "14.17 in"
    _type(qtbot, edit, "14 1/2")
    assert door.bracket.wheel is not None
    assert door.bracket.wheel.diameter_mm == pytest.approx(368.3)


def test_the_open_question_of_the_column_is_answered_by_a_choice_and_its_numbers(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, sample("hedgerow_blank"))
    edit = _edit(notes, ("column", "held_by"))
    assert edit.accessibleName() == "what else holds the column, blank"
    _type(qtbot, edit, "bearings")
    assert door.bracket.column.held_by == "bearings"
    _type(qtbot, _edit(notes, ("column", "bearings", "+", "station_mm")), "-220")
    assert door.bracket.column.bearings == ()
    _type(qtbot, _edit(notes, ("column", "bearings", "+", "stiffness_n_per_mm")), "8 to 25 kN/mm")
    assert door.bracket.column.bearings[0].stiffness_n_per_mm == (8000, 25000)
    door.undo()
    door.undo()
    assert door.bracket == sample("hedgerow_blank")


def test_a_blank_is_empty_while_it_is_filled_and_open_again_when_it_is_left(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece().but(rake_deg=None))
    edit = _edit(notes, ("rake_deg",))
    assert edit.text() == "____"
    edit.setFocus()
    assert edit.text() == ""
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    qtbot.keyClick(edit, Qt.Key.Key_Tab)
    assert (edit.text(), edit.fault) == ("____", "")
    assert door.steps.count() == 0
    _type(qtbot, edit, "24")
    assert door.bracket == one_piece()


def test_tab_walks_through_the_fields_in_the_order_they_are_read(qtbot: QtBot) -> None:
    notes, _ = _notes(qtbot, one_piece())
    edits = [edit for sentence in notes.sentences for edit in sentence.edits]
    edits[0].setFocus()
    walked = [edits[0]]
    for _ in edits[1:]:
        qtbot.keyClick(notes.focusWidget(), Qt.Key.Key_Tab)
        walked.append(notes.focusWidget())  # type: ignore[arg-type]
    assert walked == edits


def test_a_choice_is_made_from_the_list_below(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    edit = _edit(notes, ("loads", "couple", "source"))
    edit.setFocus()
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert edit.choices is not None
    popup = edit.choices.list
    qtbot.waitUntil(popup.isVisible)
    qtbot.keyClick(popup, Qt.Key.Key_Down)
    qtbot.keyClick(popup, Qt.Key.Key_Down)
    qtbot.keyClick(popup, Qt.Key.Key_Return)
    assert door.bracket.loads.couple.source == "torque meters"


def test_a_click_selects_the_whole_number_so_that_typing_replaces_it(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    edit = _edit(notes, ("loads", "pull_n"))
    qtbot.mouseClick(edit, Qt.MouseButton.LeftButton)
    assert edit.selectedText() == "300 N"
    qtbot.keyClicks(edit, "350")
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert door.bracket.loads.pull_n == 350


def test_typing_closes_the_list_and_enter_takes_what_was_typed(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    edit = _edit(notes, ("loads", "couple", "source"))
    qtbot.mouseClick(edit, Qt.MouseButton.LeftButton)
    assert edit.choices is not None
    qtbot.waitUntil(edit.choices.list.isVisible)
    qtbot.keyClicks(edit.choices.list, "load cell")
    assert not edit.choices.list.isVisible()
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert door.bracket.loads.couple.source == "load cell"


def test_a_read_only_bracket_says_why(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, one_piece())
    door.set_read_only("This file is open elsewhere.")
    edit = _edit(notes, COUPLE)
    _type(qtbot, edit, "40")
    assert edit.fault == "This file is open elsewhere."
    assert door.bracket == one_piece()


def test_marks_are_told_to_those_who_do_not_see_them(qtbot: QtBot) -> None:
    notes, _ = _notes(qtbot, one_piece().but(loads=one_piece().loads.but(pull_n=200)))
    told = _edit(notes, ("loads", "pull_n")).accessibleDescription()
    assert told == "off the usual 300; looser than the default"


def test_every_note_is_spoken_whole(qtbot: QtBot) -> None:
    notes, _ = _notes(qtbot, sample("hedgerow_blank"))
    assert (
        notes.sentences[0].accessibleName()
        == "1. Couple 30 N.m, stated by the builder; factor 2; it may be 25 % larger."
    )
    assert "blank holds the column" in notes.sentences[1].accessibleName()


@pytest.mark.parametrize("points", [9.0, 18.0])
def test_fields_stay_within_the_sheet_at_any_size(qtbot: QtBot, points: float) -> None:
    notes, _ = _notes(qtbot, one_piece())
    font = notes.font()
    font.setPointSizeF(points)
    notes.setFont(font)
    notes.set_theme(SLATE)
    qtbot.wait(20)
    for sentence in notes.sentences:
        placed = [edit.geometry() for edit in sentence.edits]
        assert all(box.right() <= sentence.width() and box.bottom() <= sentence.height() for box in placed)
        assert not any(a.intersects(b) for i, a in enumerate(placed) for b in placed[i + 1 :])


BEARING: Path = ("column", "bearings", "+")


def _without_bearings() -> Bracket:
    bracket = one_piece()
    return bracket.but(column=bracket.column.but(held_by="bearings", bearings=()))


def test_a_bearing_that_comes_into_being_leaves_nothing_typed_behind(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, _without_bearings())
    _type(qtbot, _edit(notes, (*BEARING, "station_mm")), "-150")
    _type(qtbot, _edit(notes, (*BEARING, "stiffness_n_per_mm")), "10 kN/mm")
    assert [b.stiffness_n_per_mm for b in door.bracket.column.bearings] == [(10_000.0, 10_000.0)]
    shown = [s.line.key for s in notes.sentences]
    assert len(shown) == len(set(shown))
    there = [w for w in notes.findChildren(Sentence) if not w.isHidden()]
    assert len(there) == len(shown)
    assert _edit(notes, (*BEARING, "station_mm")).field.value is None
    assert all(s.edit_at((*BEARING, "stiffness_n_per_mm")) is None for s in notes.sentences)


def test_the_way_to_a_bearing_leads_to_the_figure_it_still_lacks(qtbot: QtBot) -> None:
    notes, _ = _notes(qtbot, _without_bearings())
    _type(qtbot, _edit(notes, (*BEARING, "station_mm")), "-150")
    assert notes.go_to((*BEARING, "station_mm"))
    assert _edit(notes, (*BEARING, "stiffness_n_per_mm")).hasFocus()


def test_another_file_takes_over_nothing_typed_for_the_one_before(qtbot: QtBot) -> None:
    notes, door = _notes(qtbot, _without_bearings())
    _type(qtbot, _edit(notes, (*BEARING, "station_mm")), "-150")
    _type(qtbot, _edit(notes, ("rake_deg",)), "350")
    assert _edit(notes, ("rake_deg",)).fault.endswith("it must be less than or equal to 90; type another")
    door.open(_without_bearings())
    assert _edit(notes, (*BEARING, "station_mm")).field.value is None
    assert _edit(notes, ("rake_deg",)).fault == ""
    assert _edit(notes, ("rake_deg",)).text() == "24 deg"
