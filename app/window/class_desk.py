"""What a trainer takes to the class, written from the Lesson page or from the menus."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from app.window.action import Choice
from app.window.background import Background
from app.window.door import Door
from app.window.leaf_asks import LeafAsks
from app.window.seeing import Seeing
from app.window.verdict_flow import VerdictFlow
from geometry.bracket import Bracket
from geometry.bracket_file import SUFFIX

if TYPE_CHECKING:
    from app.lesson.turned import Turned


class ClassDesk(QObject):
    """Asks where to, writes in the background, and says in one sentence what came of it."""

    told = Signal(str)
    """What went wrong."""
    noted = Signal(str)
    """What is being written, and what was."""
    settling = Signal()
    """What is being typed is to be taken before anything is written."""

    def __init__(
        self,
        door: Door,
        verdicts: VerdictFlow,
        seeing: Seeing,
        turned: Callable[[Bracket], Turned | None],
        over: QWidget,
    ) -> None:
        """`turned` gives a bracket's plate along the shaft, with its results where it was judged."""
        super().__init__(over)
        self._door, self._verdicts, self._seeing = door, verdicts, seeing
        self._turned, self._over = turned, over
        self._work = Background(self)
        self._work.done.connect(lambda told: self.noted.emit(str(told)))
        self.asks = LeafAsks()
        self.file_of: Callable[[], Path | None] = lambda: None
        """The file of the bracket on the sheet; None where it was never saved."""

    @property
    def busy(self) -> bool:
        """Return whether something is being written."""
        return self._work.busy

    def choices(self) -> list[Choice]:
        """Return what can be written."""
        from app.window.lesson_papers import FOR_CLASS

        return [Choice(one.words, one.ending) for one in FOR_CLASS]

    def write(self, ending: str) -> None:
        """Write what has that ending where the user says."""
        from app.window.lesson_papers import FOR_CLASS, Asked, ink_of, why_not, writing

        self.settling.emit()
        one = next(paper for paper in FOR_CLASS if paper.ending == ending)
        bracket = self._door.bracket
        results = ink_of(self._verdicts.results, bracket)
        if trouble := why_not(one, bracket, results):
            self.told.emit(trouble)
            return
        file = self.file_of() or Path.home() / f"{(bracket.title or 'bracket').replace('/', '-')}{SUFFIX}"
        suggested = file.with_name(f"{file.name.removesuffix(SUFFIX)} {one.ending}")
        path = self.asks.where_to_put_lesson(self._over, suggested)
        if path is None:
            return
        self.noted.emit(self.tr("Writing\u2026"))
        asked = Asked(
            one, bracket, results, self._turned(bracket), file.name, self._seeing.theme, self._seeing.inch
        )
        self._work.begin(writing(asked, path))

    def leave(self) -> None:
        """Let what is being written be written."""
        self._work.leave()
