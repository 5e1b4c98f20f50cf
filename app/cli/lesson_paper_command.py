"""`handout` and `questions`: a bracket's lesson as PDF."""

from __future__ import annotations

import datetime
import importlib
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

from app.cli.page import complain
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE
from app.files.near_names import missing_file_sentence
from app.report.judged_file import judge_file
from app.wording.figures import Units

if TYPE_CHECKING:
    from app.lesson.turned import Turned
    from geometry.bracket import Bracket


def write_lesson_paper(
    file: Path, out: Path, *, sheet: str, size: str, units: Units = "mm", turned: bool = False
) -> int:
    """Judge a bracket file, write its lesson sheet as PDF and return the exit code: 0 or 64.

    With `turned` the same plate along the shaft is judged too, where the bracket can be turned.
    """
    if trouble := _why_not(file, out):
        complain(trouble)
        return BAD_USAGE
    with live_progress(file.name) as progress:
        judged = stoppable(partial(judge_file, file, progress=progress))
    if judged.bracket is None or judged.results is None:
        complain(judged.whole_trouble)
        return BAD_USAGE
    along = _judged_turned(judged.bracket) if turned else None
    if along is not None and along.results is None:
        complain(along.trouble)
        return BAD_USAGE
    # Qt is imported only now: the other commands need none
    paper = importlib.import_module("app.paper.lesson_file")
    job = importlib.import_module("app.paper.job").PaperJob(
        bracket=judged.bracket,
        file=file.name,
        date=datetime.datetime.now(tz=datetime.UTC).astimezone().date().isoformat(),
        paper=size,
        results=replace(judged.results, verdict=judged.verdict),
        units=units,
        turned=along,
    )
    try:
        paper.write_lesson(job, sheet, out)
    except OSError as error:
        complain(str(error))
        return BAD_USAGE
    return 0


def _judged_turned(bracket: Bracket) -> Turned:
    """Return the plate along the shaft with its results, or the trouble with it."""
    turned = importlib.import_module("app.lesson.turned").turned_of(bracket)
    if turned.bracket is None:
        return cast("Turned", turned)
    with live_progress("the plate along the shaft") as progress:
        analyse = importlib.import_module("solver.analyse").analyse
        results = stoppable(partial(analyse, turned.bracket, progress=progress))
    return cast("Turned", replace(turned, results=results))


def _why_not(file: Path, out: Path) -> str:
    if trouble := missing_file_sentence(file):
        return trouble
    if out.suffix.lower() != ".pdf":
        return f"Paper is a PDF file and {out} is not named as one: end its name in .pdf"
    if out.is_dir() or not out.parent.is_dir():
        return f"{out} cannot be written: name a file in a folder that is there."
    return ""
