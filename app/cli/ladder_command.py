"""`ladder`: which plate, bolt, bend or bar is the least that passes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.page import complain, page_for_stdout, say
from app.cli.progress_line import live_progress
from app.exit_codes import BAD_USAGE, NO_VERDICT, NOT_PASSED, PASS, STOPPED
from app.files.files_error import FilesError
from app.files.named_file import why_no_picture, why_not_there, write_named
from app.report.judged_file import read_file
from app.wording.figures import Units

if TYPE_CHECKING:
    from app.ladder.climb import Judge
    from app.ladder.rung import Rung
    from app.ladder.steps import Ladder


@dataclass(frozen=True)
class LadderOptions:
    """How to climb and what to write."""

    csv: Path | None = None
    picture: Path | None = None
    theme: str = "paper"
    as_json: bool = False
    jobs: int = 0
    """Processes on this machine; 0 takes every core."""
    workers: int = 0
    """Workers of a local cluster; 0 starts none."""
    scheduler: str = ""
    afresh: bool = False
    """Whether what was judged earlier is judged again."""
    units: Units = "mm"


def ladder(file: Path, vary: list[str], options: LadderOptions) -> int:
    """Judge every step, print the table and return the exit code.

    0 if a step passes, 1 if none does, 2 if some have no verdict instead, 64 for bad usage, 130 if stopped.
    """
    if trouble := _trouble(options):
        complain(trouble)
        return BAD_USAGE
    known = read_file(file)
    if known.trouble or known.bracket is None:
        complain(known.whole_trouble)
        return BAD_USAGE
    from app.editing.refused import EditRefused
    from app.ladder.keys import varied
    from app.ladder.steps import ladder_of

    try:
        whole = ladder_of(known.bracket, [varied(text) for text in vary], known.file_findings)
        judge = _judge(options)
    except (EditRefused, _CannotJudgeError) as error:
        complain(str(error))
        return BAD_USAGE
    rungs, stopped = _climbed(whole, judge, file.name, afresh=options.afresh)
    code = _told(whole, rungs, options, file)
    return STOPPED if stopped else code


def print_keys() -> int:
    """Print what can be varied; return the exit code."""
    from app.ladder.keys import KEYS

    page = page_for_stdout()
    page.table(("key", "what it is", "such as"), [(key.word, key.means, key.example) for key in KEYS])
    say(page.text)
    return PASS


def _climbed(whole: Ladder, judge: Judge, name: str, *, afresh: bool) -> tuple[list[Rung], bool]:
    """Return the rungs in order, and whether a key stopped it before all were there."""
    from app.ladder.climb import climb, in_order
    from app.ladder.kept_answers import KeptAnswers

    kept = KeptAnswers()
    rungs: list[Rung] = []
    stopped = False
    climbing = climb(whole, judge, kept, afresh=afresh)
    with live_progress(name) as progress:
        try:
            for rung in climbing:
                rungs.append(rung)
                _show(progress, whole, len(rungs))
        except KeyboardInterrupt:
            stopped = True
        finally:
            climbing.close()
    kept.clear_old()
    return in_order(whole, rungs), stopped


def _show(progress: Callable[[str, float], None] | None, whole: Ladder, count: int) -> None:
    if progress is not None:
        progress(f"{count} of {len(whole.steps)} steps", count / len(whole.steps))


def _told(whole: Ladder, rungs: list[Rung], options: LadderOptions, file: Path) -> int:
    """Print and write what is there; return the exit code."""
    from app.ladder.least import least_of

    least = least_of(whole, rungs)
    if options.as_json:
        from app.cli.ladder_text import ladder_json

        say(ladder_json(whole, rungs, least))
    else:
        from app.cli.ladder_text import write_ladder

        page = page_for_stdout(options.units)
        write_ladder(page, whole, rungs, least, str(file), options.units)
        say(page.text)
    if not _written(whole, rungs, least.sentence, options):
        return BAD_USAGE
    if least.rungs:
        return PASS
    return NO_VERDICT if any(r.answer.verdict == "no verdict" for r in rungs) or not rungs else NOT_PASSED


def _written(whole: Ladder, rungs: list[Rung], sentence: str, options: LadderOptions) -> bool:
    files: list[tuple[Path, bytes]] = []
    if options.csv is not None:
        from app.ladder.ladder_csv import ladder_csv

        files.append((options.csv, ladder_csv(whole, rungs).encode("utf-8-sig")))
    if options.picture is not None and rungs:
        from app.ladder.ladder_curve import curve_png
        from app.theme import theme

        files.append((options.picture, curve_png(whole, rungs, sentence, theme(options.theme))))
    for path, content in files:
        try:
            write_named(path, content)
        except FilesError as error:
            complain(str(error))
            return False
    return True


class _CannotJudgeError(Exception):
    """Nobody is there to judge; the message says why and what to do."""


def _judge(options: LadderOptions) -> Judge:
    if not options.scheduler and not options.workers:
        from app.ladder.crew import Crew, cores

        return Crew(options.jobs or cores()).judge
    try:
        from app.ladder.far import Far, FarError
    except ImportError as error:
        raise _CannotJudgeError(
            f"Other machines are reached through the package distributed, which is not here ({error}):"
            ' install it with  pip install "holdsquare[far]"  or leave --scheduler and --workers out.'
        ) from error
    try:
        return Far(scheduler=options.scheduler, workers=options.workers).judge
    except FarError as error:
        raise _CannotJudgeError(str(error)) from error


def _trouble(options: LadderOptions) -> str:
    """Return what is wrong with the options, in a sentence; empty if nothing is."""
    if options.scheduler and options.workers:
        return "--scheduler names workers elsewhere and --workers starts some here: give one of the two."
    if options.csv is not None and options.csv.suffix.lower() != ".csv":
        return f"A table is a CSV file and {options.csv} is not named as one: end its name in .csv"
    if options.csv is not None and (trouble := why_not_there(options.csv)):
        return trouble
    return "" if options.picture is None else why_no_picture(options.picture)
