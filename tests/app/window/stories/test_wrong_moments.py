"""Saving, closing and opening at the wrong moment: while typing, with a form laid over, by a drop."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QGraphicsPixmapItem, QLabel
from pytestqt.qtbot import QtBot

from app.window.forms.photograph_form import PhotographForm
from geometry.bracket_file import read_bracket, save_bracket
from tests.app.window.stories.builds import BOSSES, whole
from tests.app.window.stories.hands import CTRL, WindowHand, sample, window_in_hand


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "mine.bracket.json"
    save_bracket(path, whole())
    return path


def type_couple(hand: WindowHand, text: str) -> None:
    """Type over the couple, and do not press Enter."""
    edit = hand.field("loads", "couple", "couple_nm")
    QTest.mouseClick(edit, Qt.MouseButton.LeftButton, pos=edit.rect().center())
    QTest.keyClicks(edit, text)


def laid_over(hand: WindowHand) -> str:
    """Return the kind of form that lies over the sheet, empty for none."""
    form = hand.page.sheet.form
    return "" if form is None else type(form).__name__


def saved_couple(path: Path) -> float | None:
    bracket = read_bracket(path).bracket
    assert bracket is not None
    return bracket.loads.couple.value_nm


def test_what_is_typed_and_not_entered_is_saved_with_the_rest(qtbot: QtBot, file: Path) -> None:
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        type_couple(hand, "45")
        assert hand.bracket.loads.couple.value_nm == 12.0
        hand.key("S", CTRL)
        assert saved_couple(file) == 45.0
        assert hand.window.windowTitle() == "mine"
        hand.click(BOSSES["left"])
        hand.sheet_key(Qt.Key.Key_Return)
        QTest.keyClicks(hand.view.entry, "11")
        QTest.keyClick(hand.view.entry, Qt.Key.Key_S, CTRL)
        saved = read_bracket(file).bracket
        assert saved is not None
        assert saved.plates == hand.bracket.plates
        assert saved.plates[0].openings[0].kind == "hole"
        assert saved.plates[0].openings[0].diameter_mm == 11.0


def test_closing_in_the_middle_of_typing_asks(qtbot: QtBot, file: Path) -> None:
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        type_couple(hand, "45")
        hand.answers.leaving = "stay"
        assert not hand.window.close()
        assert hand.answers.asked == ["leave mine"]
        hand.answers.leaving = "save"
        assert hand.window.close()
        assert saved_couple(file) == 45.0


def test_what_cannot_be_taken_stays_in_its_cell_and_the_rest_is_saved(qtbot: QtBot, file: Path) -> None:
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        type_couple(hand, "lots")
        hand.key("S", CTRL)
        edit = hand.field("loads", "couple", "couple_nm")
        assert edit.text() == "lots"
        assert edit.fault
        assert saved_couple(file) == 12.0


def test_a_form_goes_with_the_bracket_it_was_laid_over(qtbot: QtBot, file: Path) -> None:
    with window_in_hand(qtbot) as hand:
        hand.do("bolt.casing")
        assert laid_over(hand) == "CallipersForm"
        assert hand.window.files.open_path(file)
        assert laid_over(hand) == ""
        hand.settle()
        assert hand.bracket == whole()


def drop(hand: WindowHand, *paths: Path) -> None:
    """Drag files over the flat pattern and let them go there."""
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    copy, left, no_keys = (
        Qt.DropAction.CopyAction,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    at = hand.view.mapTo(hand.window, hand.view.rect().center())
    entering = QDragEnterEvent(at, copy, mime, left, no_keys)
    QApplication.sendEvent(hand.window, entering)
    assert entering.isAccepted()
    QApplication.sendEvent(hand.window, QDropEvent(QPointF(at), copy, mime, left, no_keys))


def test_a_dropped_bracket_is_opened_and_a_drawing_and_a_photograph_find_their_forms(
    qtbot: QtBot, file: Path, tmp_path: Path
) -> None:
    drawing, photograph = tmp_path / "plate.svg", tmp_path / "car.png"
    drawing.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="40mm" viewBox="0 0 50 40">'
        '<path d="M0 0 H50 V40 H0 Z"/></svg>',
        encoding="utf-8",
    )
    with window_in_hand(qtbot) as hand:
        assert not hand.view.viewport().acceptDrops(), "the sheet would keep what is dropped from the window"
        assert hand.view.grab().save(str(photograph))
        drop(hand, file, drawing)
        assert hand.bracket == whole()
        assert hand.said == "One file at a time: mine.bracket.json was taken, 1 more left."
        for path, form in ((drawing, "OutlineForm"), (photograph, "PhotographForm")):
            drop(hand, path)
            assert laid_over(hand) == form
        drop(hand, tmp_path)
        assert "is a folder" in hand.said
        assert hand.bracket == whole()
        hand.door.attempt("rake", lambda bracket: bracket.but(rake_deg=9.0))
        hand.answers.leaving = "stay"
        drop(hand, file)
        assert hand.bracket.rake_deg == 9.0
        hand.window.edges.turn_to_words("Side by side")
        drop(hand, file)
        assert len(hand.window.beside.panes) == 2
        assert hand.bracket.rake_deg == 9.0


def test_at_twice_the_scale_of_a_usual_screen_nothing_is_cut(qtbot: QtBot) -> None:
    """A screen of 1920 x 1080 at 200 % is 960 x 540."""
    with window_in_hand(qtbot, size=(960, 540)) as hand:
        assert hand.window.files.put(sample("marlpit_one_piece"), "small")
        hand.settle()
        assert hand.page.sheet.horizontalScrollBar().maximum() == 0
        hand.window.edges.turn_to_words("Lesson")
        hand.settle()
        lesson = hand.window.lesson.board.side
        seen = [label for label in lesson.findChildren(QLabel) if label.isVisible() and label.text()]
        assert lesson.question in seen
        for label in seen:
            assert label.height() >= label.heightForWidth(label.width()), label.text()
        hand.window.edges.turn_to_words("Record")
        hand.settle()
        side, mark = hand.window.record.side, hand.window.record.side.mark
        assert mark.width() >= mark.sizeHint().width()
        assert mark.mapTo(side, mark.rect().topRight()).x() < side.width()


def test_a_squared_photograph_is_seen_whole_on_an_empty_sheet(qtbot: QtBot, tmp_path: Path) -> None:
    photograph, corners = tmp_path / "car.png", ((420, 180), (1180, 260), (1320, 1080), (300, 980))
    assert QImage(1600, 1200, QImage.Format.Format_RGB32).save(str(photograph))
    with window_in_hand(qtbot) as hand:
        drop(hand, photograph)
        form = hand.page.sheet.form
        assert isinstance(form, PhotographForm)
        for corner in corners:
            at = form.corners.to_widget(corner).toPoint()
            QTest.mouseClick(form.corners, Qt.MouseButton.LeftButton, pos=at)
        QTest.keyClick(form, Qt.Key.Key_Return)
        assert laid_over(hand) == ""
        (underlay,) = [i for i in hand.view.scene().items() if isinstance(i, QGraphicsPixmapItem)]
        seen = hand.view.mapToScene(hand.view.viewport().rect()).boundingRect()
        assert seen.contains(underlay.sceneBoundingRect())


def begin_to_drag_a_corner(hand: WindowHand) -> tuple[float, float]:
    """Press a corner and move it; return where it stood."""
    before = hand.bracket
    x, y = before.plates[0].outline[0].at_mm
    hand.press((x, y))
    hand.drag_to((x - 6.0, y))
    assert hand.door.drawn != before
    return x, y


def test_undo_while_dragging_takes_the_drag_back_and_no_step(qtbot: QtBot, file: Path) -> None:
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        hand.type_field("14", "loads", "couple", "couple_nm")
        before = hand.bracket
        corner = begin_to_drag_a_corner(hand)
        hand.key("Z", CTRL)
        assert hand.door.drawn == hand.bracket == before
        hand.release(corner)
        hand.key("Z", CTRL)
        assert hand.bracket.loads.couple.value_nm == 12.0
        assert hand.door.drawn == hand.bracket


def test_undo_takes_the_very_first_drag_back(qtbot: QtBot, file: Path) -> None:
    with window_in_hand(qtbot) as hand:
        assert hand.window.files.open_path(file)
        before = hand.bracket
        corner = begin_to_drag_a_corner(hand)
        hand.sheet_key("Z", CTRL)
        assert hand.door.drawn == hand.bracket == before
        hand.release(corner)
        assert hand.bracket == before
        assert not any(a.isVisible() for a in hand.window.menuBar().actions() if a.text().startswith("Undo:"))
        hand.settle()
