"""The left of the lesson's board: the bracket with its linkage in motion, or two brackets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.lesson.bare_results import bare_results
from app.lesson.figures import CoupleFigures
from app.lesson.linkage_drawing import LinkageDrawing, linkage_drawing
from app.lesson.loosened import motions_of
from app.lesson.step import Step
from app.lesson.turned import Turned
from app.mounted.stands import Stand
from app.theme import Theme
from app.window.lesson_standing import LessonStanding
from app.window.lesson_view import LessonView
from app.window.mounted_painting import Painting
from app.window.turned_pair import TurnedPair
from geometry.bracket import Bracket
from solver.results import FreeMotion, Results

_STANDS: Final[tuple[Stand, ...]] = ("from the driver", "aslant", "from the side")


@dataclass(frozen=True, eq=False)
class Pictured:
    """What a standing of the lesson shows of a bracket."""

    bracket: Bracket
    """The open one, or the one a revealed answer speaks of."""
    motions: tuple[FreeMotion, ...]
    """All that can move in it with the bolts as they are tried."""
    number: int | None
    """Which of them is shown; None where nothing moves freely."""
    drawing: LinkageDrawing | None
    """The linkage over it, if that is wanted."""

    @property
    def motion(self) -> FreeMotion | None:
        """Return the free motion that is shown; None for none."""
        return None if self.number is None else self.motions[self.number]


class Picturing:
    """Works out what is pictured; what can move is worked out once for each picture."""

    def __init__(self) -> None:
        self._asked: object = None
        self._motions: tuple[FreeMotion, ...] = ()

    def of(self, bracket: Bracket, step: Step | None, shown: LessonStanding) -> Pictured:
        """Return what a standing shows."""
        if step is not None and shown.revealed and step.shows == "sawn" and step.bracket is not None:
            bracket = step.bracket
        loose = shown.trial.loosened if shown.friction else None
        asked = (bracket.input_hash(), loose, shown.trial.out)
        if self._asked != asked:
            self._asked, self._motions = asked, motions_of(bracket, loose=loose, out=shown.trial.out)
        motions = self._motions
        number = shown.motion % len(motions) if motions else None
        moving = None if number is None else motions[number]
        drawing = linkage_drawing(bracket, moving) if shown.linkage else None
        return Pictured(bracket, motions, number, drawing)


class LessonPicture(QWidget):
    """Draws what it is told; it decides nothing."""

    def __init__(self, theme: Theme, painting: Painting) -> None:
        super().__init__()
        self._theme, self._painting, self._times = theme, painting, 1.0
        self._stand: int | None = None
        """None while it was not stood anywhere yet."""
        self._last: tuple[object, ...] = (None,) * 4
        """Bracket, results, free motion and load case in the picture: drawing them anew takes time."""
        self.view = LessonView(self, painting)
        self.pair: TurnedPair | None = None
        """Made when the turned plate is first revealed."""
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.addWidget(self.view)

    def stand_first(self) -> None:
        """Look from where a linkage is seen best, unless somebody looks already."""
        if self._stand is None:
            self.stand_next()

    def stand_next(self) -> None:
        """Look from the next of the stands that show a linkage."""
        self._stand = 0 if self._stand is None else (self._stand + 1) % len(_STANDS)
        self.view.stand(_STANDS[self._stand])

    def show_pictured(
        self, pictured: Pictured, known: Results | None, step: Step | None, *, revealed: bool, friction: bool
    ) -> None:
        """Show the bracket: its free motion if it has one, else how it bends once that is revealed.

        Without friction it bends as it does with every bolt slipped.
        """
        view, bracket, moving = self.view, pictured.bracket, pictured.motion
        own = known if known is not None and known.hash == bracket.input_hash() else None
        case = step.case if step is not None and revealed else None
        if case is None and not friction and own is not None:
            case = _most_slipped(own)
        picture = (bracket, own, moving, case)
        if not all(one is last for one, last in zip(picture, self._last, strict=True)):
            self._last = picture
            results = own if moving is None else bare_results(bracket, pictured.motions)
            view.show_lesson(bracket, results, pictured.number, case)
        asks = step is not None and not revealed and moving is None
        view.set_exaggeration(0.0 if asks else None)
        view.play(on=moving is not None or (revealed and own is not None))
        view.set_linkage(pictured.drawing)

    def set_inch(self, inch: bool) -> None:
        """Tell figures in inches and pounds too."""
        self.view.set_inch(inch)

    def show_couple(self, figures: CoupleFigures, *, forces: bool) -> None:
        """Draw the couple, and unless forces are what is asked the arm with who stands at its end."""
        self.view.set_couple(figures, forces=forces)

    def show_pair(self, bracket: Bracket, own: Results, turned: Turned) -> None:
        """Show the open bracket and the turned one in place of the picture."""
        if self.pair is None:
            self.pair = TurnedPair(self._theme, self._painting)
            self.pair.set_big(self._times)
            self._row.addWidget(self.pair)
        self.view.hide()
        self.pair.show()
        self.pair.show_pair(bracket, own, turned)

    def show_one(self) -> None:
        """Show the picture of one bracket."""
        if self.pair is not None and not self.pair.isHidden():
            self.pair.rest()
            self.pair.hide()
        self.view.show()

    def set_big(self, times: float) -> None:
        """Write everything so many times as large."""
        self._times = times
        self.view.set_scale(times)
        if self.pair is not None:
            self.pair.set_big(times)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.view.set_theme(theme)
        if self.pair is not None:
            self.pair.set_theme(theme)


def _most_slipped(results: Results) -> int | None:
    """Return the load case that moves it most with every bolt slipped; None if none was solved."""
    slipped = [i for i, case in enumerate(results.cases) if case.state == "all slipped"]
    return max(slipped, key=lambda i: results.cases[i].movement_mm, default=None)
