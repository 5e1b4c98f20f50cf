"""`motion`: a free motion or a load case as pictures that move, or as a strip for paper."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.page import complain
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE
from app.files.files_error import FilesError
from app.files.named_file import why_not_there, write_named
from app.report.judged_file import judge_bracket, read_file
from app.theme import theme as theme_named

if TYPE_CHECKING:
    from geometry.bracket import Bracket
    from solver.results import Results


def write_motion(file: Path, out: Path, *, free: int | None, case: str | None, theme: str) -> int:
    """Write the motion and return the exit code: 0 or 64. Only what bends has to be judged first."""
    if trouble := _why_not(out, free, case):
        complain(trouble)
        return BAD_USAGE
    known = read_file(file)
    if known.bracket is None or known.trouble:
        complain(known.whole_trouble)
        return BAD_USAGE
    from app.lesson.loosened import motions_of

    results = None
    if case is not None or (free is None and not motions_of(known.bracket)):
        with live_progress(file.name) as progress:
            judged = stoppable(partial(judge_bracket, known, progress=progress))
        if judged.results is None:
            complain(judged.trouble)
            return BAD_USAGE
        results = judged.results
    return _drawn(known.bracket, results, out, free=free, case=case, theme=theme)


def _drawn(
    bracket: Bracket, results: Results | None, out: Path, *, free: int | None, case: str | None, theme: str
) -> int:
    from app.lesson.motion_pictures import MotionAsked, MotionError, motion_file

    try:
        write_named(
            out, motion_file(bracket, results, MotionAsked(free, case), theme_named(theme), out.suffix)
        )
    except MotionError as error:
        complain(f"{str(error)[:1].upper()}{str(error)[1:]}.")
        return BAD_USAGE
    except FilesError as error:
        complain(str(error))
        return BAD_USAGE
    return 0


def _why_not(out: Path, free: int | None, case: str | None) -> str:
    if free is not None and case is not None:
        return "A motion is one free motion or one load case: give --free or --case, not both."
    if out.suffix.lower() not in (".gif", ".png"):
        return (
            f"A motion is a .gif that moves or a .png strip, and {out} is named as neither: end its name so."
        )
    return why_not_there(out)
