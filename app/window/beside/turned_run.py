"""One input turned at a time, in a process beside the window's: it can be told to stop at once."""

from __future__ import annotations

import queue
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from multiprocessing.connection import Connection
from typing import Final

from app.window.background import Job, Stopped
from app.worker.line import Line
from app.worker.process import leave, stand_behind_the_window
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.trials import OneAtATime

_LOOK_S: Final = 0.05
"""Between looks whether to stop."""


@dataclass(frozen=True)
class Doing:
    """What is being done, and the share of all that is done."""

    words: str
    share: float


@dataclass(frozen=True)
class NotTurned:
    """Why nothing was found, in words."""

    words: str


Asks = Callable[[Bracket, Sequence[Finding], Stopped, Callable[[object], None]], object]
"""Works it out and returns a OneAtATime, a NotTurned, or None where it was told to stop."""


def turning(bracket: Bracket, of_file: Sequence[Finding], ask: Asks | None = None) -> Job:
    """Return the job that turns every input of a bracket, telling what it does."""
    work = in_a_process if ask is None else ask
    return lambda stopped, tell: work(bracket, of_file, stopped, tell)


def in_a_process(
    bracket: Bracket, of_file: Sequence[Finding], stopped: Stopped, tell: Callable[[object], None]
) -> OneAtATime | NotTurned | None:
    """Work it out in a process of its own, which is killed when told to stop; OSError if none can be had."""
    line = Line[Doing | OneAtATime | NotTurned](partial(_turn, bracket=bracket, of_file=tuple(of_file)))
    try:
        while not stopped():
            try:
                said = line.said.get(timeout=_LOOK_S)
            except queue.Empty:
                continue
            if said is None:
                return NotTurned("the process that worked it out ended by itself")
            if not isinstance(said, Doing):
                return said
            tell(said)
    finally:
        line.cut()
    return None


def _turn(connection: Connection, bracket: Bracket, of_file: tuple[Finding, ...]) -> None:
    stand_behind_the_window()
    from app.worker.judging import why_not
    from solver.one_at_a_time import one_at_a_time

    def send(said: Doing | OneAtATime | NotTurned) -> None:
        try:
            connection.send(said)
        except OSError:
            leave()

    try:
        found = one_at_a_time(
            bracket, progress=lambda words, share: send(Doing(words, share)), of_file=of_file
        )
    except Exception as fault:  # noqa: BLE001 - it is told in the window
        send(NotTurned(why_not(fault)))
    else:
        send(found)
