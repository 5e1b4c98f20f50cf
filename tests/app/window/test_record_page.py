"""The Record page driven by real events: read only, open items leading, by mouse and by keys."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, QPointF, QRectF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.record.comparison import Judgements
from app.record.profile import under
from app.record.record import Due, Play, Proof
from app.record.record_file import read_record, save_record
from app.report.attached import read_carried
from app.window.inspection.bracket_leaf import READ_ONLY
from app.window.inspection.check_leaf import STATES, box_rooms
from app.window.inspection.sides import LeafCaption
from app.window.main_window import PAGES, MainWindow
from app.window.record_page import RecordPage
from geometry.bracket_file import save_bracket
from geometry.file_writing import bracket_text, part_text
from solver.results import Results
from tests.app.record.examples import clear_results, locked_bracket, measured, settled_record
from tests.app.report.test_attached import pdf_with
from tests.app.window.shown import Answers, window_shown

RECORD = [page.words for page in PAGES].index("Record")
LAMP = [item.group for item in settled_record().check_list].index("warning lamp")


class Desk:
    """A window with its Record page on top and somebody's file opened on it."""

    def __init__(self, window: MainWindow, answers: Answers, qtbot: QtBot, folder: Path) -> None:
        self.window, self.answers, self.qtbot, self.folder = window, answers, qtbot, folder
        self.page: RecordPage = window.record
        self.file = folder / "theirs.bracket.json"
        self.record = folder / "theirs.record.json"
        save_bracket(self.file, locked_bracket())
        window.edges.turn_to(RECORD)
        window.activateWindow()

    def open(self, record: bool = True) -> None:
        if record:
            save_record(self.record, settled_record())
        self.page.open_path(self.file)

    def judged(self, results: Results | None = None) -> None:
        self.page.desk._judge.judged.emit(Judgements(under_profile=results or clear_results()))

    def press(self, key: Qt.Key, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.qtbot.keyClick(QApplication.focusWidget() or self.page, key, keys)

    def type(self, entry: QWidget, text: str) -> None:
        entry.setFocus()
        entry.selectAll()  # type: ignore[attr-defined]
        self.qtbot.keyClicks(entry, text)
        self.page.setFocus()


@pytest.fixture
def desk(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Desk]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (window, answers, _):
        yield Desk(window, answers, qtbot, tmp_path)


def test_what_is_open_leads_and_goes_to_where_it_is_settled(desk: Desk) -> None:
    desk.open()
    assert desk.page.side.sentence == "Not decided; 1 item is open."
    desk.judged()
    assert desk.page.side.sentence == "Not decided; 0 items are open."
    desk.page.desk.change(lambda r: r.with_item(LAMP, state="open"))
    assert desk.page.side.list.item(0).text() == "warning lamp: The warning lamp lights and goes out"
    desk.page.side.list.setFocus()
    desk.press(Qt.Key.Key_Return)
    assert desk.page.leaf == "Check-list"
    assert desk.page.check_list.lines.place == LAMP
    desk.press(Qt.Key.Key_M)
    assert desk.page.desk.record.check_list[LAMP].state == "met"
    assert desk.page.side.sentence == "Not decided; 0 items are open."


def test_an_open_item_of_a_bolt_points_at_it_as_mounted(desk: Desk) -> None:
    desk.open()
    bare = locked_bracket()
    bare = bare.with_bolt(bare.bolts[0].but(locking=None))
    desk.page.desk.look_at(bare, None)
    desk.judged()
    named = bare.bolts[0].name
    side = desk.page.side.list
    side.setFocus()
    side.setCurrentRow(next(n for n in range(side.count()) if "without locking" in side.item(n).text()))
    desk.press(Qt.Key.Key_Return)
    assert desk.page.leaf == "Bracket"
    assert desk.page.said.sentence.startswith(f"Bolt {named} as listed: ")
    assert desk.page.said.sentence.endswith("no locking said.")


def test_the_check_list_by_keys_alone(desk: Desk) -> None:
    desk.open(record=False)
    page = desk.page
    page.turn_to(2)
    page.check_list.lines.setFocus()
    desk.press(Qt.Key.Key_M)
    desk.press(Qt.Key.Key_Down)
    desk.press(Qt.Key.Key_N)
    desk.press(Qt.Key.Key_Down)
    desk.press(Qt.Key.Key_A)
    assert [item.state for item in page.desk.record.check_list[:4]] == [
        "met",
        "not met",
        "not applicable",
        "open",
    ]
    desk.press(Qt.Key.Key_R)
    assert page.check_list.remark.hasFocus()
    desk.qtbot.keyClicks(page.check_list.remark, "bench rig")
    desk.press(Qt.Key.Key_Return)
    assert page.desk.record.check_list[2].remark == "bench rig"
    desk.type(page.check_list.due, "2031-06-30")
    assert page.desk.record.due == (Due(words=page.desk.record.check_list[2].words, by="2031-06-30"),)
    desk.type(page.check_list.due, "soon")
    assert page.said.sentence == "soon is no day: type it as 2031-05-30"
    # the arrows step over the headings of groups
    page.check_list.lines.setFocus()
    desk.press(Qt.Key.Key_Down)
    assert page.check_list.lines.place == 3


def test_the_check_list_has_its_keys_as_soon_as_it_lies_on_top(desk: Desk) -> None:
    """The leaf says that M is met: it is so without a click on a line, and turned to again."""
    desk.open(record=False)
    page = desk.page
    desk.qtbot.mouseClick(page.turns.links[2], Qt.MouseButton.LeftButton)
    assert page.leaf == "Check-list"
    desk.press(Qt.Key.Key_M)
    assert page.desk.record.check_list[0].state == "met"
    desk.window.edges.turn_to(0)
    desk.window.edges.turn_to(RECORD)
    desk.press(Qt.Key.Key_N)
    assert page.desk.record.check_list[0].state == "not met"


@pytest.mark.parametrize("leaf", range(7))
def test_whatever_leaf_lies_on_top_the_page_undoes(desk: Desk, leaf: int) -> None:
    desk.open(record=False)
    desk.page.desk.change(lambda r: r.with_item(LAMP, state="met"))
    desk.qtbot.mouseClick(desk.page.turns.links[leaf], Qt.MouseButton.LeftButton)
    desk.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert desk.page.desk.record.check_list[LAMP].state == "open"


def test_a_box_is_ticked_by_the_mouse(desk: Desk) -> None:
    desk.open(record=False)
    desk.page.turn_to(2)
    lines = desk.page.check_list.lines
    room = QRectF(lines.visualItemRect(lines.item(2)))
    box = box_rooms(room)[STATES.index("not met")]
    desk.qtbot.mouseClick(
        lines.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(int(box.left()) + 8, int(box.center().y()))
    )
    assert desk.page.desk.record.check_list[1].state == "not met"


def test_accepting_with_open_items_is_refused_with_a_sentence(desk: Desk) -> None:
    desk.open()
    desk.judged()
    desk.page.desk.change(lambda r: r.with_item(LAMP, state="open"))
    desk.page.turn_to(5)
    assert desk.page.decision._why.text() == "1 open: it cannot be accepted while anything is open"
    desk.qtbot.mouseClick(desk.page.decision.choices["accept"], Qt.MouseButton.LeftButton, pos=QPoint(9, 9))
    assert desk.page.said.sentence.startswith("It cannot be accepted: warning lamp:")
    assert desk.page.desk.record.decision == "undecided"
    assert desk.page.decision.choices["undecided"].isChecked()
    desk.page.desk.change(lambda r: r.with_item(LAMP, state="met"))
    desk.qtbot.mouseClick(desk.page.decision.choices["accept"], Qt.MouseButton.LeftButton, pos=QPoint(9, 9))
    assert desk.page.side.mark.accessibleName() == "Record: accepted"


def test_a_fail_is_accepted_only_with_a_reason_typed_first(desk: Desk) -> None:
    desk.open()
    desk.judged(clear_results("fail"))
    desk.page.turn_to(5)
    accept = desk.page.decision.choices["accept"]
    desk.qtbot.mouseClick(accept, Qt.MouseButton.LeftButton, pos=QPoint(9, 9))
    assert "no reason is given" in desk.page.said.sentence
    desk.page.decision.reason.setFocus()
    desk.qtbot.keyClicks(desk.page.decision.reason, "held 90 N.m on the rig")
    desk.qtbot.mouseClick(accept, Qt.MouseButton.LeftButton, pos=QPoint(9, 9))
    assert desk.page.desk.record.decision == "accept"
    assert "held 90 N.m on the rig" in desk.page.side.sentence


def test_the_builders_file_is_never_written_and_its_bracket_never_changed(desk: Desk) -> None:
    desk.open(record=False)
    before = desk.file.read_bytes()
    drawn = desk.window.door.bracket
    page = desk.page
    page.turn_to(1)
    assert not page.bracket.door.attempt("thicker", lambda b: b.but(title="other"))
    assert page.said.sentence == READ_ONLY
    page.bracket.view.setFocus()
    for key in (Qt.Key.Key_Delete, Qt.Key.Key_H, Qt.Key.Key_Left):
        desk.press(key)
    assert page.bracket.door.bracket == locked_bracket()
    desk.answers.save = desk.record
    desk.press(Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert read_record(desk.record).record == page.desk.record
    assert desk.file.read_bytes() == before
    assert desk.window.door.bracket is drawn
    assert sorted(p.name for p in desk.folder.iterdir() if p.is_file()) == [
        "theirs.bracket.json",
        "theirs.record.json",
    ]


def test_ctrl_s_and_undo_belong_to_the_record_even_from_an_entry(desk: Desk) -> None:
    desk.open()
    page = desk.page
    asked = len(desk.answers.asked)
    page.desk.change(lambda r: r.but(remarks="one"))
    page.turn_to(2)
    page.check_list.lines.setFocus()
    desk.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert page.desk.record.remarks == ""
    desk.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert page.desk.record.remarks == "one"
    desk.press(Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    saved = read_record(desk.record).record
    assert saved is not None
    assert saved.remarks == "one"
    # the sheet's own save was not asked for anything
    assert len(desk.answers.asked) == asked
    assert QKeySequence("Ctrl+S") == desk.window.actions_by_name["file.save"].shortcut()


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_every_entry_of_what_is_measured_is_in_sight(units: str, desk: Desk) -> None:
    desk.open()
    desk.judged()
    desk.window.seeing.set_units(units)
    desk.page.turn_to(3)
    QApplication.processEvents()
    leaf = desk.page.measured
    edge = leaf.mapToGlobal(leaf.rect().topRight()).x()
    for entry in leaf.entries:
        assert entry.mapToGlobal(entry.rect().topRight()).x() <= edge, entry.accessibleName()
        assert entry.width() >= 90


def test_measured_values_are_typed_and_judged_beside_the_drawn_ones(desk: Desk) -> None:
    desk.open()
    desk.judged()
    page = desk.page
    page.turn_to(3)
    entries = {entry.accessibleName(): entry for entry in page.measured.entries}
    thickness = next(e for told, e in entries.items() if "front, drawn 6 mm" in told)
    desk.type(thickness, "5,7")
    assert page.desk.record.measured.thicknesses[0].thickness_mm == 5.7
    assert "plate front is 5.7 mm thick, drawn 6" in page.measured.said
    assert "As built: not judged yet" in page.measured.said
    assert "not judged yet as built" in page.side.list.item(0).text()
    desk.type(thickness, "thick")
    assert "thick" in page.said.sentence
    assert thickness.text() == "5.7 mm"
    desk.type(thickness, " ")
    assert page.desk.record.measured.thicknesses == ()
    hole = next(e for told, e in entries.items() if "h1 of front" in told)
    desk.type(hole, "40.5; 30")
    assert page.desk.record.measured.holes[0].centre_mm == (40.5, 30.0)
    desk.type(hole, "40.5")
    assert "type 2 numbers with ; between" in page.said.sentence


def test_a_proof_is_open_until_all_of_it_is_read(desk: Desk) -> None:
    desk.open()
    desk.judged()
    page = desk.page
    page.desk.change(lambda r: r.but(measured=r.measured.but(proof=())))
    page.turn_to(3)

    def entry(words: str) -> QWidget:
        return next(e for e in page.measured.entries if e.accessibleName().endswith(f": {words}"))

    desk.type(entry("left"), "0.06")
    (begun,) = page.desk.record.measured.proof
    # what the card says of the place is written down with it; what was hung is not known by that
    assert begun == Proof(
        where="top, right edge",
        station_mm=begun.station_mm,
        gauge_at_mm=begun.gauge_at_mm,
        gauge_along=(0.0, 1.0, 0.0),
        left_mm=0.06,
    )
    said = [page.side.list.item(n).text() for n in range(page.side.list.count())]
    assert any("couple's share not read" in line for line in said)
    assert any("mass or its arm is blank" in line for line in said)
    desk.type(entry("left"), " ")
    assert page.desk.record.measured.proof == ()


def test_photographs_are_dropped_and_taken_out(desk: Desk, tmp_path: Path) -> None:
    desk.open()
    page = desk.page
    page.turn_to(4)
    Image.new("RGB", (3200, 1600), (80, 90, 100)).save(tmp_path / "boss.png")
    (tmp_path / "notes.txt").write_text("no picture")
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(tmp_path / name)) for name in ("boss.png", "notes.txt")])
    drop = QDropEvent(
        QPointF(50, 50),
        Qt.DropAction.CopyAction,
        mime,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    page.photographs.dropEvent(drop)
    assert [(p.name, p.width_px, p.height_px) for p in page.desk.record.photographs] == [("boss", 1600, 800)]
    assert "notes.txt is no picture" in page.said.sentence
    desk.type(page.photographs.words, "boss 1 with its bolt")
    assert page.desk.record.photographs[0].words == "boss 1 with its bolt"
    page.photographs._out.click()
    assert page.desk.record.photographs == ()


def test_the_bracket_on_the_sheet_is_inspected_until_another_is_opened(desk: Desk) -> None:
    window, page = desk.window, desk.page
    window.edges.turn_to(0)
    window.starts.from_sample("tallow_stub")
    window.edges.turn_to(RECORD)
    assert page.desk.bracket == window.door.bracket
    desk.open()
    window.edges.turn_to(0)
    window.edges.turn_to(RECORD)
    assert page.desk.bracket == locked_bracket()


def test_a_profile_is_judged_under_and_brings_its_lines(desk: Desk, tmp_path: Path) -> None:
    desk.open()
    desk.judged()
    lane = tmp_path / "lane.json"
    lane.write_text(
        '{"format": "holdsquare profile", "version": 1, "name": "lane 4", "limits": {"turn_deg": 0.05},'
        ' "check_list": [{"group": "welds", "words": "coded welder", "clause": "rule 4.2"}]}'
    )
    desk.answers.open = lane
    desk.page.open_profile()
    assert desk.page.desk.profile.limits.turn_deg == 0.05
    assert "coded welder [rule 4.2]" in desk.page.side.list.item(0).text()
    lane.write_text('{"turn_degs": 1}')
    desk.page.open_profile()
    assert "a profile holds" in desk.page.said.sentence
    assert desk.page.desk.profile.name == "lane 4"


def test_files_that_cannot_be_inspected_are_told_and_change_nothing(desk: Desk) -> None:
    desk.open()
    bad = desk.folder / "bad.bracket.json"
    bad.write_text("{}")
    desk.page.open_path(bad)
    assert "bad.bracket.json cannot be inspected" in desk.page.said.sentence
    assert desk.page.desk.path == desk.file
    desk.record.write_text('{"format": "holdsquare record"')
    desk.page.open_path(desk.file)
    assert "cannot be read as a record" in desk.page.said.sentence
    assert all(item.state == "open" for item in desk.page.desk.record.check_list)


def test_leaving_asks_about_a_record_that_was_not_saved(desk: Desk) -> None:
    desk.open()
    desk.page.desk.change(lambda r: r.but(remarks="not yet saved"))
    desk.answers.leaving = "stay"
    desk.window.close()
    assert desk.window.isVisible()
    desk.page.open_path(desk.file)
    assert desk.page.desk.record.remarks == "not yet saved"
    desk.answers.leaving = "save"
    assert desk.page.may_leave()
    saved = read_record(desk.record).record
    assert saved is not None
    assert saved.remarks == "not yet saved"


def test_a_record_that_another_window_saved_is_not_saved_over(desk: Desk) -> None:
    desk.open()
    save_record(desk.record, settled_record().but(remarks="from the other window"))
    desk.page.desk.change(lambda r: r.but(remarks="mine"))
    assert not desk.page.save()
    assert "was changed on the disk by something else" in desk.page.said.sentence
    kept = read_record(desk.record).record
    assert kept is not None
    assert kept.remarks == "from the other window"
    desk.answers.save = desk.folder / "mine.record.json"
    assert desk.page.save_as()
    assert desk.page.save()


def test_letter_and_sheet_are_written_where_the_user_says(desk: Desk) -> None:
    desk.open()
    for write, name in (
        (desk.page.write_letter, "theirs_letter"),
        (desk.page.write_sheet, "theirs_car_sheet"),
    ):
        desk.answers.save = desk.folder / f"{name}.pdf"
        write()
        assert desk.answers.asked[-1] == f"page {name}.pdf"
        assert (desk.folder / f"{name}.pdf").read_bytes().startswith(b"%PDF-")
    desk.answers.save = desk.folder / "no" / "x.pdf"
    desk.page.write_letter()
    assert "cannot be written" in desk.page.said.sentence


@pytest.mark.parametrize("look", ["paper", "slate"])
@pytest.mark.parametrize("size", [(1280, 720), (900, 560)])
def test_every_leaf_fits_and_is_told(desk: Desk, look: str, size: tuple[int, int]) -> None:
    desk.open()
    desk.judged()
    desk.window.seeing.set_theme(look)
    desk.window.resize(*size)
    for place in range(7):
        desk.page.turn_to(place)
        QApplication.processEvents()
        for widget in desk.page.findChildren(QWidget):
            if widget.focusPolicy() & Qt.FocusPolicy.TabFocus and widget.isVisible() and widget.isEnabled():
                at = widget.mapTo(desk.page, QPoint(0, 0))
                assert at.x() >= 0, widget
                assert at.x() + min(widget.width(), 40) <= desk.page.width(), widget
    for link in desk.page.turns.links:
        assert link.accessibleName()


def test_every_part_is_reached_by_tab(desk: Desk) -> None:
    desk.open()
    desk.page.turn_to(5)
    desk.page.setFocus()
    seen: list[str] = []
    for _ in range(40):
        desk.press(Qt.Key.Key_Tab)
        focus = QApplication.focusWidget()
        assert focus is not None
        seen.append(focus.accessibleName())
    for name in ("Open items", "Certifier's name", "Conditions, one a line", "Save record…"):
        assert name in seen


def test_the_report_carries_the_record_and_gives_both_back(desk: Desk) -> None:
    desk.open()
    desk.page.write_report()
    assert desk.page.said.text().startswith("The verdict in ink is not there yet")
    bracket = desk.page.desk.bracket
    judged = under(bracket, desk.page.desk.profile)
    desk.judged(replace(clear_results(), hash=judged.input_hash(), plates=()))
    desk.answers.save = desk.folder / "away.pdf"
    desk.page.write_report()
    assert desk.answers.asked[-1] == "report theirs_report.pdf"
    before = desk.answers.save.read_bytes()
    record = desk.page.desk.record
    desk.page.open_path(desk.answers.save)
    assert desk.page.desk.bracket == bracket
    assert desk.page.desk.record == record
    assert not (desk.folder / "away.record.json").exists()
    assert desk.answers.save.read_bytes() == before


def test_inches_are_shown_on_every_leaf_and_no_small_reading_becomes_nought(desk: Desk) -> None:
    """0.02 mm are 0.0008 in; the beginning of what is written, its sign, is what is seen."""
    play = Play(where="casing, by hand", play_mm=0.02, most_mm=0.01)
    save_record(desk.record, settled_record().but(measured=measured(play=(play,))))
    desk.open(record=False)
    desk.judged()
    desk.window.seeing.set_units("inch")
    page = desk.page
    entry = next(e for e in page.measured.entries if "casing, by hand" in e.accessibleName())
    assert entry.text() == "0.0008 in"
    assert entry.cursorPosition() == 0
    assert "0.02 mm (0.000787 in), more than 0.01 mm (0.000394 in)" in page.side.list.item(0).text()
    assert "for 30 N.m (22.1 lbf.ft)" in page.comparison.toPlainText()


def test_the_line_that_is_ticked_is_read_whole_however_narrow_the_list_is(desk: Desk) -> None:
    long = "Every weld of the foot is looked at from both sides with dye, " * 5
    profile = desk.folder / "lane.json"
    line = {"group": "welds", "words": long.strip(), "clause": "rule 4"}
    profile.write_text(json.dumps({"format": "holdsquare profile", "name": "lane 4", "check_list": [line]}))
    desk.open()
    assert desk.page.desk.record.check_list
    desk.answers.open = profile
    desk.page.open_profile()
    place = next(n for n, i in enumerate(desk.page.desk.record.check_list) if i.clause == "rule 4")
    desk.page.turn_to_words("Check-list")
    desk.page.check_list.go_to(place)
    whole = desk.page.check_list.whole
    assert whole.text() == f"{long.strip()}; rule 4"
    assert whole.wordWrap()


def test_an_empty_stamp_has_its_words_beside_it(desk: Desk) -> None:
    def caption() -> str:
        return next(c.text() for c in desk.page.side.findChildren(LeafCaption) if "computed" in c.text())

    desk.open()
    assert caption() == "computed: nothing yet"
    desk.judged(clear_results("no verdict"))
    assert caption() == "computed: no verdict"
    desk.judged()
    assert caption() == "computed"


def test_a_bare_torque_is_taken_in_the_unit_that_is_shown(desk: Desk) -> None:
    """16.2 lbf.ft are 22 N.m, by 1.35582."""
    desk.open()
    desk.judged()
    for units, typed, torque in (("inch", "20", 27.116), ("mm", "20", 20.0), ("inch", "30 N.m", 30.0)):
        desk.window.seeing.set_units(units)
        entry = next(e for e in desk.page.measured.entries if "Bolt torque" in e.accessibleName())
        desk.page.turn_to_words("Measured")
        desk.type(entry, typed)
        (read,) = desk.page.desk.record.measured.torques
        assert read.tightening_nm == pytest.approx(torque, abs=0.001)


def test_what_cannot_be_read_of_a_record_in_a_report_keeps_it_open(desk: Desk) -> None:
    """What was left out of it may be a reading outside its band, or a line that was not met."""
    text = part_text(settled_record()).replace('"decision"', '"remrks": "cracked", "decision"', 1)
    assert "remrks" in text
    report = desk.folder / "theirs.pdf"
    report.write_bytes(
        pdf_with(
            ("theirs.bracket.json", bracket_text(locked_bracket()).encode()),
            ("theirs.record.json", text.encode()),
        )
    )
    desk.page.open_path(report)
    desk.judged()
    found = desk.page.desk.items
    assert desk.page.desk.record.check_list == settled_record().check_list
    assert [item.about for item in found] == ["record"]
    assert "remrks is not known there and was left out" in found[0].words
    # neither saved nor carried off in a report of our own does it lose that
    assert desk.page.desk.save(desk.folder / "mine.record.json")
    assert [item.about for item in desk.page.desk.items] == ["record"]
    hash_now = under(desk.page.desk.bracket, desk.page.desk.profile).input_hash()
    desk.judged(replace(clear_results(), hash=hash_now, plates=()))
    desk.answers.save = desk.folder / "away.pdf"
    desk.page.write_report()
    assert read_carried(desk.answers.save).record is None
