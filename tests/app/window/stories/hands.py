"""A hand on the whole window: it clicks where a user sees things, types, drags, and reads what is said."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.files.settings import Settings
from app.window.judge import Judge
from app.window.lists.field import Path as FieldPath
from app.window.lists.field_edit import FieldEdit
from app.window.main_window import MainWindow
from app.window.still_judge import StillJudge
from geometry.bracket import Bracket
from geometry.flat_segments import Flat
from solver.results import Results
from tests.app.window.flat_hands import SAMPLES, Hand, sample
from tests.app.window.shown import Answers

__all__ = ["SAMPLES", "WindowHand", "sample", "window_in_hand"]

CTRL = Qt.KeyboardModifier.ControlModifier
NO_KEYS = Qt.KeyboardModifier.NoModifier


class WindowHand(Hand):
    """Works a whole window; `gestures` counts clicks, drags, keys and lines of typing."""

    def __init__(self, qtbot: QtBot, window: MainWindow, answers: Answers) -> None:
        # not the view's own hand: this one has a window round it
        self.qtbot, self.window, self.answers = qtbot, window, answers
        self.door, self.view, self.page = window.door, window.page.flat, window.page
        self.gestures = 0

    @property
    def stamp(self) -> str:
        """What the stamp says, as it is told to somebody who does not see it."""
        return self.page.title_block.stamp.told

    @property
    def said(self) -> str:
        """The sentence on the sheet."""
        return self.page.said.sentence

    @property
    def bracket(self) -> Bracket:
        """The bracket as it stands."""
        return self.door.bracket

    @property
    def focus(self) -> QWidget:
        """What gets the keys: a list that lies open before what has the keyboard."""
        here = QApplication.activePopupWidget() or QApplication.focusWidget()
        return self.window if here is None else here

    def settle(self) -> None:
        """Let what was asked for a moment later be done."""
        self.qtbot.wait(60)
        QCoreApplication.sendPostedEvents()
        QApplication.processEvents()

    def close_lists(self) -> None:
        """Do what a system with a desktop does when the button goes down beside an open list."""
        popup = QApplication.activePopupWidget()
        if popup is not None:
            popup.close()
        if QApplication.activeWindow() is not self.window:
            # offscreen there is nobody to make a window active again after a list
            self.window.activateWindow()
            self.qtbot.waitUntil(self.window.isActiveWindow)

    def click_px(self, px: QPointF) -> None:
        self.gestures += 1
        self.close_lists()
        super().click_px(px)

    def drag(self, start: Flat, end: Flat) -> None:
        self.gestures += 1
        super().drag(start, end)

    def key(self, key: Qt.Key | str, keys: Qt.KeyboardModifier = NO_KEYS) -> None:
        """Press and let go a key wherever the keyboard is."""
        self.gestures += 1
        QTest.keyClick(self.focus, key, keys)

    def sheet_key(self, key: Qt.Key | str, keys: Qt.KeyboardModifier = NO_KEYS) -> None:
        """Press and let go a key on the flat pattern."""
        self.gestures += 1
        QTest.keyClick(self.view, key, keys)

    def type_words(self, text: str, end: Qt.Key | None = Qt.Key.Key_Return) -> None:
        """Type where the keyboard is."""
        self.gestures += 1
        QTest.keyClicks(self.focus, text)
        if end is not None:
            QTest.keyClick(self.focus, end)

    def type_in(self, text: str, end: Qt.Key = Qt.Key.Key_Return) -> None:
        self.gestures += 1
        super().type_in(text, end)

    def type_numbers(self, *texts: str) -> None:
        """Type over the numbers of what is selected, from the first on; an empty text leaves one as it is."""
        self.sheet_key(Qt.Key.Key_Return)
        for place, text in enumerate(texts):
            entry = self.view.entry
            assert entry.isVisible(), f"no number opened for {text!r}"
            if text:
                entry.selectAll()
            last = place == len(texts) - 1
            self.type_in(text, Qt.Key.Key_Return if last else Qt.Key.Key_Tab)
            assert entry.wrong == ""
        assert not self.view.entry.isVisible()

    def undo(self) -> None:
        """Press the key of undo."""
        before = self.door.steps.index()
        self.key(Qt.Key.Key_Z, CTRL)
        assert self.door.steps.index() == before - 1, (self.focus, QApplication.activeWindow())

    def redo(self) -> None:
        """Press the key of redo."""
        self.key(Qt.Key.Key_Y, CTRL)

    def wheel(self, at: Flat, notches: int) -> None:
        """Turn the wheel over a place of the sheet."""
        self.gestures += 1
        px = self.view.to_px(at)
        event = QWheelEvent(
            px,
            self.view.viewport().mapToGlobal(px),
            QPoint(),
            QPoint(0, 120 * notches),
            Qt.MouseButton.NoButton,
            NO_KEYS,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(self.view.viewport(), event)

    def press_widget(self, widget: QWidget) -> None:
        """Click on the middle of something that can be seen."""
        self.gestures += 1
        self.close_lists()
        assert widget.isVisible(), f"{widget.accessibleName() or widget!r} cannot be seen"
        assert widget.isEnabled(), f"{widget.accessibleName() or widget!r} cannot be pressed"
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=widget.rect().center())

    def press_words(self, words: str, within: QWidget | None = None) -> None:
        """Click on the button or link that shows these words."""
        inside = self.window if within is None else within
        found = [b for b in inside.findChildren(QAbstractButton) if words in b.text() and b.isVisible()]
        assert len(found) == 1, f"{words!r} is on {[b.text() for b in found]}"
        self.press_widget(found[0])

    def field(self, *path: str | int) -> FieldEdit:
        """The field of a value, brought into view as a click on its row does."""
        place: FieldPath = tuple(path)
        for row in self.page.parts_list.rows:
            if row.has(place):
                if row.edit_at(place) is None:
                    self.press_widget(row.mark)
                edit = row.edit_at(place)
                assert edit is not None
                return edit
        for sentence in self.page.notes.sentences:
            note = sentence.edit_at(place)
            if note is not None:
                return note
        raise AssertionError(f"no field for {place}")

    def type_field(self, text: str, *path: str | int) -> None:
        """Click on a value in the parts list or the notes, and type over it."""
        edit = self.field(*path)
        self.close_lists()
        had_it = edit.hasFocus()
        QTest.mouseClick(edit, Qt.MouseButton.LeftButton, pos=edit.rect().center())
        if had_it:  # a second click sets the cursor
            QTest.keyClick(edit, Qt.Key.Key_A, CTRL)
        self.gestures += 1
        self.type_words(text)
        assert edit.fault == ""

    def do(self, name: str) -> None:
        """Choose a row of the menus, by its name in the table of actions."""
        self.gestures += 1
        action = self.window.actions_by_name[name]
        assert action.isEnabled()
        action.trigger()

    def choose(self, name: str, words: str) -> None:
        """Choose one of the choices of a row of the menus."""
        self.gestures += 1
        menu = self.window.actions_by_name[name].menu()
        menu.aboutToShow.emit()
        menu.aboutToShow.emit()
        (action,) = [a for a in menu.actions() if a.text() == words]
        action.trigger()

    def free_motions(self) -> str:
        """What is said of free motions."""
        return self.page.free_motions.accessibleName()

    def wait_until(self, come: Callable[[], bool], timeout_ms: int = 60_000) -> None:
        """Wait for something to come about."""
        self.qtbot.waitUntil(come, timeout=timeout_ms)

    def wait_for_ink(self, timeout_ms: int = 90_000) -> Results:
        """Wait until the stamp is in ink, and return the results."""
        self.qtbot.waitUntil(lambda: self.page.title_block.standing.state == "ink", timeout=timeout_ms)
        results = self.window.verdicts.results
        assert results is not None
        return results


@contextmanager
def window_in_hand(
    qtbot: QtBot,
    *,
    judge: Judge | StillJudge | None = None,
    size: tuple[int, int] = (1280, 720),
    in_3d: bool = False,
) -> Iterator[WindowHand]:
    """Yield a hand on a shown, active window with an empty sheet; without a judge nothing is judged.

    Unless `in_3d` the bracket as mounted stays the sketch it is until the 3D library is there.
    """
    answers = Answers()
    window = MainWindow(Settings(), StillJudge() if judge is None else judge, answers)
    if not in_3d:
        window.page.mounted.painting.start = lambda: None  # type: ignore[method-assign]
    window.resize(*size)
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.judge.start()
    window.verdicts.begin()
    try:
        yield WindowHand(qtbot, window, answers)
    finally:
        answers.leaving = "leave"
        window.close()
        window.deleteLater()
        # now, or the next window's look is put on this one too
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def opened(hand: WindowHand, bracket: Bracket, folder: Path, name: str = "mine") -> Path:
    """Write a bracket to a file and open it in the window; return the file."""
    from geometry.bracket_file import save_bracket

    path = folder / f"{name}.bracket.json"
    save_bracket(path, bracket)
    assert hand.window.files.open_path(path)
    return path
