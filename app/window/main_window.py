"""The window: menus above, one page of the sheet at a time, the edges of the pages at the right."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QKeyEvent,
)
from PySide6.QtWidgets import QApplication, QMainWindow, QStackedWidget, QWidget

from app.editing.blank_sheet import blank_bracket
from app.files.settings import Settings
from app.theme import LEAST_WINDOW_PX, Theme
from app.window.actions import ACTIONS
from app.window.asks import Asks
from app.window.bracket_edits import BracketEdits
from app.window.bracket_page import BracketPage
from app.window.door import Door
from app.window.dropped import Drops, kind_of
from app.window.file_desk import FileDesk
from app.window.forms.form import Form
from app.window.help_page import HelpPage
from app.window.judge import Judge
from app.window.lesson_page import LessonPage
from app.window.looks import dress
from app.window.menu_corner import MenuCorner
from app.window.menus import Menus
from app.window.page_edges import PageEdges
from app.window.paper_desk import PaperDesk
from app.window.pointer_down import PointerDown
from app.window.record_holder import RecordHolder
from app.window.seeing import Seeing
from app.window.sheet_frame import SheetFrame
from app.window.side_by_side_holder import SideBySideHolder
from app.window.starts import Starts
from app.window.typing_taken import take_typing
from app.window.verdict_flow import Judges, VerdictFlow
from app.window.work_keeper import WorkKeeper

if TYPE_CHECKING:
    from app.window.beside.beside_judge import JudgesBeside
    from app.window.inspection.desk import Computes
    from app.window.record_page import RecordPage
    from app.window.side_by_side_page import SideBySidePage

_SIZE: Final = QSize(1280, 720)


@dataclass(frozen=True)
class Page:
    """One page of the sheet, by the words on its edge."""

    words: str
    widget_of: Callable[[MainWindow], QWidget]


PAGES: Final[tuple[Page, ...]] = (
    Page("Bracket", lambda window: window.page.sheet),
    Page("Side by side", lambda window: window.beside_holder),
    Page("Lesson", lambda window: window.lesson),
    Page("Record", lambda window: window.record_holder),
)
"""A page that is there has its edge at the right; no other has."""


class MainWindow(QMainWindow):
    """Makes the parts and lets them hear of one another; what they do is theirs."""

    def __init__(
        self,
        settings: Settings,
        judge: Judges | None = None,
        asks: Asks | None = None,
        inspector: Computes | None = None,
        beside: JudgesBeside | None = None,
    ) -> None:
        super().__init__()
        self.door = Door(blank_bracket(), self)
        self.seeing = Seeing(settings, self)
        self.judge: Judges = Judge(self) if judge is None else judge
        self.verdicts = VerdictFlow(self.door, self.judge, self)
        self.page: BracketPage = BracketPage(self.door, self.verdicts, self.seeing)
        asks = Asks(self) if asks is None else asks
        self.files = FileDesk(self.door, asks, self)
        self.keeper = WorkKeeper(self.door, self.files, self)
        self.starts = Starts(self.door, asks, self.files, self.keeper, self.seeing, self)
        self.edits = BracketEdits(self.door, asks, self)
        self.beside_holder: SideBySideHolder = SideBySideHolder(self._make_beside)
        self.paper = PaperDesk(
            self.door,
            self.verdicts,
            self.files,
            self.seeing,
            asks,
            self,
            trials_of=self.beside_holder.trials_of,
        )
        self.record_holder: RecordHolder = RecordHolder(
            asks, self.seeing, inspector, self.page.mounted.painting
        )
        self._beside, self._asks = beside, asks
        self.lesson: LessonPage = LessonPage(
            self.door, self.verdicts, self.seeing, self.page.mounted.painting
        )
        self._help = HelpPage(ACTIONS, self.seeing.theme)
        self._pages = QStackedWidget()
        for page in PAGES:
            self._pages.addWidget(page.widget_of(self))
        self._pages.addWidget(self._help)
        self.edges = PageEdges([page.words for page in PAGES], self.seeing.theme)
        self._frame = SheetFrame(self._pages, self.edges, self.seeing.theme)
        self.setCentralWidget(self._frame)
        self.parts = SimpleNamespace(
            files=self.files,
            starts=self.starts,
            seeing=self.seeing,
            window=self,
            edits=self.edits,
            paper=self.paper,
            for_class=self.lesson.desk,
            **self.page.parts,
        )
        self._menus = Menus(self.menuBar(), ACTIONS, self.parts, self)
        self._menus.add_steps(self.door, before="Help")
        self.menuBar().setNativeMenuBar(False)
        self._corner = MenuCorner(self.seeing)
        self.menuBar().setCornerWidget(self._corner)
        self.resize(_SIZE)
        self.setMinimumSize(*LEAST_WINDOW_PX)
        self._drops = Drops(self, self._take_file)
        # the window takes what is dropped anywhere on it
        self.page.flat.setAcceptDrops(False)
        self.page.flat.viewport().setAcceptDrops(False)
        self._pointer = PointerDown(self.page.flat.viewport(), self)
        self._listen()
        self._take_theme(self.seeing.theme)
        self._name()

    def open_first(self, file: Path | None) -> None:
        """Put on the sheet what a start shows: a file if one is named."""
        self.starts.first(file)

    def begin(self) -> None:
        """Begin what goes on by itself: the judge, the keeping of work."""
        self.judge.start()
        self.verdicts.begin()
        self.keeper.begin()
        self.record_holder.tell_left()

    @property
    def record(self) -> RecordPage:
        """Return the page of the record, made if it was not turned to yet."""
        return self.record_holder.page

    @property
    def beside(self) -> SideBySidePage:
        """Return the page Side by side, made if it was not turned to yet."""
        return self.beside_holder.page

    @property
    def actions_by_name(self) -> Mapping[str, QAction]:
        """Return every action of the menus by its name in the table."""
        return self._menus.actions

    @property
    def shows_help(self) -> bool:
        """Return whether the help sheet lies on top."""
        return self._pages.currentWidget() is self._help

    def show_help(self) -> None:
        """Lay the help sheet on top, or take it away again."""
        if self.shows_help:
            self.edges.turn_to(0)
        else:
            self.page.put_readings_away()
            self.edges.let_go()
            self._pages.setCurrentWidget(self._help)
            self._help.setFocus()

    def save_picture(self) -> None:
        """Write what the window shows as a PNG where the user says."""
        self.files.save_picture(self.grab())

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Leave the help sheet with Escape; swap the views with a space bar nothing else had a use for."""
        if event.key() == Qt.Key.Key_Escape and self.shows_help:
            self.edges.turn_to(0)
        elif event.key() == Qt.Key.Key_Space and self.page.sheet.isVisible():
            self.page.views.swap()
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Ask about work that was not saved; then end the worker."""
        if not (self.files.may_leave() and self.record_holder.may_leave()):
            event.ignore()
            return
        self.files.leave()
        self.keeper.leave()
        self.judge.stop()
        self.record_holder.leave()
        self.lesson.leave()
        self.beside_holder.leave()
        event.accept()

    def _listen(self) -> None:
        self.edges.turned.connect(lambda _page: self.page.put_readings_away())
        self.edges.turned.connect(self._pages.setCurrentIndex)
        self.seeing.theme_changed.connect(self._take_theme)
        for teller in (
            self.door, self.files, self.seeing, self.verdicts, self.starts, self.keeper, self.edits,
            self.paper, self.record_holder, self.lesson.desk,
        ):  # fmt: skip
            teller.told.connect(self.page.say)
        self._drops.told.connect(self.page.say)
        self.starts.form_wanted.connect(self._lay_over)
        self.starts.underlay_wanted.connect(self.page.flat.set_underlay)
        self.page.start_asked.connect(self._start)
        self.page.form_asked.connect(self.starts.form_for)
        self.record_holder.sheet_wanted.connect(self._inspect_sheet)
        self.door.changed.connect(lambda _: self._inspect_sheet() if self.record_holder.isVisible() else None)
        self._pointer.held.connect(self.judge.set_hold)
        self.files.opened.connect(self.verdicts.forget)
        # a form is about the bracket it was laid over
        self.files.opened.connect(self.page.sheet.take_away)
        for desk in (self.files, self.lesson.desk):
            desk.settling.connect(lambda: take_typing(self))
        for noter in (self.lesson.desk, self.seeing):
            noter.noted.connect(self.page.note)
        self.lesson.desk.file_of = lambda: self.files.path
        self.files.named.connect(self._name)
        self.verdicts.judged.connect(self.keeper.keep)
        self.verdicts.results_changed.connect(lambda results, _state: self._help.set_results(results))
        self.door.saved_or_not.connect(self._name)

    def _take_file(self, path: Path) -> None:
        kind = kind_of(path)
        if kind == "bracket" and self.record_holder.isVisible():
            self.record.open_path(path)
        elif kind == "bracket" and self.beside_holder.isVisible():
            self.beside.add_path(path)
        else:
            self.edges.turn_to(0)
            takes = {
                "bracket": self.files.open_path,
                "drawing": self.starts.take_outline_of,
                "photograph": self.starts.square_photograph,
            }
            takes[kind](path)

    def _inspect_sheet(self) -> None:
        self.record.look_at_sheet(self.door.bracket, self.files.path, self.verdicts.file_findings)

    def _make_beside(self) -> SideBySidePage:
        from app.window.side_by_side_page import SideBySidePage

        def folder() -> Path:
            return Path.home() if self.files.path is None else self.files.path.parent

        painting = self.page.mounted.painting
        return SideBySidePage(
            self.door, self.verdicts, self.seeing, self._asks, painting, folder, self._beside
        )

    def _start(self, way: str) -> None:
        if way == "open":
            self.files.open()
        else:
            self._menus.offer("new.stock")

    def _lay_over(self, form: Form) -> None:
        self.page.put_readings_away()
        form.left.connect(self.page.sheet.take_away)
        self.seeing.theme_changed.connect(form.set_theme)
        self.page.sheet.lay_over(form)

    def _name(self) -> None:
        changed = ", changed" if self.door.has_unsaved_work else ""
        self.setWindowTitle(f"{self.files.name}{changed}")

    def _take_theme(self, theme: Theme) -> None:
        program = QApplication.instance()
        if isinstance(program, QApplication):
            dress(program, theme)
        self.edges.set_theme(theme)
        self._frame.set_theme(theme)
        self._help.set_theme(theme)
        self.record_holder.set_theme(theme)
        self.lesson.set_theme(theme)
        self.beside_holder.set_theme(theme)
        self.page.set_theme(theme)
