"""What stands around the bracket: typed at the left, and how it stands at the right."""

from __future__ import annotations

import html
from typing import Final

from PySide6.QtCore import QSize, QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QTextBrowser

from app.theme import Theme
from app.window.door import Door
from app.window.forms.form import Form
from app.window.lists.around_note_lines import around_note_lines
from app.window.lists.notes import Notes
from app.window.worded import worded
from app.wording.around_words import STANDING_MARKS
from app.wording.figures import sentence_in_units
from solver.around.around import around
from solver.around.line import SECOND_OPINION, STANDINGS, AroundLine

_PAUSE_MS: Final = 150
_LEAST: Final = QSize(1100, 520)


class AroundForm(Form):
    """Every value is a step of the sheet at once; the form only shows them."""

    def __init__(self, door: Door, theme: Theme, *, inch: bool = False) -> None:
        super().__init__(worded("Around the bracket"), worded(SECOND_OPINION), worded("Close it"), theme)
        self._door, self._inch = door, inch
        # nothing waits to be done or left: every value is a step already
        self._leave.hide()
        self.notes = Notes(door, theme, lines=around_note_lines, caption=worded("what is there"))
        self.notes.set_inch(inch)
        self._told = QTextBrowser()
        self._told.setFrameShape(QFrame.Shape.NoFrame)
        self._told.setAccessibleName(worded("How it stands"))
        row = QHBoxLayout()
        row.addWidget(self.notes, 1)
        row.addWidget(self._told, 1)
        self.rows.addLayout(row, 1)
        # what it takes to work out is done once typing pauses
        self._pause = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._pause.timeout.connect(self._tell)
        door.changed.connect(self._change)
        self._tell()

    @property
    def told(self) -> str:
        """Return how everything stands, as it can be read at the right."""
        return self._told.toPlainText()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for both sides."""
        return _LEAST

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        super().set_theme(theme)
        if hasattr(self, "notes"):
            self.notes.set_theme(theme)
            self._tell()

    def is_done(self) -> bool:
        """Let it go: there is nothing left to do."""
        return True

    def _change(self) -> None:
        self._pause.start()

    def _tell(self) -> None:
        lines = around(self._door.bracket)
        groups = dict.fromkeys(line.group for line in lines)
        said = "".join(self._group(group, [x for x in lines if x.group == group]) for group in groups)
        style = f"color:{self._theme.ink}; background:{self._theme.ground};"
        self._told.setStyleSheet(f"QTextBrowser {{ {style} border: none; }}")
        self._told.setHtml(f'<body style="{style}">{said}</body>')

    def _group(self, group: str, lines: list[AroundLine]) -> str:
        rows = "".join(
            f"<tr><td><b>{STANDING_MARKS[line.standing]}</b>&nbsp;</td>"
            f"<td>{html.escape(self._words(line))}</td></tr>"
            for line in sorted(lines, key=lambda x: STANDINGS.index(x.standing))
        )
        return f"<p><b>{html.escape(group[0].upper() + group[1:])}</b></p><table>{rows}</table>"

    def _words(self, line: AroundLine) -> str:
        return sentence_in_units(f"{line.name}: {line.words}", "inch" if self._inch else "mm")
