"""A whole window for tests: no worker, no dialogs, data kept in a folder of its own."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Signal
from pytestqt.qtbot import QtBot

from app.files.settings import Settings
from app.record.profile import Profile
from app.record.record import Record
from app.window.asks import Asks, Leaving
from app.window.main_window import MainWindow
from app.window.still_judge import StillJudge
from geometry.bracket import Bracket
from geometry.finding import Finding


class Answers(Asks):
    """Answers every question of the window as the test said it would."""

    def __init__(self) -> None:
        self.open: Path | None = None
        self.save: Path | None = None
        self.leaving: Leaving = "leave"
        self.agreed = False
        self.named = ""
        self.asked: list[str] = []

    def bracket_to_open(self, folder: Path) -> Path | None:
        return self.open

    def drawing_to_open(self, folder: Path) -> Path | None:
        return self.open

    def photograph_to_open(self, folder: Path) -> Path | None:
        return self.open

    def where_to_save(self, suggested: Path) -> Path | None:
        self.asked.append(f"save as {suggested.name}")
        return self.save

    def where_to_put_picture(self, suggested: Path) -> Path | None:
        return self.save

    def photographs_to_take(self, folder: Path) -> list[Path]:
        return [] if self.open is None else [self.open]

    def profile_to_open(self, folder: Path) -> Path | None:
        return self.open

    def record_to_open(self, folder: Path) -> Path | None:
        return self.open

    def where_to_save_record(self, suggested: Path) -> Path | None:
        self.asked.append(f"save record as {suggested.name}")
        return self.save

    def where_to_put_page(self, suggested: Path) -> Path | None:
        self.asked.append(f"page {suggested.name}")
        return self.save

    def where_to_put_report(self, suggested: Path) -> Path | None:
        self.asked.append(f"report {suggested.name}")
        return self.save

    def list_to_open(self, folder: Path) -> Path | None:
        return self.open

    def where_to_put_list(self, suggested: Path) -> Path | None:
        self.asked.append(f"list {suggested.name}")
        return self.save

    def where_to_put_cut(self, suggested: Path) -> Path | None:
        self.asked.append(f"cut {suggested.name}")
        return self.save

    def leave_unsaved(self, title: str) -> Leaving:
        self.asked.append(f"leave {title}")
        return self.leaving

    def agree(self, question: str, yes: str, no: str) -> bool:
        self.asked.append(question)
        return self.agreed

    def name(self, question: str, suggested: str) -> str:
        return self.named or suggested


class StillInspector(QObject):
    """Computes nothing by itself for the record; what the test gives it is what it tells."""

    judged = Signal(object)
    progressed = Signal(str, float)

    def __init__(self) -> None:
        super().__init__()
        self.asked: list[tuple[Bracket, Record, Profile]] = []

    def judge(
        self, bracket: Bracket, record: Record, profile: Profile, file_findings: tuple[Finding, ...]
    ) -> None:
        self.asked.append((bracket, record, profile))

    def stop(self) -> None:
        pass


@contextmanager
def window_shown(qtbot: QtBot, *, look: str = "paper") -> Iterator[tuple[MainWindow, Answers, StillJudge]]:
    """Yield a window with an empty sheet, the answers it will get, and its judge."""
    judge, answers = StillJudge(), Answers()
    window = MainWindow(Settings.model_validate({"look": look}), judge, answers, StillInspector())
    window.resize(1280, 720)
    window.show()
    window.verdicts.begin()
    try:
        yield window, answers, judge
    finally:
        answers.leaving = "leave"
        window.close()
        window.deleteLater()
        # now, or the next window's look is put on this one too
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
