"""`riglog`: what a test rig's log says, alone or of a bracket."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from app.cli.page import complain, page_for_stdout, say
from app.cli.progress_line import live_progress
from app.cli.riglog_said import said_of
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE, NO_VERDICT, PASS
from app.files.files_error import FilesError
from app.files.named_file import why_no_picture, why_not_there
from app.report.judged_file import read_file
from app.wording.figures import Units
from geometry.finding_words import sentence

if TYPE_CHECKING:
    from app.riglog.opened import Judged
    from app.riglog.predicted import PredictedBand
    from geometry.bracket import Bracket

_POLL_S: Final = 1.0


@dataclass(frozen=True)
class RigOptions:
    """What was said of the log, and what to write."""

    bracket: Path | None = None
    columns: tuple[str, ...] = ()
    units: tuple[str, ...] = ()
    """Of the log's channels."""
    shown: Units = "mm"
    """What people read."""
    signs: tuple[str, ...] = ()
    zero: tuple[str, ...] = ()
    kind: str = ""
    gauge_arm_mm: float | None = None
    as_json: bool = False
    picture: Path | None = None
    out: Path | None = None
    theme: str = "paper"
    follow: bool = False


@dataclass(frozen=True)
class Beside:
    """What the log is held against."""

    bracket: Bracket | None = None
    band: PredictedBand | None = None
    sentences: tuple[str, ...] = ()


def riglog(file: Path, options: RigOptions) -> int:
    """Print what the log says and return the exit code.

    0 if it says it, 2 if its readings cannot, 64 for bad usage or a log that cannot be read.
    """
    from app.riglog.log_error import LogError
    from app.riglog.opened import judged, opened
    from app.riglog.reading import read_table

    if trouble := _trouble(options):
        complain(trouble)
        return BAD_USAGE
    try:
        said = said_of(options.columns, options.units, options.signs, options.zero, options.kind)
        said = replace(said, gauge_arm_mm=options.gauge_arm_mm)
        if options.follow:
            from app.cli.riglog_follow import follow

            return follow(file, said, _POLL_S)
        log = opened(read_table(file), said)
    except (LogError, FilesError) as error:
        complain(str(error))
        return BAD_USAGE
    try:
        found = judged(log, said)
        beside = _beside(found, options)
    except LogError as error:
        complain(str(error))
        return NO_VERDICT
    except _BracketError as error:
        complain(str(error))
        return BAD_USAGE
    return _told(file, found, beside, options)


def _told(file: Path, found: Judged, beside: Beside, options: RigOptions) -> int:
    if options.as_json:
        from app.cli.riglog_json import riglog_json

        say(riglog_json(found, beside.sentences))
    else:
        from app.cli.riglog_text import write_log

        page = page_for_stdout(options.shown)
        write_log(page, found, beside.sentences, str(file), options.shown)
        say(page.text)
    if found.serious:
        return NO_VERDICT
    return PASS if _written(found, beside, options) else BAD_USAGE


class _BracketError(Exception):
    """The bracket file cannot be used; the message says why."""


def _beside(found: Judged, options: RigOptions) -> Beside:
    """Return what the bracket file says; LogError or _BracketError if it cannot say it."""
    if options.bracket is None or found.serious:
        return Beside()
    known = read_file(options.bracket)
    if known.trouble or known.bracket is None:
        raise _BracketError(known.whole_trouble)
    if options.out is not None and (barred := [f for f in known.file_findings if f.bars_verdict]):
        # written again without what was left out, nothing would tell of it any more
        raise _BracketError(
            f"{options.bracket} could not be read in full, so it is not written again: {sentence(barred[0])}"
        )
    if found.couple is not None:
        from app.riglog.measured import measured_sentence, with_measured_couple

        changed = with_measured_couple(known.bracket, found.couple)
        return Beside(changed, None, (measured_sentence(known.bracket, changed),))
    return _foretold(found, known.bracket, options)


def _foretold(found: Judged, bracket: Bracket, options: RigOptions) -> Beside:
    from app.riglog.predicted import held_against, in_degrees, predicted_band
    from solver.analyse import analyse
    from solver.errors import SolverError

    if found.bracket is None:
        return Beside(bracket)
    arm_mm = found.log.columns.gauge_arm_mm
    in_degrees(found.bracket, arm_mm)  # ask before the long work, not after
    try:
        with live_progress(str(options.bracket)) as progress:
            results = stoppable(partial(analyse, bracket, progress=progress))
    except SolverError as error:
        raise _BracketError(f"{options.bracket}: {error}") from error
    band = predicted_band(results)
    return Beside(bracket, band, held_against(found.bracket, band, arm_mm).sentences)


def _written(found: Judged, beside: Beside, options: RigOptions) -> bool:
    from geometry.bracket_file import save_bracket
    from geometry.file_replacing import replace_file

    try:
        if options.picture is not None:
            replace_file(options.picture, _picture(found, beside, options), keep_previous=False)
        if options.out is not None and beside.bracket is not None:
            save_bracket(options.out, beside.bracket)
    except OSError as error:
        complain(f"It cannot be written ({error.strerror or error}): name another place.")
        return False
    return True


def _picture(found: Judged, beside: Beside, options: RigOptions) -> bytes:
    from app.riglog.log_words import headline
    from app.riglog.rig_picture import bracket_png, couple_png
    from app.theme import theme

    look = theme(options.theme)
    if found.couple is not None:
        return couple_png(found.couple, headline(found), look)
    if found.bracket is None:
        return b""
    return bracket_png(found.bracket, headline(found), look, beside.band, found.log.columns.gauge_arm_mm)


def _trouble(options: RigOptions) -> str:
    """Return what is wrong with the options, in a sentence; empty if nothing is."""
    if options.follow and (options.as_json or options.picture or options.out or options.bracket):
        return "--follow prints as the log grows: leave --json, --picture, --bracket and --out out."
    if options.out is not None and options.bracket is None:
        return "--out writes the bracket with the measured couple: name the bracket with --bracket FILE."
    if options.out is not None and (trouble := why_not_there(options.out)):
        return trouble
    return "" if options.picture is None else why_no_picture(options.picture)
