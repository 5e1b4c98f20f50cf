"""What stands around the bracket, typed by keys and read at its right."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.theme import PAPER, SLATE
from app.window.door import Door
from app.window.forms.around_form import AroundForm
from app.window.lists.around_note_lines import around_note_lines
from app.window.lists.field import Drafts, Path
from tests.brackets import one_piece

JOINT: Path = ("installation", "shaft", "joints")


def _typed(form: AroundForm, path: Path, text: str) -> str:
    """Type into the field of a path as hands do; return what it refuses with."""
    edit = next(e for s in form.notes.sentences for e in s.edits if path in e.field.paths)
    edit.setFocus()
    edit.selectAll()
    QTest.keyClick(edit, Qt.Key.Key_Delete)
    QTest.keyClicks(edit, text)
    QTest.keyClick(edit, Qt.Key.Key_Return)
    return edit.fault


def _form(qtbot: QtBot) -> tuple[Door, AroundForm]:
    door = Door(one_piece())
    form = AroundForm(door, PAPER)
    qtbot.addWidget(form)
    form.resize(1100, 600)
    form.show()
    return door, form


def test_typing_a_fuse_is_a_step_that_can_be_undone_and_is_told(qtbot: QtBot) -> None:
    door, form = _form(qtbot)
    wiring: Path = ("installation", "wiring")
    for name, text in (
        ("current_a", "60"),
        ("insulation_c", "105"),
        ("bundled", "1"),
        ("fuse_a", "100"),
    ):
        assert _typed(form, (*wiring, name), text) == ""
    for cable in ("feed", "back"):
        assert _typed(form, (*wiring, cable, "area_mm2"), "6") == ""
        assert _typed(form, (*wiring, cable, "length_m"), "4") == ""
    made = door.bracket.installation.wiring
    assert made is not None
    assert (made.fuse_a, made.feed.area_mm2, made.bundled) == (100.0, 6.0, 1)
    qtbot.waitUntil(lambda: "the cable burns before the fuse goes" in form.told)
    steps = door.steps.count()
    for _ in range(steps):
        door.steps.undo()
    assert door.bracket.installation.wiring is None


def test_measured_places_bring_their_joints(qtbot: QtBot) -> None:
    door, form = _form(qtbot)
    places = ("installation", "shaft", "places_mm")
    assert _typed(form, places, "0 0 410; 0 0 -190; 0 -120 -480; 0 -120 -760") == ""
    line = door.bracket.installation.shaft
    assert line is not None
    assert [joint.name for joint in line.joints] == ["1", "2"]
    assert _typed(form, (*JOINT, "1", "most_angle_deg"), "20") == ""
    qtbot.waitUntil(lambda: "22.5 deg" in form.told and "FAILS" in form.told)
    assert _typed(form, (*JOINT, "2", "name"), "lower") == ""
    assert _typed(form, (*JOINT, "lower", "phase_deg"), "0") == ""
    qtbot.waitUntil(lambda: "1.000" in form.told)
    assert "no place" in _typed(form, places, "0 0; 1 2 3")
    assert door.bracket.installation.shaft is not None


def test_a_part_comes_into_being_with_its_stations_and_goes_with_its_name(qtbot: QtBot) -> None:
    door, form = _form(qtbot)
    parts: Path = ("installation", "collapse", "parts")
    assert _typed(form, (*parts, "+", "name"), "upper tube") == ""
    assert door.bracket.installation.collapse is None
    assert _typed(form, (*parts, "+", "stations_mm"), "100 to 395") == ""
    assert _typed(form, (*parts, "upper tube", "moves"), "slides") == ""
    assert _typed(form, (*parts, "upper tube", "held_by_bracket"), "yes") == ""
    qtbot.waitUntil(lambda: "the bracket bridges the slip" in form.told)
    assert _typed(form, (*parts, "upper tube", "name"), "") == ""
    made = door.bracket.installation.collapse
    assert made is not None
    assert made.parts == ()


def test_a_block_kept_clear_is_typed_by_its_corners(qtbot: QtBot) -> None:
    door, form = _form(qtbot)
    blocks: Path = ("installation", "room", "kept_clear")
    for name, text in (("name", "knees"), ("low_mm", "-200 -400 0"), ("high_mm", "200 -40 400")):
        assert _typed(form, (*blocks, "+", name), text) == ""
    room = door.bracket.installation.room
    assert room is not None
    assert room.kept_clear[0].low_mm == (-200.0, -400.0, 0.0)
    qtbot.waitUntil(lambda: "into the block kept clear" in form.told)
    assert _typed(form, ("installation", "room", "tilt_deg"), "0 to 0") == ""
    qtbot.waitUntil(lambda: "the column does not tilt" in form.told)


def test_every_group_can_be_typed_and_shown_in_another_look(qtbot: QtBot) -> None:
    _, form = _form(qtbot)
    form.set_theme(SLATE)
    keys = {line.key for line in around_note_lines(one_piece(), Drafts())}
    assert {"shaft places", "sliding", "current", "fuse", "travel", "looked", "tilt"} <= keys
    for group in ("Shaft joints", "Cable and fuse", "Collapse travel", "Room"):
        assert group in form.told
