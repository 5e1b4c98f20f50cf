"""An inspector that computes nothing by itself: pictures give it what was computed before."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from app.record.profile import Profile
from app.record.record import Record
from app.window.asks import Asks, Leaving
from geometry.bracket import Bracket
from geometry.finding import Finding


class NobodyAsked(Asks):
    """Answers where nobody can be asked: whatever lies there may go."""

    def leave_unsaved(self, title: str) -> Leaving:
        """Let it go."""
        return "leave"


def nobody_asked() -> Asks:
    """Return answers for a window that nobody sees."""
    return NobodyAsked(QWidget())


class StillInspection(QObject):
    """Knows what is wanted and waits."""

    judged = Signal(object)
    progressed = Signal(str, float)

    def judge(
        self, bracket: Bracket, record: Record, profile: Profile, file_findings: tuple[Finding, ...]
    ) -> None:
        """Compute nothing."""

    def stop(self) -> None:
        """End nothing."""
