"""The title block: the verdict as a stamp, what governs, the fields of ISO 7200, work in progress."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.cautions import BESIDE_THE_STAMP, CAUTIONS
from app.theme import Theme
from app.window.door import Door
from app.window.lists.blanks import Blanks
from app.window.lists.caption import Caption, Lines, Link, plain_tip, small
from app.window.lists.entries import Entries
from app.window.lists.field import Field
from app.window.lists.field_edit import FieldEdit
from app.window.lists.progress_line import ProgressLine
from app.window.lists.reading_panel import ReadingPanel, sections
from app.window.lists.stamp import Stamp
from app.window.lists.standing import Standing, State, standing_of
from app.wording.figures import Units, sentence_in_units
from app.wording.turn_words import turn_words
from geometry.bracket import Bracket
from solver.results import QuickAnswer, Results
from solver.version import VERSION


class TitleBlock(QFrame):
    """Says how the bracket stands, and of which sheet that is said."""

    stop_asked = Signal()
    start_asked = Signal()
    jump = Signal(object)
    """The path of a blank to go to."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._door, self._theme = door, theme
        self._entries = Entries(door, self)
        self._units: Units = "mm"
        self._results: Results | None = None
        self._state: State = "none"
        self._quick: QuickAnswer | None = None
        self._standing = standing_of(None, "none")
        self.stamp = Stamp(theme)
        self.blanks = Blanks(door, theme)
        self.blanks.jump.connect(self.jump)
        self.progress = ProgressLine(theme)
        self.progress.stop_asked.connect(self.stop_asked)
        self.progress.start_asked.connect(self.start_asked)
        self.panel = ReadingPanel(theme)
        self._words = _label(centred=True)
        self._governs = Lines(theme)
        self._reason = Lines(theme)
        self._why = Link(self.tr("why"), theme)
        self._why.clicked.connect(self.read_all)
        self._looser = Link("", theme)
        self._looser.clicked.connect(self.read_all)
        self.title = FieldEdit(self._entries, _title_field(door.bracket), theme)
        self.title.refused.connect(door.tell)
        self._drawn, self._saved, self._version = (_label(wrapped=False) for _ in range(3))
        self._captions = {
            name: Caption(words, theme)
            for name, words in (
                ("governs", self.tr("governs")),
                ("why", self.tr("why")),
                ("title", self.tr("title")),
                ("drawn", self.tr("drawn")),
                ("saved", self.tr("sheet")),
                ("version", self.tr("program")),
                ("blanks", self.tr("before a verdict")),
            )
        }
        self._lay_out()
        self.set_drawn(date.today().isoformat())
        self._version.setText(VERSION)
        door.changed.connect(lambda bracket: self.title.show_field(_title_field(bracket)))
        door.saved_or_not.connect(self._tell_saved)
        self._tell_saved(door.has_unsaved_work)
        self.setAccessibleName(self.tr("Title block"))
        self.set_theme(theme)
        self._show()

    @property
    def standing(self) -> Standing:
        """Return what is said now."""
        return self._standing

    @property
    def saved_words(self) -> str:
        """Return what is said of whether the sheet is saved."""
        return self._saved.text()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for part in (self.stamp, self.blanks, self.progress, self.panel):
            part.set_theme(theme)
        captions: tuple[Caption, ...] = tuple(self._captions.values())
        for caption in captions:
            caption.set_theme(theme)
        self.title.set_theme(theme)
        for link in (self._why, self._looser):
            link.set_theme(theme)
        self._show()
        self.update()

    def set_inch(self, inch: bool) -> None:
        """Show inch figures beside the metric ones."""
        self._units = "inch" if inch else "mm"
        self._show()

    def set_drawn(self, when: str) -> None:
        """Show when the sheet was drawn."""
        self._drawn.setText(when)

    def set_results(self, results: Results | None, state: State) -> None:
        """Show results; `state` is pencil, ink, out of date or none."""
        self._results, self._state, self._quick = results, state, None
        self.progress.set_out_of_date(state in ("out of date", "none"))
        self._show()

    def set_quick(self, answer: QuickAnswer | None) -> None:
        """Show a quick answer, in pencil, until results or None come."""
        self._quick = answer
        self.progress.set_out_of_date(answer is None and self._state in ("out of date", "none"))
        self._show()

    def set_progress(self, words: str, share: float | None) -> None:
        """Show what is being worked on and how far it is; None as the share takes it away."""
        self.progress.show_progress(words, share)

    def read_all(self) -> None:
        """Lay everything the verdict rests on over the window: why, what is looser, assumptions, cautions."""
        self.panel.lay_over(self.window(), self._heading(), self._body())

    def _body(self) -> str:
        told, results = self._standing, self._results
        parts = [(self.tr("Why"), told.reasons), (self.tr("Looser than the default"), told.looser)]
        if results is not None:
            rest = tuple(
                sentence_in_units(text, self._units)
                for text in results.assumptions
                if text not in results.flagged
            )
            if results.turn_shares:
                parts.append((self.tr("What the turn comes from"), (f"{turn_words(results)}.",)))
            parts += [(self.tr("It rests on"), rest), (self.tr("Not computed"), results.not_computed)]
        parts.append((self.tr("Cautions"), CAUTIONS))
        return sections(parts)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the stamp and its sentence."""
        return QSize(self.fontMetrics().averageCharWidth() * 60, self.fontMetrics().height() * 10)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the frame and the ruling between the fields."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.ground))
        painter.setPen(QPen(QColor(self._theme.ink), 2))
        painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.setPen(QPen(QColor(self._theme.ink), 1))
        left = self._right.geometry().left() - 4
        painter.drawLine(left, 0, left, self.height())
        painter.setPen(QPen(QColor(self._theme.pencil), 0.8))
        for name in ("why", "title", "drawn"):
            top = self._captions[name].mapTo(self, self._captions[name].rect().topLeft()).y() - 2
            painter.drawLine(left, top, self.width(), top)
        row = self._captions["drawn"].mapTo(self, self._captions["drawn"].rect().topLeft()).y() - 2
        bottom = self._saved.mapTo(self, self._saved.rect().bottomLeft()).y() + 2
        for name in ("saved", "version"):
            x = self._captions[name].mapTo(self, self._captions[name].rect().topLeft()).x() - 6
            painter.drawLine(x, row, x, bottom)
        above = self._captions["blanks"].geometry().top() - 2
        painter.drawLine(0, above, left, above)

    def _lay_out(self) -> None:
        stamped = QVBoxLayout()
        stamped.setSpacing(2)
        stamped.addWidget(self.stamp, 0, Qt.AlignmentFlag.AlignHCenter)
        stamped.addWidget(self._words, 1)
        stamped.addWidget(self._captions["blanks"])
        stamped.addWidget(self.blanks)
        heads = QHBoxLayout()
        heads.setSpacing(4)
        for widget in (self._captions["why"], self._looser, self._why):
            heads.addWidget(widget, 1 if widget is self._captions["why"] else 0)
        grid = QGridLayout()
        grid.setContentsMargins(4, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(2)
        grid.addWidget(self._captions["governs"], 0, 0, 1, 3)
        grid.addWidget(self._governs, 1, 0, 1, 3)
        grid.addLayout(heads, 2, 0, 1, 3)
        grid.addWidget(self._reason, 3, 0, 1, 3)
        grid.addWidget(self._captions["title"], 4, 0, 1, 3)
        grid.addWidget(self.title, 5, 0, 1, 3)
        small_fields = {
            "drawn": self._drawn,
            "saved": self._saved,
            "version": self._version,
        }
        for column, (name, field) in enumerate(small_fields.items()):
            grid.addWidget(self._captions[name], 6, column)
            grid.addWidget(field, 7, column)
        grid.setColumnStretch(2, 1)
        grid.setRowStretch(3, 1)
        grid.addWidget(self.progress, 8, 0, 1, 3)
        self._right = QWidget()
        self._right.setLayout(grid)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(6, 5, 6, 4)
        whole.addLayout(stamped, 2)
        whole.addWidget(self._right, 3)

    def _show(self) -> None:
        told = standing_of(self._results, self._state, self._quick, self._units)
        self._standing = told
        state = told.state if self._quick is None else "pencil"
        self.stamp.show_verdict(told.verdict, state)
        self._words.setText(told.words)
        look = f"color: {self._theme.pencil if told.pencil else self._theme.ink};"
        italic = " font-style: italic;" if told.state in ("pencil", "out of date") else ""
        self._words.setStyleSheet(look + italic)
        first = told.reasons[0] if told.reasons else ""
        self._governs.say(told.governs or self.tr("nothing yet"), self._theme, pencil=told.pencil)
        self._governs.setToolTip(plain_tip(told.governs))
        self._reason.say(first, self._theme, pencil=told.pencil)
        self._reason.setToolTip(plain_tip("\n".join(told.reasons[:6])))
        count = len(told.reasons)
        words = self.tr("read all") if count <= 1 else self.tr("all {0} reasons").replace("{0}", str(count))
        self._why.say(words, self.tr("Read why, and what it rests on"))
        self._looser.setVisible(bool(told.looser))
        self._looser.say(
            "\u25c6 " + self.tr("looser"), self.tr("Looser than the default: ") + "; ".join(told.looser)
        )
        self._looser.setToolTip(plain_tip("\n".join(told.looser)))
        for name in (self._drawn, self._saved, self._version):
            name.setStyleSheet(f"color: {self._theme.ink};")
        self.setAccessibleDescription(f"{self.stamp.told}. {told.words}. {told.governs}")
        # what is read there is of what stands here, never of what stood here before
        if not self.panel.isHidden():
            self.panel.rewrite(self._heading(), self._body())

    def _heading(self) -> str:
        told = self._standing
        if told.state == "ink" and told.verdict != "no verdict":
            return f"{told.verdict.upper()} {told.words}"
        words = told.words.removeprefix("no verdict").removeprefix(":").lstrip()
        return f"{self.stamp.told}: {words}"

    def _tell_saved(self, unsaved: bool) -> None:
        self._saved.setText(self.tr("not saved") if unsaved else self.tr("as saved"))


class CautionLine(QLabel):
    """The caution at the foot of every sheet."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(BESIDE_THE_STAMP, parent)
        self.setWordWrap(True)
        self.setToolTip(plain_tip("\n".join(CAUTIONS)))
        self.setAccessibleName(BESIDE_THE_STAMP)
        self.setFont(small(self.font()))
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(f"color: {theme.pencil};")


def _title_field(bracket: Bracket) -> Field:
    return Field((("title",),), "title", bracket.title, "words")


def _label(*, centred: bool = False, wrapped: bool = True) -> QLabel:
    made = QLabel()
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(wrapped)
    if centred:
        made.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
    return made
