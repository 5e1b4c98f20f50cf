"""`sensitivity`: what hangs on each input by itself, and what would turn the verdict."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.cautions import CAUTIONS
from app.cli.page import complain, page_for_stdout, say
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.cli.strict_json import strict_json
from app.exit_codes import BAD_USAGE
from app.report.judged_file import JudgedFile, as_judged, read_file
from app.wording.figures import Units, sentence_in_units
from app.wording.sensitivity_words import HOW, heads, steady_sentence, trial_cells, turning_sentences

if TYPE_CHECKING:
    from solver.trials import OneAtATime


def sensitivity(file: Path, *, as_json: bool, limits_file: Path | None, units: Units = "mm") -> int:
    """Print what hangs on each input; return the exit code of the verdict, or 64."""
    known = read_file(file)
    if known.trouble or known.bracket is None:
        complain(known.whole_trouble)
        return BAD_USAGE
    bracket = known.bracket
    if limits_file is not None:
        from app.cli.limits_file import LimitsFileError, read_limits

        try:
            bracket = bracket.but(limits=read_limits(limits_file))
        except LimitsFileError as error:
            complain(str(error))
            return BAD_USAGE
    from solver.errors import SolverError
    from solver.one_at_a_time import one_at_a_time

    with live_progress(file.name) as progress:
        try:
            found = stoppable(partial(one_at_a_time, bracket, progress=progress, of_file=known.file_findings))
        except SolverError as error:
            complain(f"{file}: {error}; there is no verdict.")
            return known.exit_code
    judged = as_judged(replace(known, bracket=bracket), found.results)
    if as_json:
        say(strict_json(sensitivity_object(judged, found)))
    else:
        _print(judged, found, units)
    return judged.exit_code


def sensitivity_object(judged: JudgedFile, found: OneAtATime) -> dict[str, Any]:
    """Return what was found as an object."""
    return {
        "file": judged.file,
        "verdict": judged.verdict,
        "holds_to_nm": found.results.holds_to_nm,
        "trials": [
            {
                "input": one.what,
                "now": one.now,
                "tried": one.then,
                "verdict": one.verdict,
                "nearest": one.nearest,
                "used_upper": one.used_upper,
                "holds_to_nm": one.holds_to_nm,
                "reason": one.reason,
            }
            for one in found.trials
        ],
        "turnings": [
            {
                "input": one.what,
                "now": one.now,
                "at": one.at,
                "asks_less": one.better,
                "turns": one.turns,
                "verdict": one.verdict,
            }
            for one in found.turnings
        ],
        "cautions": list(CAUTIONS),
        "version": found.results.version,
    }


def _print(judged: JudgedFile, found: OneAtATime, units: Units) -> None:
    page = page_for_stdout()
    title = "" if judged.bracket is None else judged.bracket.title
    page.line(f"{judged.file}: {title}")
    page.line(sentence_in_units(found.results.sentence, units), style="bold")
    if not found.trials:
        page.bullets(found.results.reasons)
        page.line("Nothing was solved, so nothing hangs on one input alone.")
        say(page.text)
        return
    page.heading("One input changed at a time, all else as it is")
    rows = [trial_cells(trial, units) for trial in found.trials]
    *first, last = heads(units)
    page.table([*first, f">{last}"], rows)
    page.line(
        HOW,
        style="dim",
        indent=2,
    )
    page.heading("What would turn the verdict")
    page.bullets(turning_sentences(found.turnings, units) or ["nothing that was turned"])
    if steady := steady_sentence(found.turnings, units):
        page.line(steady, indent=2)
    page.heading("Cautions")
    page.bullets(CAUTIONS)
    say(page.text)
