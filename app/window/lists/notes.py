"""The notes of the sheet: numbered sentences whose numbers are edited in place."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.lists.caption import Caption
from app.window.lists.entries import Entries
from app.window.lists.field import Drafts, Line, Path
from app.window.lists.field_edit import FieldEdit
from app.window.lists.note_lines import note_lines
from app.window.lists.scrolled import Scrolled, draw_frame
from app.window.lists.sentence import Sentence
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.results import QuickAnswer, Results


class Notes(QFrame):
    """What the result rests on, to be read as on any drawing and typed over."""

    def __init__(
        self,
        door: Door,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        lines: Callable[[Bracket, Drafts], tuple[Line, ...]] = note_lines,
        caption: str = "",
    ) -> None:
        super().__init__(parent)
        self._door, self._theme, self._lines = door, theme, lines
        self._entries = Entries(door, self)
        self._sentences: list[Sentence] = []
        self._caption = Caption(caption or self.tr("notes"), theme)
        self._scroll = Scrolled()
        self._column = self._scroll.column
        self._column.setContentsMargins(0, 0, 4, 2)
        self._column.setSpacing(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(6, 3, 3, 3)
        whole.setSpacing(2)
        whole.addWidget(self._caption)
        whole.addWidget(self._scroll, 1)
        self.setAccessibleName(self.tr("Notes"))
        self._entries.drafted.connect(lambda: self._show(door.bracket))
        door.opened.connect(self._begin_anew)
        door.changed.connect(self._show)
        self.set_theme(theme)
        self._show(door.bracket)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self._scroll.set_theme(theme)
        self._caption.set_theme(theme)
        for sentence in self._sentences:
            sentence.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Show inch figures, and take bare numbers for them."""
        self._entries.inch = inch
        self._show(self._door.bracket)

    def set_findings(self, findings: Sequence[Finding]) -> None:
        """Say at each cell what was found about what stands in it."""
        self._entries.set_findings(findings)

    def set_results(self, results: Results | None, state: str) -> None:
        """Take results; notes say what goes in, so nothing here depends on them."""

    def set_quick(self, answer: QuickAnswer | None) -> None:
        """Take a quick answer; nothing here depends on it."""

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for five short lines."""
        return QSize(self.fontMetrics().averageCharWidth() * 64, self.fontMetrics().height() * 8)

    def go_to(self, path: Path) -> bool:
        """Put the focus into the field of a path and bring it into view; return whether it is here."""
        for sentence in self._sentences:
            edit = sentence.edit_at(path)
            if edit is not None:
                edit = _first_empty(sentence.edits, edit)
                edit.setFocus(Qt.FocusReason.OtherFocusReason)
                self._scroll.ensureWidgetVisible(sentence, 0, 4)
                return True
        return False

    @property
    def sentences(self) -> list[Sentence]:
        """Return the notes in order."""
        return self._sentences

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the frame."""
        draw_frame(self, self._theme)

    def _show(self, bracket: Bracket) -> None:
        lines = self._lines(bracket, self._entries.drafts)
        old = {sentence.line.key: sentence for sentence in self._sentences}
        self._sentences = []
        for place, line in enumerate(lines):
            sentence = old.pop(line.key, None)
            if sentence is None:
                sentence = Sentence(self._entries, line, self._theme)
                sentence.reached.connect(self._bring_into_view)
            else:
                sentence.show_line(line)
            self._column.insertWidget(place, sentence)
            self._sentences.append(sentence)
        for gone in old.values():
            self._column.removeWidget(gone)
            gone.take_away()
        _in_order(self._sentences)

    def _begin_anew(self) -> None:
        """Drop every sentence with what was refused in it."""
        for sentence in self._sentences:
            self._column.removeWidget(sentence)
            sentence.take_away()
        self._sentences = []

    def _bring_into_view(self) -> None:
        sentence = self.sender()
        if isinstance(sentence, QWidget):
            self._scroll.ensureWidgetVisible(sentence, 0, 4)


def _first_empty(edits: list[FieldEdit], wanted: FieldEdit) -> FieldEdit:
    """Return the first empty field of a part that is not there yet, where the one wanted is filled."""
    path = wanted.field.path
    if "+" not in path or wanted.field.value is None:
        return wanted
    mates = [edit for edit in edits if edit.field.path[: len(path) - 1] == path[:-1]]
    return next((edit for edit in mates if edit.field.value is None), wanted)


def _in_order(sentences: list[Sentence]) -> None:
    edits = [edit for sentence in sentences for edit in sentence.edits]
    for before, after in itertools.pairwise(edits):
        QWidget.setTabOrder(before, after)
