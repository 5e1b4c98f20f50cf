"""The window as a whole: parts hear of one another, themes and sizes hold, forms and help come and go."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QMouseEvent
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from app.theme import PAPER, SLATE
from app.window.forms.photograph_form import PhotographForm
from app.window.main_window import PAGES, MainWindow
from app.window.order_line import order_of
from app.window.selection import Pick
from app.window.still_judge import StillJudge
from geometry.bracket import Bracket
from geometry.casing import Column
from tests.app.window.shown import Answers, window_shown

Shown = tuple[MainWindow, Answers, StillJudge]


@pytest.fixture
def window(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Shown]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as shown:
        yield shown


def test_only_pages_that_exist_have_an_edge(window: Shown) -> None:
    assert [page.words for page in PAGES] == ["Bracket", "Side by side", "Lesson", "Record"]
    assert window[0].edges.accessibleName() == "Pages: Bracket, Side by side, Lesson, Record"


def test_every_change_is_judged_and_a_change_of_title_is_not(window: Shown) -> None:
    shown, _, judge = window
    shown.starts.from_sample("tallow_stub")
    asked = len(judge.asked)
    shown.door.attempt("give a title", lambda bracket: bracket.but(title="other"))
    assert len(judge.asked) == asked
    shown.door.attempt("say what holds the column", lambda b: b.but(column=Column(held_by="nothing")))
    assert len(judge.asked) == asked + 1
    assert judge.asked[-1] == shown.door.bracket


def test_a_gesture_holds_the_judge(window: Shown) -> None:
    shown, _, judge = window
    shown.starts.from_sample("tallow_stub")
    asked = len(judge.asked)
    shown.door.preview(lambda bracket: bracket.but(rake_deg=30.0))
    assert (judge.pauses, len(judge.asked)) == (1, asked)
    shown.door.keep_preview("rake")
    assert len(judge.asked) == asked + 1


def test_a_failure_of_the_worker_is_one_sentence(window: Shown) -> None:
    shown, _, judge = window
    judge.failed.emit("The analysis stopped unexpectedly; it has been started again.")
    assert shown.page.said.sentence.startswith("The analysis stopped unexpectedly")


def test_progress_is_shown_and_can_be_stopped(window: Shown) -> None:
    shown, _, judge = window
    judge.progressed.emit("meshing plate", 0.4)
    assert shown.page.title_block.progress.isVisible()
    dropped: list[bool] = []
    judge.drop = lambda: dropped.append(True)  # type: ignore[method-assign]
    shown.page.title_block.stop_asked.emit()
    assert dropped == [True]


def test_refusals_of_the_door_are_told(window: Shown) -> None:
    shown, _, _ = window
    shown.door.tell("hole h1 would lie outside the plate")
    assert shown.page.said.sentence == "hole h1 would lie outside the plate"


def test_picking_in_one_view_picks_in_the_other(window: Shown) -> None:
    shown, _, _ = window
    shown.starts.from_sample("tallow_stub")
    bolt = shown.door.bracket.bolts[0].name
    shown.page.mounted.picked.emit("bolt", bolt)
    assert shown.door.pick == Pick("bolt", bolt)
    shown.page.mounted.picked.emit("", "")
    assert shown.door.pick is None


def test_order_tells_what_is_blank(window: Shown) -> None:
    shown, _, _ = window
    assert all(step.is_blank for step in order_of(Bracket()))
    shown.starts.from_sample("marlpit_one_piece")
    assert not any(step.is_blank for step in order_of(shown.door.bracket))
    names = [button.accessibleName() for button in shown.page.order.findChildren(QPushButton)]
    assert names[0] == "casing and bosses, described"


def test_the_column_step_goes_to_its_note(window: Shown) -> None:
    shown, _, _ = window
    shown.starts.from_sample("marlpit_one_piece")
    shown.activateWindow()
    shown.page.go_to_step("column")
    focus = QApplication.focusWidget()
    assert focus is not None
    assert shown.page.notes.isAncestorOf(focus)


def test_callipers_put_a_casing_in(window: Shown, qtbot: QtBot) -> None:
    shown, _, _ = window
    shown.page.go_to_step("casing and bosses")
    form = shown.page.sheet.form
    assert form is not None
    typed = {
        "shaft to A": "52",
        "shaft to B": "58.31",
        "shaft to C": "58.31",
        "A to B": "96.02",
        "A to C": "96.02",
        "B to C": "100",
        "boss face across": "24 mm",
        "usable depth of thread": "20",
        "casing across": "128",
        "casing high": "120",
        "casing along the shaft": "135",
        "thread": "M10",
        "casing's mass": "5.2 kg",
    }
    for entry in form.findChildren(QLineEdit):
        if entry.accessibleName() in typed:
            entry.setText(typed[entry.accessibleName()])
    qtbot.keyClick(form, Qt.Key.Key_Return)
    casing = shown.door.bracket.casing
    assert casing is not None
    assert [boss.name for boss in casing.bosses] == ["A", "B", "C"]
    assert casing.bosses[0].at_mm[:2] == pytest.approx((0.0, 52.0), abs=0.05)
    assert casing.bosses[1].at_mm[0] == pytest.approx(50.0, abs=0.05)
    assert casing.mass_kg == 5.2
    assert shown.page.sheet.form is None


def test_a_form_says_what_is_missing_and_stays(window: Shown, qtbot: QtBot) -> None:
    shown, _, _ = window
    shown.page.go_to_step("dash bar")
    form = shown.page.sheet.form
    assert form is not None
    qtbot.keyClick(form, Qt.Key.Key_Return)
    assert "between its ends" in form.sentence
    assert shown.page.sheet.form is form
    typed = {
        "between its ends": "1240 mm",
        "middle of the bar above the shaft axis": "110",
        "toward the driver from the boss faces": "34",
        "tube": "40 x 40 x 3 mm",
        "its material": "S235",
        "seen by": "the builder",
    }
    for entry in form.findChildren(QLineEdit):
        entry.setText(typed[entry.accessibleName()])
    form.findChildren(QComboBox)[0].setCurrentText("welded")
    qtbot.keyClick(form, Qt.Key.Key_Return)
    bar = shown.door.bracket.dash_bar
    assert bar is not None
    assert bar.from_mm == (-620.0, 110.0, 34.0)
    assert bar.ends[0].seen_by == "the builder"


def test_a_plate_stands_by_its_holes(window: Shown, qtbot: QtBot) -> None:
    shown, _, _ = window
    shown.starts.from_sample("marlpit_one_piece")
    shown.starts.stand_plate()
    form = shown.page.sheet.form
    assert form is not None
    boxes = form.findChildren(QComboBox)
    assert (boxes[0].currentText(), boxes[1].currentText()) == ("top", "boss top")
    qtbot.keyClick(form, Qt.Key.Key_Return)
    placed = shown.door.bracket.plates[0].placement
    assert placed.origin_mm == pytest.approx((0.0, 0.0, 0.0), abs=0.01)


def test_an_outline_from_a_drawing_asks_for_its_unit(window: Shown, qtbot: QtBot, tmp_path: Path) -> None:
    shown, answers, _ = window
    answers.open = tmp_path / "plate.svg"
    answers.open.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="80">'
        '<path d="M0 0 H100 V80 H0 Z"/><circle cx="30" cy="30" r="5"/></svg>',
        encoding="utf-8",
    )
    shown.starts.take_outline()
    form = shown.page.sheet.form
    assert form is not None
    unit = form.findChildren(QComboBox)[0]
    unit.setCurrentText("mm")
    assert "100.0 by 80.0 mm, 1 opening" in form.sentence
    qtbot.keyClick(form, Qt.Key.Key_Return)
    (plate,) = shown.door.bracket.plates
    assert len(plate.outline) == 4
    assert len(plate.openings) == 1
    assert shown.door.shown_plate == plate.name


def test_a_photograph_is_laid_under_the_sheet_by_its_corners(
    window: Shown, qtbot: QtBot, tmp_path: Path
) -> None:
    shown, answers, _ = window
    answers.open = tmp_path / "bench.png"
    image = QImage(800, 600, QImage.Format.Format_RGB32)
    image.fill(QColor("#777777"))
    image.save(str(answers.open))
    shown.starts.lay_photograph()
    form = shown.page.sheet.form
    assert isinstance(form, PhotographForm)
    corners = [(100.0, 450.0), (694.0, 450.0), (694.0, 30.0), (100.0, 30.0)]  # 2 pixels for a mm of A4
    for number, place in enumerate([*corners, (200.0, 200.0), (400.0, 200.0)]):
        assert form.sentence.startswith(f"{4 - number} corner") is (number < 4)
        qtbot.mouseClick(form.corners, Qt.MouseButton.LeftButton, pos=form.corners.to_widget(place).toPoint())
    laid: list[tuple[QImage, float]] = []
    form.laid.connect(lambda image, mm_per_px, _: laid.append((image, mm_per_px)))
    (known,) = form.findChildren(QLineEdit)
    known.setText("100 mm")
    assert "does not fit" in form.sentence
    qtbot.keyClick(form, Qt.Key.Key_Return)
    assert shown.page.sheet.form is None
    ((flat, mm_per_px),) = laid
    assert mm_per_px == pytest.approx(0.5, rel=0.05)
    assert flat.width() * mm_per_px >= 297
    shown.starts.take_photograph_away()


def test_a_stock_shape_fits_the_casing_and_says_what_it_lacks(window: Shown) -> None:
    shown, _, _ = window
    name = shown.starts.stock_choices()[0].argument
    shown.starts.from_stock(name)
    assert "casing" in shown.page.said.sentence
    assert not shown.door.bracket.plates
    shown.starts.from_sample("marlpit_one_piece")
    shown.starts.from_stock(name)
    assert shown.door.steps.undoText() == f"stock shape, {name}"
    assert len(shown.door.bracket.bolts) >= 3


def test_a_form_goes_with_escape(window: Shown, qtbot: QtBot) -> None:
    shown, _, _ = window
    shown.starts.measure_casing()
    assert shown.page.sheet.form is not None
    qtbot.keyClick(shown.page.sheet.form, Qt.Key.Key_Escape)
    assert shown.page.sheet.form is None


def test_a_form_laid_in_place_of_another_can_be_left(window: Shown, qtbot: QtBot) -> None:
    shown, _, _ = window
    shown.starts.put_dash_bar()
    shown.starts.measure_casing()
    qtbot.wait(50)  # the first is gone for good by then
    form = shown.page.sheet.form
    assert form is not None
    assert form.isVisible()
    qtbot.keyClick(form, Qt.Key.Key_Escape)
    assert shown.page.sheet.form is None
    assert not form.isVisible()


def test_no_hint_of_a_form_is_cut_off(window: Shown, qtbot: QtBot) -> None:
    shown, _, _ = window
    shown.starts.from_sample("marlpit_one_piece")
    for lay in (
        shown.starts.put_dash_bar,
        shown.starts.measure_bar_ends,
        shown.starts.bend_strip,
        shown.starts.measure_casing,
    ):
        lay()
        qtbot.wait(20)
        form = shown.page.sheet.form
        assert form is not None
        for entry in form.findChildren(QLineEdit):
            assert entry.fontMetrics().horizontalAdvance(entry.placeholderText()) < entry.width() - 8
        assert form.geometry().right() < shown.page.sheet.width()


@pytest.mark.parametrize("ratio", [1.0, 1.25, 1.5, 2.0])
def test_the_frame_of_the_inset_is_whole_at_every_enlargement(ratio: float, window: Shown) -> None:
    shown, _, _ = window
    views = shown.page.views
    image = QImage(views.size() * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    views.render(image)
    inset = shown.page.mounted.geometry()
    pencil = QColor(PAPER.pencil).lightness()

    def is_line(x: float, y: float) -> bool:
        return image.pixelColor(int(x * ratio), int(y * ratio)).lightness() < pencil + 40

    middle = inset.center()
    assert is_line(inset.left() - 0.5, middle.y())
    assert is_line(inset.left() + inset.width() + 0.5, middle.y())
    assert is_line(middle.x(), inset.top() - 0.5)
    assert is_line(middle.x(), inset.top() + inset.height() + 0.5)


def test_what_comes_with_the_next_start_is_told_as_no_trouble(window: Shown) -> None:
    shown, _, _ = window
    troubles: list[str] = []
    notes: list[str] = []
    shown.seeing.told.connect(troubles.append)
    shown.seeing.noted.connect(notes.append)
    shown.seeing.set_scale("125")
    assert troubles == []
    assert notes == ["Everything is shown at 125 % from the next start of Holdsquare on."]
    assert shown.page.said.text() == notes[0]


def test_what_is_read_over_the_window_makes_room_for_what_is_asked_for(window: Shown) -> None:
    shown, _, _ = window
    page = shown.page
    for read in (page.read_why, page.read_all_checks):
        for asked in (
            lambda: shown.edges.turn_to_words("Lesson"),
            shown.show_help,
            shown.starts.look_around,
        ):
            shown.edges.turn_to(0)
            read()
            panels = (page.title_block.panel, page.checks.table)
            assert sum(not panel.isHidden() for panel in panels) == 1
            asked()
            assert all(panel.isHidden() for panel in panels)


def test_variants_are_kept_and_shown(window: Shown) -> None:
    shown, answers, _ = window
    shown.starts.from_sample("marlpit_one_piece")
    answers.named = "whole"
    shown.edits.keep_variant()
    shown.door.attempt("take bolt 7 out", lambda bracket: bracket.without_bolt("7"))
    assert [choice.words for choice in shown.edits.variant_choices()] == ["whole"]
    shown.edits.show_variant("whole")
    assert len(shown.door.bracket.bolts) == 7


def test_the_other_hand_is_one_step(window: Shown) -> None:
    shown, _, _ = window
    shown.starts.from_sample("quayside_side_plate")
    before = shown.door.bracket
    shown.edits.other_hand()
    assert shown.door.bracket != before
    assert shown.door.steps.undoText() == "other hand of drive"
    shown.edits.other_hand()
    assert shown.door.bracket == before


@pytest.mark.parametrize("look", [PAPER, SLATE])
def test_both_looks_are_drawn_in_their_own_ground(look: object, window: Shown) -> None:
    shown, _, _ = window
    assert look in (PAPER, SLATE)
    theme = SLATE if look is SLATE else PAPER
    shown.seeing.set_theme(theme.name)
    shown.starts.from_sample("tallow_stub")
    image = shown.grab().toImage()
    ground = QColor(theme.ground)
    step = 7
    places = [(x, y) for x in range(0, image.width(), step) for y in range(0, image.height(), step)]
    alike = sum(image.pixelColor(x, y) == ground for x, y in places)
    assert alike > 0.5 * len(places)


@pytest.mark.parametrize("size", [(640, 360), (1024, 640), (1280, 720), (1920, 1080)])
def test_parts_neither_overlap_nor_vanish_at_any_size(size: tuple[int, int], window: Shown) -> None:
    shown, _, _ = window
    shown.starts.from_sample("marlpit_one_piece")
    shown.resize(*size)
    QApplication.processEvents()
    page = shown.page
    parts: list[QWidget] = [
        page.order, page.views, page.said, page.checks, page.parts_list, page.notes, page.title_block,
    ]  # fmt: skip
    paper = page.sheet.widget()
    assert paper is not None
    places = [part.rect().translated(part.mapTo(paper, part.rect().topLeft())) for part in parts]
    for number, place in enumerate(places):
        assert place.height() >= 14, parts[number]
        assert paper.rect().contains(place), parts[number]
        assert not any(place.intersects(other) for other in places[number + 1 :]), parts[number]
    assert page.flat.geometry().right() < page.mounted.geometry().left()


def test_a_word_at_the_right_of_the_menus_turns_the_look_over(window: Shown, qtbot: QtBot) -> None:
    shown, _, _ = window
    corner = shown.menuBar().cornerWidget()
    assert corner.isVisible()
    units, look = corner.findChildren(QPushButton)
    # the bar gives the corner its room once, with the shorter words in it
    longer = units.fontMetrics().horizontalAdvance("inch \u00b7 lbf\u00b7ft")
    assert units.text() != "inch \u00b7 lbf\u00b7ft"
    assert units.minimumWidth() >= longer
    qtbot.mouseClick(look, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(units, Qt.MouseButton.LeftButton)
    assert (look.text(), units.text()) == ("slate", "inch \u00b7 lbf\u00b7ft")
    qtbot.wait(50)
    assert corner.rect().contains(units.geometry())
    assert units.width() >= units.fontMetrics().horizontalAdvance(units.text())
    assert shown.seeing.inch


def test_the_pointer_down_holds_the_judge(window: Shown) -> None:
    shown, _, judge = window
    held: list[bool] = []
    judge.set_hold = held.append  # type: ignore[method-assign]
    for kind in (QEvent.Type.MouseButtonPress, QEvent.Type.MouseButtonRelease):
        at = QPointF(5, 5)
        event = QMouseEvent(
            kind, at, at, Qt.MouseButton.LeftButton, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
        )
        QApplication.sendEvent(shown.page.flat.viewport(), event)
    assert held == [True, False]


@pytest.mark.parametrize(
    ("kind", "button"),
    [
        (QEvent.Type.MouseButtonPress, Qt.MouseButton.RightButton),
        (QEvent.Type.ContextMenu, Qt.MouseButton.LeftButton),
        (QEvent.Type.WindowDeactivate, Qt.MouseButton.LeftButton),
    ],
)
def test_a_menu_that_takes_the_pointer_away_does_not_hold_the_judge(
    window: Shown, kind: QEvent.Type, button: Qt.MouseButton
) -> None:
    shown, _, judge = window
    held: list[bool] = []
    judge.set_hold = held.append  # type: ignore[method-assign]
    at = QPointF(5, 5)
    press = QMouseEvent(QEvent.Type.MouseButtonPress, at, at, button, button, Qt.KeyboardModifier.NoModifier)
    shown._pointer.eventFilter(shown.page.flat.viewport(), press)
    if kind != QEvent.Type.MouseButtonPress:
        assert held == [True]
        shown._pointer.eventFilter(shown.page.flat.viewport(), QEvent(kind))
    assert held[-1] is False
