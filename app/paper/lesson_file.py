"""The lesson's papers as PDF files: the entrance the command line and the window share."""

from __future__ import annotations

from pathlib import Path
from typing import Final, Literal

from app.files.files_error import reason_of
from app.paper.job import PaperJob
from app.paper.lesson import handout_pages, question_pages
from app.paper.page import Page
from app.paper.pdf import PaperError, pdf_bytes, ready, width_mm
from geometry.file_replacing import replace_file

LessonSheet = Literal["handout", "questions", "answers"]
_TITLES: Final[dict[LessonSheet, str]] = {
    "handout": "Hand-out",
    "questions": "Questions",
    "answers": "Questions, with answers",
}


def lesson_pages(job: PaperJob, sheet: LessonSheet) -> tuple[Page, ...]:
    """Return the pages of a sheet."""
    ready()
    if sheet == "handout":
        return handout_pages(job, width_mm)
    return question_pages(job, width_mm, answers=sheet == "answers")


def write_lesson(job: PaperJob, sheet: LessonSheet, path: Path) -> None:
    """Write the PDF of a sheet; PaperError if it cannot be made or written, and then nothing is changed."""
    content = pdf_bytes(lesson_pages(job, sheet), f"{_TITLES[sheet]}: {job.title}")
    try:
        replace_file(path, content, keep_previous=False)
    except (OSError, ValueError) as error:
        raise PaperError(
            f"{path} cannot be written ({reason_of(error)}): make room there, or name a file elsewhere."
        ) from error
