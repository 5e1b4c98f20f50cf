"""The keys of the lesson: everything a trainer does without the mouse."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

if TYPE_CHECKING:
    from app.window.lesson_board import LessonBoard


def press(board: LessonBoard, key: Qt.Key) -> bool:
    """Do what a key stands for; return whether it stands for anything here."""
    number = key - Qt.Key.Key_1
    if 0 <= number < 9:
        board.predict(number)
        return True
    if key == Qt.Key.Key_Escape and board.isWindow():
        board.full_screen_wanted.emit(False)
        return True
    deed = _deeds(board).get(key)
    if deed is not None:
        deed()
    return deed is not None


def _deeds(board: LessonBoard) -> dict[Qt.Key, Callable[[], None]]:
    return {
        Qt.Key.Key_Right: lambda: board.turn(1),
        Qt.Key.Key_PageDown: lambda: board.turn(1),
        Qt.Key.Key_Left: lambda: board.turn(-1),
        Qt.Key.Key_PageUp: lambda: board.turn(-1),
        Qt.Key.Key_Return: board.reveal,
        Qt.Key.Key_Enter: board.reveal,
        Qt.Key.Key_F: board.turn_friction,
        Qt.Key.Key_L: board.turn_linkage,
        Qt.Key.Key_Up: lambda: board.step_couple(1),
        Qt.Key.Key_Down: lambda: board.step_couple(-1),
        Qt.Key.Key_B: board.work_next_bolt,
        Qt.Key.Key_V: board.look_from_next,
        Qt.Key.Key_M: board.next_motion,
        Qt.Key.Key_F11: lambda: board.full_screen_wanted.emit(not board.isWindow()),
    }
