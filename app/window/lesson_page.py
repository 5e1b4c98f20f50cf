"""The Lesson page: the board, which may fill the screen for a projector, and the leaf of the rig's log."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.class_desk import ClassDesk
from app.window.door import Door
from app.window.leaf_row import LeafRow
from app.window.lists.caption import Link
from app.window.mounted_painting import Painting
from app.window.said_line import SaidLine
from app.window.seeing import Seeing
from app.window.verdict_flow import VerdictFlow
from geometry.bracket import Bracket

if TYPE_CHECKING:
    from app.lesson.turned import Turned
    from app.window.lesson_board import LessonBoard
    from app.window.rig.rig_leaf import RigLeaf

_RIG: Final = 1
"""Place of the leaf of the rig's log."""


class LessonPage(QWidget):
    """The place of the lesson: the board is made when the page is first turned to."""

    def __init__(self, door: Door, verdicts: VerdictFlow, seeing: Seeing, painting: Painting) -> None:
        super().__init__()
        self._door, self._verdicts, self._seeing = door, verdicts, seeing
        self._painting = painting
        self._board: LessonBoard | None = None
        self.desk = ClassDesk(door, verdicts, seeing, self._turned_of, self)
        self.leaves = LeafRow(("Questions", "Rig log"), seeing.theme)
        self.write_link = Link(self.tr("write for the class"), seeing.theme)
        self.write_link.clicked.connect(lambda _=False: self._offer_papers())
        self.said = SaidLine(seeing.theme)
        self.desk.told.connect(self.said.say)
        self.desk.noted.connect(self.said.note)
        self._rig: RigLeaf | None = None
        board_room, rig_room = QWidget(), QWidget()
        self._room, self._rig_room = QVBoxLayout(board_room), QVBoxLayout(rig_room)
        top = QHBoxLayout()
        top.setSpacing(14)
        for widget, share in ((self.leaves, 0), (self.write_link, 0), (self.said, 1)):
            top.addWidget(widget, share)
        column = QVBoxLayout(self)
        column.setSpacing(0)
        column.addLayout(top)
        column.addWidget(self.leaves.stack((board_room, rig_room)), 1)
        for layout in (self._room, self._rig_room, column):
            layout.setContentsMargins(0, 0, 0, 0)
        top.setContentsMargins(12, 4, 12, 0)
        self.leaves.turned.connect(self._turned)

    @property
    def board(self) -> LessonBoard:
        """Return the board, made if there is none yet."""
        if self._board is None:
            # it takes a while to import, and the first drawing of the window must not wait for it
            from app.window.lesson_board import LessonBoard

            board = LessonBoard(self._door, self._verdicts, self._seeing.theme, self._painting)
            board.full_screen_wanted.connect(self.set_full_screen)
            self._seeing.inch_changed.connect(board.set_inch)
            board.set_inch(self._seeing.inch)
            self._room.addWidget(board)
            self.setFocusProxy(board)
            self._board = board
        return self._board

    @property
    def rig(self) -> RigLeaf:
        """Return the leaf of the rig's log, made if there is none yet."""
        if self._rig is None:
            from app.window.rig.rig_leaf import RigLeaf

            self._rig = RigLeaf(self._door, self._verdicts, self._seeing.theme, self.desk.asks)
            self._seeing.inch_changed.connect(self._rig.set_inch)
            self._rig.set_inch(self._seeing.inch)
            self._rig_room.addWidget(self._rig)
        return self._rig

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
            place = self.screen().geometry()
            board.setParent(None)
            board.set_big(max(1.3, min(screen.width() / 1280.0, screen.height() / 720.0)))
            # a display without a window manager makes nothing full screen by itself
            board.setGeometry(place)
            board.showFullScreen()
        else:
            board.set_big(1.0)
            board.showNormal()
            self._room.addWidget(board)
            board.show()
        board.setFocus()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        for part in (self.leaves, self.write_link, self.said, self._board, self._rig):
            if part is not None:
                part.set_theme(theme)

    def leave(self) -> None:
        """Leave the full screen before the window goes."""
        if self.is_full_screen:
            self.set_full_screen(False)
        self.desk.leave()
        if self._rig is not None:
            self._rig.leave()
        if self._board is not None:
            self._board.turned.leave()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Make the board if need be, and take up the bracket on the sheet."""
        super().showEvent(event)
        if self.leaves.place != _RIG:
            self.board.begin()
            # just made it is hidden yet, and what is hidden does not keep the focus: its keys would be dead
            self.board.show()
            self.board.setFocus()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """End what the lesson tries: it is nobody else's."""
        super().hideEvent(event)
        if self._board is not None and not self.is_full_screen:
            self._board.end()

    def _turned(self, place: int) -> None:
        if place == _RIG:
            self.board.end()
            self.rig.show()
        else:
            self.board.begin()
            self.board.setFocus()

    def _write(self, ending: str, _ticked: bool = False) -> None:
        self.desk.write(ending)

    def _turned_of(self, bracket: Bracket) -> Turned | None:
        """Return the plate turned along the shaft, where the board has one of this bracket."""
        return None if self._board is None else self._board.turned.of(bracket)

    def _offer_papers(self) -> None:
        menu = QMenu(self)
        for one in self.desk.choices():
            menu.addAction(self.tr(one.words)).triggered.connect(partial(self._write, one.argument))
        menu.popup(self.write_link.mapToGlobal(self.write_link.rect().bottomLeft()))
