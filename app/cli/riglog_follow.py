"""A log followed while the rig runs: a line each time it has grown."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, Final

from app.cli.page import say
from app.exit_codes import PASS
from app.riglog.follower import Follower, joined
from app.riglog.log_error import LogError
from app.riglog.log_words import headline
from app.riglog.opened import judged, opened
from app.riglog.reading import Table

if TYPE_CHECKING:
    from app.riglog.opened import Said

_REST_TIMES: Final = 3.0
"""So many times as long as judging took, it is left alone: a long log must not take the whole machine."""


def follow(file: Path, said: Said, poll_s: float, *, polls: int | None = None) -> int:
    """Print what the log says whenever it has grown, until Ctrl-C or so many polls; return the exit code.

    LogError for columns that are not there, or rows that are none.
    """
    follower = Follower(file)
    whole: Table | None = None
    left = polls
    try:
        while left is None or left > 0:
            left = None if left is None else left - 1
            began = time.monotonic()
            added = follower.poll()
            if added.told:
                say(added.told)
            if added.afresh:
                whole = None
            if added.rows is not None:
                whole = joined(whole, added.rows)
                say(f"{len(whole.values)} rows. {_said_now(whole, said)}")
            if left != 0:
                time.sleep(max(poll_s, _REST_TIMES * (time.monotonic() - began)))
    except KeyboardInterrupt:
        say("No longer followed.")
    return PASS


def _said_now(whole: Table, said: Said) -> str:
    log = opened(whole, said)
    try:
        found = judged(log, said)
    except LogError as error:
        return str(error)  # too little of it yet, as a rule
    wrong = " ".join(trouble.sentence for trouble in found.troubles if trouble.serious)
    return f"{headline(found)} {wrong}".strip()
