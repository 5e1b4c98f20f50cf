"""A judge that works nothing out by itself: what it is given is what it tells."""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import QObject, Signal

from geometry.bracket import Bracket


class StillJudge(QObject):
    """Stands in for the judge where results come from elsewhere, such as in pictures."""

    progressed = Signal(str, float)
    pencil = Signal(object)
    ink = Signal(object)
    quick = Signal(object)
    failed = Signal(str)
    out_of_date = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.asked: list[Bracket] = []
        """Every bracket it was given, newest last."""
        self.pauses = 0
        self.trials: list[tuple[tuple[str, ...], tuple[str, ...]]] = []

    def set_bracket(self, bracket: Bracket) -> None:
        """Note the bracket."""
        self.asked.append(bracket)

    def hold(self) -> None:
        """Note that a gesture is in progress."""
        self.pauses += 1

    def follow(self, bracket: Bracket) -> None:
        """Answer nothing."""

    def set_trial(self, *, out: Collection[str] = (), slipped: Collection[str] = ()) -> None:
        """Note what is tried."""
        self.trials.append((tuple(out), tuple(slipped)))

    def set_hold(self, held: bool) -> None:
        """Hold nothing."""

    def drop(self) -> None:
        """There is nothing to stop."""

    def start(self) -> None:
        """There is nothing to get ready."""

    def stop(self) -> None:
        """There is nothing to end."""
