"""A hand for tests of the flat pattern view: real mouse and key events at places of the flat pattern."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.theme import PAPER
from app.window.door import Door
from app.window.flat.view import FlatView
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.flat_segments import Flat
from geometry.plate import Plate

SAMPLES = Path(__file__).parents[3] / "sample_brackets"


def sample(name: str) -> Bracket:
    """Return a sample bracket."""
    bracket = read_bracket(SAMPLES / f"{name}.bracket.json").bracket
    assert bracket is not None
    return bracket


class Hand:
    """Works a view of one bracket."""

    def __init__(self, qtbot: QtBot, bracket: Bracket, size: tuple[int, int] = (900, 680)) -> None:
        self.door = Door(bracket)
        self.view = FlatView(self.door, PAPER)
        self.view.resize(*size)
        qtbot.addWidget(self.view)
        self.view.show()
        self.view.activateWindow()
        qtbot.waitExposed(self.view)
        self.view.fit()
        self.view.setFocus()

    @property
    def plate(self) -> Plate:
        """The shown plate as it stands."""
        return self.door.bracket.plate(self.door.shown_plate)

    @property
    def last_step(self) -> str:
        """The name of the last step."""
        return self.door.steps.undoText()

    def px(self, at: Flat) -> QPoint:
        """Return the nearest pixel to a flat place."""
        return self.view.to_px(at).toPoint()

    def hover(self, at: Flat) -> None:
        """Bring the pointer to a place."""
        QTest.mouseMove(self.view.viewport(), self.px(at))

    def click(self, at: Flat) -> None:
        """Click at a place."""
        self.hover(at)
        self.click_px(QPointF(self.px(at)))

    def click_px(self, px: QPointF) -> None:
        """Click at a pixel."""
        QTest.mouseClick(self.view.viewport(), Qt.MouseButton.LeftButton, pos=px.toPoint())

    def press(self, at: Flat) -> None:
        """Put the button down at a place."""
        self.hover(at)
        QTest.mousePress(self.view.viewport(), Qt.MouseButton.LeftButton, pos=self.px(at))

    def drag_to(self, at: Flat, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Move with the button down."""
        self.drag_to_px(QPointF(self.px(at)), keys)

    def drag_to_px(self, place: QPointF, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Move to a pixel with the button down."""
        event = QMouseEvent(
            QEvent.Type.MouseMove,
            place,
            self.view.viewport().mapToGlobal(place),
            Qt.MouseButton.NoButton,
            Qt.MouseButton.LeftButton,
            keys,
        )
        QApplication.sendEvent(self.view.viewport(), event)

    def release(self, at: Flat) -> None:
        """Let the button go at a place."""
        QTest.mouseRelease(self.view.viewport(), Qt.MouseButton.LeftButton, pos=self.px(at))

    def drag_px(self, start: QPointF, end: QPointF) -> None:
        """Drag from a pixel to another."""
        QTest.mousePress(self.view.viewport(), Qt.MouseButton.LeftButton, pos=start.toPoint())
        self.drag_to_px(end)
        QTest.mouseRelease(self.view.viewport(), Qt.MouseButton.LeftButton, pos=end.toPoint())

    def drag(self, start: Flat, end: Flat) -> None:
        """Drag from a place to another, by way of the middle."""
        self.press(start)
        self.drag_to(((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0))
        self.drag_to(end)
        self.release(end)

    def key(self, key: Qt.Key | str, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press and let go a key on the sheet."""
        QTest.keyClick(self.view, key, keys)

    def type_in(self, text: str, end: Qt.Key = Qt.Key.Key_Return) -> None:
        """Type into the open entry."""
        QTest.keyClicks(self.view.entry, text)
        QTest.keyClick(self.view.entry, end)

    def click_number(self, name: str) -> None:
        """Click on a number that is written on the sheet."""
        marks = self.view.marks()
        boxes = [m.words.box for m in marks.dimensions if m.name == name]
        boxes += [w.box for w in marks.words if w.name == name]
        assert boxes, f"no number {name!r} is written"
        self.click_px(boxes[0].center())
