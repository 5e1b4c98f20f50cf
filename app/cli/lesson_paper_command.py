"""`handout` and `questions`: a bracket's lesson as PDF."""

from __future__ import annotations

import importlib
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.page import complain
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE
from app.files.named_file import why_no_paper
from app.files.near_names import missing_file_sentence
from app.report.judged_file import judge_file
from app.wording.figures import Units

if TYPE_CHECKING:
    from app.lesson.turned import Turned
    from app.paper.paper_names import PaperName
    from geometry.bracket import Bracket


def write_lesson_paper(
    file: Path, out: Path, *, sheet: str, size: PaperName, units: Units = "mm", turned: bool = False
) -> int:
    """Judge a bracket file, write its lesson sheet as PDF and return the exit code: 0 or 64.

    With `turned` the same plate along the shaft is judged too, where the bracket can be turned.
    """
    if trouble := missing_file_sentence(file) or why_no_paper(out):
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
    from app.paper.job import PaperJob
    from app.paper.pdf_dates import today

    # Qt is imported only now: the other commands need none
    paper = importlib.import_module("app.paper.lesson_file")
    job = PaperJob(
        bracket=judged.bracket,
        file=file.name,
        date=today(),
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
    from app.lesson.turned import turned_of
    from solver.analyse import analyse

    turned = turned_of(bracket)
    if turned.bracket is None:
        return turned
    with live_progress("the plate along the shaft") as progress:
        results = stoppable(partial(analyse, turned.bracket, progress=progress))
    return replace(turned, results=results)
