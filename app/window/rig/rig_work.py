"""What is done with a rig's log outside the window's thread: read, judged, drawn, followed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from app.riglog.channels import Channels
from app.riglog.columns import Columns, guessed, remembered
from app.riglog.couple_words import couple_sentences
from app.riglog.follower import Follower, joined
from app.riglog.log_error import LogError
from app.riglog.log_words import headline
from app.riglog.opened import Judged, Said, judged, opened
from app.riglog.predicted import held_against, in_degrees, predicted_band
from app.riglog.reading import Table, read_table
from app.riglog.rig_picture import bracket_png, couple_png
from app.theme import Theme
from app.window.background import Job, Stopped
from solver.results import Results

if TYPE_CHECKING:
    from app.riglog.predicted import PredictedBand

NOTHING_SAID = Said({}, {}, {}, {})
_NO_BAND = "The bracket on the sheet has no verdict in ink yet, so nothing is foretold: wait for it."


@dataclass(frozen=True)
class RigAnswer:
    """A log as far as it can be told."""

    table: Table
    columns: Columns
    """As known now: said, remembered or told by their names."""
    question: str = ""
    """What has to be said of the columns first; empty if nothing has."""
    found: Judged | None = None
    trouble: str = ""
    """Why the log says nothing, in a sentence."""
    headline: str = ""
    sentences: tuple[str, ...] = ()
    picture: bytes = b""
    """PNG."""


@dataclass(frozen=True)
class Grown:
    """What a look at a followed file found."""

    answer: RigAnswer | None
    """None where nothing was added."""
    told: str = ""


def reading(path: Path, said: Said, results: Results | None, theme: Theme) -> Job:
    """Return the job that reads a log and tells what it says."""

    def job(_stopped: Stopped, _tell: Callable[[object], None]) -> object:
        return answer_of(read_table(path), said, results, theme)

    return job


def again(table: Table, said: Said, results: Results | None, theme: Theme) -> Job:
    """Return the job that tells what rows read before say with other columns."""
    return lambda _stopped, _tell: answer_of(table, said, results, theme)


def looking(
    follower: Follower, whole: Table | None, said: Said, results: Results | None, theme: Theme
) -> Job:
    """Return the job that looks whether a followed log has grown, and tells what it says then."""

    def job(_stopped: Stopped, _tell: Callable[[object], None]) -> object:
        added = follower.poll()
        before = None if added.afresh else whole
        if added.rows is None:
            return Grown(None, added.told)
        return Grown(answer_of(joined(before, added.rows), said, results, theme), added.told)

    return job


def answer_of(table: Table, said: Said, results: Results | None, theme: Theme) -> RigAnswer:
    """Return what a log says, or what has to be asked first."""
    known = remembered(table.dialect) or guessed(table.dialect)
    try:
        log = opened(table, said)
    except LogError as error:
        return RigAnswer(table, known, question=str(error))
    try:
        found = judged(log, said)
    except LogError as error:
        return RigAnswer(table, log.columns, trouble=str(error))
    told = tuple(one.sentence for one in found.troubles)
    if found.serious:
        return RigAnswer(table, log.columns, found=found, headline=headline(found), sentences=told)
    if found.couple is not None:
        picture = couple_png(found.couple, "", theme)
        said_of_it = (*told, *couple_sentences(found.couple))
        return RigAnswer(table, log.columns, "", found, "", headline(found), said_of_it, picture)
    return _of_bracket(table, log, found, told, results, theme)


def _of_bracket(
    table: Table,
    log: Channels,
    found: Judged,
    told: tuple[str, ...],
    results: Results | None,
    theme: Theme,
) -> RigAnswer:
    one, arm_mm = found.bracket, log.columns.gauge_arm_mm
    if one is None:
        return RigAnswer(table, log.columns, found=found)
    question = ""
    band: PredictedBand | None = None
    beside: tuple[str, ...] = (_NO_BAND,)
    try:
        in_degrees(one, arm_mm)
    except LogError:
        question = (
            "How far from the shaft axis does the gauge stand, square to the way it reads? Say it below:"
            " without it nothing is foretold."
        )
    else:
        if results is not None:
            band, beside = _foretold(results, found, arm_mm)
    picture = bracket_png(one, "", theme, band, arm_mm)
    sentences = (*told, *one.sentences, *(() if question else beside))
    return RigAnswer(table, log.columns, question, found, "", headline(found), sentences, picture)


def _foretold(
    results: Results, found: Judged, arm_mm: float | None
) -> tuple[PredictedBand | None, tuple[str, ...]]:
    if found.bracket is None:
        return None, ()
    try:
        band = predicted_band(results)
    except LogError as error:
        return None, (str(error),)
    return band, held_against(found.bracket, band, arm_mm).sentences
