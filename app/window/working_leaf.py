"""What leaves share whose work goes on in a thread: words to press, one sentence, one job at a time."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from app.theme import Theme
from app.window.background import Background
from app.window.lists.caption import Link
from app.window.said_line import SaidLine


class WorkingLeaf(QWidget):
    """A leaf of a page; what it works out leaves the bracket on the sheet as it is."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._work = Background(self)
        self._links: list[Link] = []
        self.said = SaidLine(theme)

    @property
    def busy(self) -> bool:
        """Return whether something is being worked out."""
        return self._work.busy

    def leave(self) -> None:
        """End what goes on in the background."""
        self._work.leave()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for link in self._links:
            link.set_theme(theme)
        self.said.set_theme(theme)

    def link(self, words: str, do: Callable[[], object]) -> Link:
        """Return words that do something when they are pressed."""
        made = Link(words, self._theme)
        made.clicked.connect(lambda _=False: do())
        self._links.append(made)
        return made
