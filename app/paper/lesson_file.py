"""The lesson's papers as PDF files: the entrance the command line and the window share."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from app.files.named_file import write_named
from app.paper.job import PaperJob
from app.paper.lesson import handout_pages, question_pages
from app.paper.page import Page
from app.paper.paper_names import LessonSheet
from app.paper.pdf import PaperError, pdf_bytes, ready, width_mm

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
    write_named(path, pdf_bytes(lesson_pages(job, sheet), f"{_TITLES[sheet]}: {job.title}"), PaperError)
