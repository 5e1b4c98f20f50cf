"""The Lesson page: the board, which may fill the screen for a projector, and the leaf of the rig's log."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.leaf_asks import LeafAsks
from app.window.leaf_row import LeafRow
from app.window.lists.caption import Link
from app.window.mounted_painting import Painting
from app.window.said_line import SaidLine
from app.window.seeing import Seeing
from app.window.verdict_flow import VerdictFlow

if TYPE_CHECKING:
    from app.window.background import Background
    from app.window.lesson_board import LessonBoard
    from app.window.lesson_papers import ForClass
    from app.window.rig.rig_leaf import RigLeaf
    from solver.results import Results

_RIG: Final = 1
"""Place of the leaf of the rig's log."""


class LessonPage(QWidget):
    """The place of the lesson: the board is made when the page is first turned to."""

    def __init__(self, door: Door, verdicts: VerdictFlow, seeing: Seeing, painting: Painting) -> None:
        super().__init__()
        self._door, self._verdicts, self._seeing = door, verdicts, seeing
        self._painting = painting
        self._board: LessonBoard | None = None
        self.asks = LeafAsks()
        self.leaves = LeafRow(("Questions", "Rig log"), seeing.theme)
        self.write_link = Link(self.tr("write for the class"), seeing.theme)
        self.write_link.clicked.connect(lambda _=False: self._offer_papers())
        self.said = SaidLine(seeing.theme)
        self._rig: RigLeaf | None = None
        self._writing: Background | None = None
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
            self._room.addWidget(board)
            self.setFocusProxy(board)
            self._board = board
        return self._board

    @property
    def rig(self) -> RigLeaf:
        """Return the leaf of the rig's log, made if there is none yet."""
        if self._rig is None:
            from app.window.rig.rig_leaf import RigLeaf

            self._rig = RigLeaf(self._door, self._verdicts, self._seeing.theme, self.asks)
            self._rig_room.addWidget(self._rig)
        return self._rig

    def write(self, one: ForClass) -> None:
        """Write something for the class where the user says."""
        from app.window.background import Background
        from app.window.lesson_papers import why_not, writing

        bracket, results = self._door.bracket, self._ink()
        if trouble := why_not(one, bracket, results):
            self.said.say(trouble)
            return
        stem = (bracket.title or "bracket").replace("/", "-")
        path = self.asks.where_to_put_lesson(self, Path.home() / f"{stem} {one.ending}")
        if path is None:
            return
        if self._writing is None:
            self._writing = Background(self)
            self._writing.done.connect(lambda told: self.said.note(str(told)))
        self.said.note(self.tr("Writing\u2026"))
        self._writing.begin(writing(one, bracket, results, path, self._seeing.theme, inch=self._seeing.inch))

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
        if self._rig is not None:
            self._rig.leave()
        if self._board is not None:
            self._board.turned.leave()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Make the board if need be, and take up the bracket on the sheet."""
        super().showEvent(event)
        if self.leaves.place != _RIG:
            self.board.begin()
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

    def _offer_papers(self) -> None:
        from app.window.lesson_papers import FOR_CLASS

        menu = QMenu(self)
        for one in FOR_CLASS:
            menu.addAction(self.tr(one.words)).triggered.connect(lambda _=False, one=one: self.write(one))
        menu.popup(self.write_link.mapToGlobal(self.write_link.rect().bottomLeft()))

    def _ink(self) -> Results | None:
        results = self._verdicts.results
        if results is None or results.hash != self._door.bracket.input_hash():
            return None
        return results if results.accuracy.refined else None
