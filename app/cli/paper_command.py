"""`paper`: what the workshop and the proof in the car need, as PDF."""

from __future__ import annotations

import importlib
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.page import complain
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.cli.whole_bracket import whole_bracket
from app.exit_codes import BAD_USAGE
from app.files.named_file import why_no_paper
from app.files.near_names import missing_file_sentence
from app.paper.paper_names import PaperName, SheetName
from app.wording.figures import Units

if TYPE_CHECKING:
    from geometry.bracket import Bracket
    from solver.results import Results

_COMPUTED = ("template", "drawing", "assembly", "proof")
"""Sheets that say what was computed; a template too, since metal is cut by it."""


def write(
    file: Path | None, out: Path, *, sheet: SheetName, size: PaperName, arm_mm: float, units: Units
) -> int:
    """Write a sheet of a bracket file as PDF and return the exit code: 0 or 64."""
    if trouble := _why_not(file, out, sheet):
        complain(trouble)
        return BAD_USAGE
    bracket = _bracket(file)
    if bracket is None:
        return BAD_USAGE
    results = _results(file) if file is not None and sheet in _COMPUTED else None
    from app.paper.job import PaperJob
    from app.paper.pdf_dates import today
    from app.paper.proof import Lever

    # Qt is imported only now: the other commands need none
    paper = importlib.import_module("app.paper.paper_file")
    pdf = importlib.import_module("app.paper.pdf")
    job = PaperJob(
        bracket=bracket,
        file="" if file is None else file.name,
        date=today(),
        paper=size,
        results=results,
        units=units,
    )
    try:
        paper.write_paper(job, sheet, out, Lever(arm_mm))
    except pdf.PaperError as error:
        complain(str(error))
        return BAD_USAGE
    return 0


def _why_not(file: Path | None, out: Path, sheet: SheetName) -> str:
    if file is None and sheet != "measuring":
        return f"The {sheet} sheet needs a bracket file; only the measuring sheet comes blank."
    if file is not None and (trouble := missing_file_sentence(file)):
        return trouble
    return why_no_paper(out)


def _bracket(file: Path | None) -> Bracket | None:
    """Return the bracket in the file, an empty one without a file; None after a complaint."""
    if file is None:
        from geometry.bracket import Bracket

        return Bracket()
    return whole_bracket(file, "nothing is printed of it")


def _results(file: Path) -> Results | None:
    """Return what `check` says of the file; None, told in a sentence, if that is nothing."""
    from app.report.judged_file import judge_file

    with live_progress(file.name) as progress:
        judged = stoppable(partial(judge_file, file, progress=progress))
    if judged.results is None:
        complain(judged.whole_trouble)
        return None
    return replace(judged.results, verdict=judged.verdict)
