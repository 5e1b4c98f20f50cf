"""What a trainer takes to the class: hand-out, questions, a motion that moves or as a strip."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from app.files.files_error import FilesError
from app.files.named_file import write_named
from app.lesson.loosened import motions_of
from app.lesson.motion_pictures import MotionAsked, MotionError, motion_file
from app.lesson.turned import Turned
from app.paper.job import PaperJob
from app.paper.lesson_file import write_lesson
from app.paper.paper_names import LessonSheet
from app.paper.pdf import PaperError
from app.paper.pdf_dates import today
from app.theme import Theme
from app.window.background import Job, Stopped
from geometry.bracket import Bracket
from solver.results import Results

NO_INK: Final = "The verdict in ink is not there yet: wait for it, so that what is handed out is what is so."


@dataclass(frozen=True)
class ForClass:
    """One thing that can be written."""

    words: str
    ending: str
    """Of the suggested name, with the suffix."""
    sheet: LessonSheet | None = None
    """None for a motion."""


FOR_CLASS: Final = (
    ForClass("Hand-out, two pages\u2026", "hand-out.pdf", "handout"),
    ForClass("Question sheet\u2026", "questions.pdf", "questions"),
    ForClass("Question sheet with answers\u2026", "answers.pdf", "answers"),
    ForClass("Motion, as GIF\u2026", "motion.gif"),
    ForClass("Motion, as a strip for paper\u2026", "strip.png"),
)


@dataclass(frozen=True, eq=False)
class Asked:
    """What is to be written, and of what."""

    one: ForClass
    bracket: Bracket
    results: Results | None
    turned: Turned | None
    file: str
    """Name of the bracket's file, without folders."""
    theme: Theme
    inch: bool


def why_not(one: ForClass, bracket: Bracket, results: Results | None) -> str:
    """Return why it cannot be written yet, in a sentence; empty if it can."""
    if results is None and (one.sheet is not None or not motions_of(bracket)):
        return NO_INK
    return ""


def ink_of(results: Results | None, bracket: Bracket) -> Results | None:
    """Return the results if they are this bracket's and in ink; else None."""
    own = results is not None and results.hash == bracket.input_hash()
    return results if own and results is not None and results.accuracy.refined else None


def writing(asked: Asked, path: Path) -> Job:
    """Return the job that writes it; it answers with a sentence."""

    def job(_stopped: Stopped, _tell: Callable[[object], None]) -> object:
        try:
            if asked.one.sheet is not None:
                write_lesson(_job(asked), asked.one.sheet, path)
            else:
                write_named(
                    path,
                    motion_file(asked.bracket, asked.results, MotionAsked(), asked.theme, path.suffix),
                )
        except (PaperError, FilesError, MotionError) as error:
            words = str(error).rstrip(".")
            return f"{words[:1].upper()}{words[1:]}."
        return f"Written to {path}."

    return job


def _job(asked: Asked) -> PaperJob:
    return PaperJob(
        bracket=asked.bracket,
        file=asked.file,
        date=today(),
        paper="Letter" if asked.inch else "A4",
        results=asked.results,
        units="inch" if asked.inch else "mm",
        turned=asked.turned,
    )
