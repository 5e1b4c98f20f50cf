"""The help sheet: what to do first, the words, what was assumed, the cautions, and every key."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QTextBrowser, QWidget

from app.cautions import CAUTIONS
from app.theme import Theme
from app.window.action import Action
from app.window.worded import worded
from app.wording.trade_words import TRADE_WORDS
from solver.assumptions import NOT_COMPUTED
from solver.results import Results

_FIRST: Final = (
    "Say where the casing's bosses are: the spacings as callipers give them will do.",
    "Say how the casing is clocked about the shaft, what else holds the column, and where the dash bar runs.",
    "Draw the plate flat, or begin from a stock shape; a hole made on a boss is bolted to it at once.",
    "Draw fold lines across it, and stand it by two of its holes: this on that boss, that on the bar.",
    "Fill the blanks that the title block counts; the verdict comes by itself whenever you pause.",
    "Saw the plate in two and watch the stamp; undo it, or keep both.",
)


class HelpPage(QTextBrowser):
    """Reads as a page of its own; made anew for another look or another result."""

    def __init__(self, table: Sequence[Action], theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._table, self._theme = tuple(table), theme
        self._results: Results | None = None
        self.setOpenLinks(False)
        self.setFrameShape(QTextBrowser.Shape.NoFrame)
        self.setAccessibleName(worded("Help: words, assumptions, cautions and keys"))
        self.document().setDocumentMargin(28)
        self._write()

    def set_theme(self, theme: Theme) -> None:
        """Write in another look."""
        self._theme = theme
        self._write()

    def set_results(self, results: Results | None) -> None:
        """Write what these results rest on."""
        self._results = results
        self._write()

    def _write(self) -> None:
        look = self._theme
        place = self.verticalScrollBar().value()
        self.setHtml(
            f"<body style='color:{look.ink}'><h2>What to do first</h2><ol>{_items(_FIRST)}</ol>"
            f"<h2>Cautions</h2><ul>{_items(CAUTIONS)}</ul>"
            f"<h2>Words</h2>{_rows(TRADE_WORDS)}"
            f"<h2>What this verdict takes for granted</h2>{self._assumptions()}"
            f"<h2>What is not computed</h2><ul>{_items(NOT_COMPUTED)}</ul>"
            f"<h2>Keys</h2>{_rows(_keys(self._table))}</body>"
        )
        self.verticalScrollBar().setValue(place)

    def _assumptions(self) -> str:
        if self._results is None:
            return "<p>Nothing has been worked out yet: the list comes with the first figures.</p>"
        marked = "".join(f"<li><b>{escape(text)}</b></li>" for text in self._results.flagged)
        return f"<ul>{marked}{_items(self._results.assumptions)}</ul>"


_OTHER_KEYS: Final = (
    ("Tab", "Go to the next part of the sheet, list or number"),
    ("Alt", "Go to the menus"),
    ("Esc", "Let go of a gesture, a form or a number that is being typed"),
)


def _keys(table: Sequence[Action]) -> list[tuple[str, str]]:
    named = [
        (QKeySequence(row.key).toString(QKeySequence.SequenceFormat.NativeText), f"{row.menu}: {row.words}")
        for row in table
        if row.key
    ]
    return [*named, ("Ctrl+Z", "Undo, without limit"), ("Ctrl+Shift+Z", "Redo"), *_OTHER_KEYS]


def _items(sentences: Sequence[str]) -> str:
    return "".join(f"<li>{escape(sentence)}</li>" for sentence in sentences)


def _rows(pairs: Sequence[tuple[str, str]]) -> str:
    lines = "".join(
        f"<tr><td style='padding-right:18px'><b>{escape(left)}</b></td><td>{escape(right)}</td></tr>"
        for left, right in pairs
    )
    return f"<table cellpadding='2'>{lines}</table>"
