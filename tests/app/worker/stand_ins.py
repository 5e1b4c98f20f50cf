"""What runs in the worker's process in place of the solver: quick to start, and does what it is told to.

It goes by the bracket's couple: 13 kills it, 99 is never answered, 77 keeps it from hearing anything more,
anything else is answered at once.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from dataclasses import replace
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Final

from app.worker.messages import Asked, AskedQuick, Ink, Pencil, Progress, Quick, Ready
from geometry.bracket import Bracket
from geometry.loads import StatedCouple
from solver.results import QuickAnswer, Results
from tests.app.example_results import example_bracket, example_results

KILLS, FOR_EVER, HANGS = 13.0, 99.0, 77.0
QUICK_S = 0.05


def with_couple(couple_nm: float) -> Bracket:
    bracket = example_bracket()
    return bracket.but(loads=bracket.loads.but(couple=StatedCouple(couple_nm=couple_nm)))


def results_for(bracket: Bracket, *, refined: bool = True) -> Results:
    results = example_results()
    accuracy = replace(results.accuracy, refined=refined)
    return replace(
        results, accuracy=accuracy, couple_nm=bracket.loads.couple.value_nm, hash=bracket.input_hash()
    )


def serve(connection: Connection) -> None:
    connection.send(Ready(0.0))
    while True:
        try:
            question = connection.recv()
        except EOFError:
            return
        if isinstance(question, Asked):
            _judge(connection, question)
        if isinstance(question, AskedQuick):
            time.sleep(QUICK_S)
            connection.send(Quick(question.number, question.key, QuickAnswer(None, (), (), ())))


STARTED: Final = "HOLDSQUARE_STARTED_MARK"
"""Environment: a file that `serve_at_leisure` makes when it has started."""


def serve_at_leisure(connection: Connection) -> None:
    time.sleep(0.3)
    Path(os.environ[STARTED]).touch()
    serve(connection)


def serve_never(connection: Connection) -> None:
    sys.exit(3)


def _judge(connection: Connection, asked: Asked) -> None:
    couple = asked.bracket.loads.couple.value_nm
    connection.send(Progress(asked.number, "solving the first mesh", 0.1))
    if couple == KILLS:
        os.kill(os.getpid(), signal.SIGSEGV)
    while couple == HANGS:
        time.sleep(60.0)
    if couple == FOR_EVER:
        return
    pencil = results_for(asked.judged, refined=False)
    connection.send(Pencil(asked.number, asked.key, pencil))
    connection.send(Ink(asked.number, asked.key, results_for(asked.judged)))
