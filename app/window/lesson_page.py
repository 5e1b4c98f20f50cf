"""The Lesson page: holds the board, and lets it fill the screen for a projector."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.mounted_painting import Painting
from app.window.seeing import Seeing
from app.window.verdict_flow import VerdictFlow

if TYPE_CHECKING:
    from app.window.lesson_board import LessonBoard


class LessonPage(QWidget):
    """The place of the lesson: the board is made when the page is first turned to."""

    def __init__(self, door: Door, verdicts: VerdictFlow, seeing: Seeing, painting: Painting) -> None:
        super().__init__()
        self._door, self._verdicts, self._seeing = door, verdicts, seeing
        self._painting = painting
        self._board: LessonBoard | None = None
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)

    @property
    def board(self) -> LessonBoard:
        """Return the board, made if there is none yet."""
        if self._board is None:
            # it takes a while to import, and the first drawing of the window must not wait for it
            from app.window.lesson_board import LessonBoard

            board = LessonBoard(self._door, self._verdicts, self._seeing.theme, self._painting)
            board.full_screen_wanted.connect(self.set_full_screen)
            self._room.addWidget(board)
            self.setFocusProxy(board)
            self._board = board
        return self._board

    @property
    def is_full_screen(self) -> bool:
        """Return whether the board fills the screen."""
        return self._board is not None and self._board.isWindow()

    def set_full_screen(self, on: bool) -> None:
        """Let the board fill the screen in big type, or put it back on the page."""
        board = self.board
        if on == self.is_full_screen:
            return
        if on:
            screen = self.screen().size()
            board.setParent(None)
            board.set_big(max(1.3, min(screen.width() / 1280.0, screen.height() / 720.0)))
            board.showFullScreen()
        else:
            board.set_big(1.0)
            board.showNormal()
            self._room.addWidget(board)
            board.show()
        board.setFocus()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        if self._board is not None:
            self._board.set_theme(theme)

    def leave(self) -> None:
        """Leave the full screen before the window goes."""
        if self.is_full_screen:
            self.set_full_screen(False)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Make the board if need be, and take up the bracket on the sheet."""
        super().showEvent(event)
        self.board.begin()
        self.board.setFocus()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """End what the lesson tries: it is nobody else's."""
        super().hideEvent(event)
        if self._board is not None and not self.is_full_screen:
            self._board.end()
