"""The worker killed, its mesher crashing, its memory short: the window says so in a sentence and goes on."""

from __future__ import annotations

import os
import signal
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Final

from app.worker.client import STARTED_AGAIN, STOPPED_TWICE, Worker
from app.worker.judging import NO_MEMORY
from app.worker.line import Serve
from app.worker.messages import Answer, Failed, Ink, Progress, Quick, Ready
from app.worker.process import serve
from geometry.bracket import Bracket
from tests.app.worker.test_client import hear as hear_in_time
from tests.app.worker.test_client import kind
from tests.app.worker.test_process import small
from tests.faults import ill_workers
from tests.faults.tried import Tried

REPEATS: Final = 5
PATIENCE_S: Final = 300.0
"""The worker steps back behind everything else: on a busy machine it is a minute before it is ready."""
hear = partial(hear_in_time, patience_s=PATIENCE_S)


def tried(names: tuple[str, ...] = ()) -> Iterator[Tried]:
    """Yield what came of every fault of the worker."""
    ways: tuple[tuple[str, Callable[[Tried], None]], ...] = (
        ("killed while idle, again and again", _killed_idle),
        ("killed in mid-analysis", _killed_once),
        ("killed in mid-analysis, every time", _killed_always),
        ("mesher aborts", lambda one: _dies_twice(one, ill_workers.aborts)),
        ("mesher reads where nothing is", lambda one: _dies_twice(one, ill_workers.faults)),
        ("mesher ends the process", lambda one: _dies_twice(one, ill_workers.leaves)),
        (
            "mesher raises",
            lambda one: _is_told(one, ill_workers.raises, ("could not be meshed", "Unknown error")),
        ),
        ("memory runs out while solving", lambda one: _is_told(one, ill_workers.short_of_memory, ())),
        (
            "mesh too fine for the memory",
            lambda one: _is_told(
                one, ill_workers.short_before_meshing, ("unknowns", "GB of memory", "are free", "or close")
            ),
        ),
    )
    for name, way in ways:
        if not names or name in names:
            one = Tried("worker", name)
            try:
                way(one)
            except TimeoutError as late:
                one.note(str(late))
            yield one


def _gives_a_verdict(worker: Worker, bracket: Bracket) -> str:
    worker.ask(bracket)
    heard = hear(worker, kind(Ink, Failed))
    return "" if isinstance(heard[-1], Ink) else f"no verdict afterwards: {heard[-1]}"


def _killed_idle(one: Tried) -> None:
    worker = Worker()
    try:
        worker.start()
        for turn in range(REPEATS):
            heard = hear(worker, kind(Ready))
            worker.ask_quick(small())
            heard += hear(worker, kind(Quick))
            said = [a.words for a in heard if isinstance(a, Failed)]
            one.note(f"it complained: {said}" if said else "", f"turn {turn}")
            _kill(worker)
        hear(worker, kind(Ready))
        one.note(_gives_a_verdict(worker, small()), "at the end")
    finally:
        worker.close()


def _killed_once(one: Tried) -> None:
    with tempfile.TemporaryDirectory() as folder:
        once = Path(folder) / "once"
        once.touch()
        os.environ[ill_workers.ONCE] = str(once)
        worker = Worker(ill_workers.killed_once)
        try:
            worker.ask(small())
            heard = hear(worker, kind(Ink))
        finally:
            worker.close()
        said = [a.words for a in heard if isinstance(a, Failed)]
        one.note("" if said == [STARTED_AGAIN] else f"said {said}")
        one.seen = " ".join(said)


def _killed_always(one: Tried) -> None:
    worker = Worker(serve)
    try:
        worker.ask(small())
        heard: list[Answer] = []
        while not (isinstance(heard[-1] if heard else None, Failed) and heard[-1].final):
            heard += hear(worker, kind(Progress, Failed))
            if isinstance(heard[-1], Progress):
                _kill(worker)
                heard += hear(worker, kind(Failed))
        said = heard[-1].words if isinstance(heard[-1], Failed) else ""
        one.note("" if said == STOPPED_TWICE else f"said {said!r}")
        one.seen = said
        other = small().but(title="another", rake_deg=3.0)
        one.note(_gives_a_verdict(worker, other), "another bracket")
    finally:
        worker.close()


def _dies_twice(one: Tried, ill: Serve) -> None:
    worker = Worker(ill)
    try:
        for bracket in (small(), small().but(rake_deg=3.0)):
            worker.ask(bracket)
            heard = hear(worker, lambda a: isinstance(a, Failed) and a.final)
            said = [a.words for a in heard if isinstance(a, Failed)]
            one.note("" if said == [STARTED_AGAIN, STOPPED_TWICE] else f"said {said}")
            one.seen = " ".join(said)
        one.note("" if worker.alive or _comes_alive(worker) else "no process is there for the next bracket")
    finally:
        worker.close()


def _is_told(one: Tried, ill: Serve, pieces: tuple[str, ...]) -> None:
    worker = Worker(ill)
    try:
        for _ in range(2):
            worker.ask(small())
            heard = hear(worker, kind(Failed, Ink))
            said = heard[-1].words if isinstance(heard[-1], Failed) else "a verdict"
            one.seen = said
            wrong = [piece for piece in pieces if piece not in said]
            fits = not wrong if pieces else said in (NO_MEMORY, STARTED_AGAIN, STOPPED_TWICE)
            one.note("" if fits else f"said {said!r}")
        one.note("" if worker.alive else "the process is gone")
    finally:
        worker.close()


def _comes_alive(worker: Worker) -> bool:
    hear(worker, kind(Ready))
    return worker.alive


def _kill(worker: Worker) -> None:
    process = worker.process_id
    assert process is not None
    os.kill(process, signal.SIGKILL)
    end = time.monotonic() + 10.0
    while worker.alive and time.monotonic() < end:
        time.sleep(0.005)
