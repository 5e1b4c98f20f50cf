"""One input turned at a time, outside the window's process: it can be told to stop at once."""

from __future__ import annotations

import contextlib
import multiprocessing
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Final

from app.window.background import Job, Stopped
from geometry.bracket import Bracket
from geometry.finding import Finding
from solver.one_at_a_time import OneAtATime, one_at_a_time

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
) -> object:
    """Work it out in a process of its own, which is killed when told to stop."""
    context = multiprocessing.get_context("spawn")
    near, far = context.Pipe(duplex=False)
    process = context.Process(target=_turn, args=(far, bracket, tuple(of_file)), daemon=True)
    try:
        process.start()
        far.close()
        while not stopped():
            if not near.poll(_LOOK_S):
                continue
            said = near.recv()
            if not isinstance(said, Doing):
                return said
            tell(said)
    except EOFError:
        return NotTurned("the process that worked it out ended by itself")
    finally:
        if process.pid is not None:
            process.kill()
            process.join()
        near.close()
    return None


def _turn(connection: Connection, bracket: Bracket, of_file: tuple[Finding, ...]) -> None:
    def tell(words: str, share: float) -> None:
        connection.send(Doing(words, share))

    answer: OneAtATime | NotTurned
    try:
        answer = one_at_a_time(bracket, progress=tell, of_file=of_file)
    except OSError:
        return
    except Exception as fault:  # noqa: BLE001 - it is told in the window
        answer = NotTurned(str(fault))
    with contextlib.suppress(OSError):
        connection.send(answer)
