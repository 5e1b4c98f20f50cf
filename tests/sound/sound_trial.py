"""`python3 tests sound`: random brackets of every shape go the whole way. Long; never in CI."""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, Final

from geometry.bracket_file import read_bracket
from geometry.file_writing import bracket_text
from tests.sound.drawn import sound_bracket
from tests.sound.shrinking import shrunk
from tests.sound.telling import table
from tests.sound.the_way import Asked, asked_of, plain_row, whole_way

COUNT: Final = 2000
SEED: Final = 20261126
ROWS: Final = "outcomes.jsonl"
HANG_S: Final = 120.0
"""By the clock; a machine with other work on it may ask for more by --hang."""
_NEW_AFTER: Final = 60
"""A process is started anew after so many brackets, so that nothing piles up."""


def main(arguments: Sequence[str]) -> int:
    """Run the trial, or go on with one that was broken off; return 1 if anything is wrong anywhere."""
    asked = _parser().parse_args(arguments)
    if asked.shrink:
        return _shrink(Path(asked.shrink))
    folder = Path(asked.output)
    folder.mkdir(parents=True, exist_ok=True)
    known = {row["number"]: row for row in _read(folder / ROWS) if row["seed"] == asked.seed}
    if asked.failing_again:
        todo = sorted(n for n, row in known.items() if row["problems"])
    else:
        todo = [n for n in range(asked.count) if n not in known]
    for number, row in _tried(asked.seed, todo, asked.jobs, asked.hang):
        known[number] = row
        with (folder / ROWS).open("a", encoding="utf-8") as file:
            file.write(json.dumps(row) + "\n")
        _keep(row, folder)
        told = "; ".join(row["problems"])[:300]
        sys.stderr.write(f"{number}: {row['ended']}, {row['seconds']} s{' !! ' + told if told else ''}\n")
    if not known:
        sys.stderr.write("Nothing was tried.\n")
        return 1
    lines = table([known[n] for n in sorted(known)])
    (folder / "table.md").write_text("\n".join(lines) + "\n", encoding="utf-8")
    sys.stdout.write("\n".join(lines) + "\n")
    return 1 if any(row["problems"] for row in known.values()) else 0


def _keep(row: dict[str, Any], folder: Path) -> None:
    """Keep a bracket that something is wrong with, to be opened; forget it once nothing is."""
    path = folder / f"{row['seed']}_{row['number']}.bracket.json"
    if row["problems"]:
        path.write_text(bracket_text(sound_bracket(row["seed"], row["number"])[0]), encoding="utf-8")
    else:
        path.unlink(missing_ok=True)


def _shrink(path: Path) -> int:
    bracket = read_bracket(path).bracket
    if bracket is None:
        sys.stderr.write(f"{path} cannot be read as a bracket.\n")
        return 1
    smaller, problem = shrunk(bracket, Asked(scaled=True, mirrored=True))
    if not problem:
        sys.stderr.write("Nothing is wrong with it unrefined.\n")
        return 0
    out = path.with_name(path.name.replace(".bracket.json", "_small.bracket.json"))
    out.write_text(bracket_text(smaller), encoding="utf-8")
    sys.stdout.write(f"{problem}\n{out}\n")
    return 1


def try_one(seed: int, number: int) -> dict[str, Any]:
    """Return the row of one bracket."""
    at = time.perf_counter()
    bracket, tags = sound_bracket(seed, number)
    asked = asked_of(number)
    row = plain_row(whole_way(bracket, asked))
    shown = {"seed": seed, "number": number, "tags": sorted(tags), "refined": asked.refined}
    return shown | row | {"clock": round(time.perf_counter() - at, 1)}


@dataclass
class _Worker:
    """A process that takes one bracket after another, and can be ended when it hangs."""

    process: BaseProcess
    pipe: Connection
    number: int = -1
    since: float = 0.0
    done: int = 0


def _start() -> _Worker:
    # Each process keeps to one core: two that share both are slower than one after the other.
    os.environ["OPENBLAS_NUM_THREADS"] = os.environ["HOLDSQUARE_CORES"] = "1"
    context = get_context("spawn")
    here, there = context.Pipe()
    process = context.Process(target=_serve, args=(there,), daemon=True)
    process.start()
    there.close()
    return _Worker(process, here)


def _serve(pipe: Connection) -> None:
    while True:
        try:
            seed, number = pipe.recv()
        except (EOFError, KeyboardInterrupt):
            return
        pipe.send(try_one(seed, number))


def _tried(
    seed: int, numbers: Sequence[int], jobs: int, hang_s: float
) -> Iterator[tuple[int, dict[str, Any]]]:
    todo = deque(numbers)
    busy: list[_Worker] = []
    idle = [_start() for _ in range(min(max(jobs, 1), max(len(todo), 1)))]
    while todo or busy:
        while todo and idle:
            worker = idle.pop()
            if worker.done >= _NEW_AFTER:
                _end(worker)
                worker = _start()
            worker.number, worker.since = todo.popleft(), time.monotonic()
            worker.pipe.send((seed, worker.number))
            busy.append(worker)
        wait([worker.pipe for worker in busy], timeout=1.0)
        for worker in list(busy):
            row = _row_of(worker, seed, hang_s)
            if row is None:
                continue
            busy.remove(worker)
            if row["ended"] in ("hang", "crash"):
                _end(worker)
                worker = _start()
            worker.done += 1
            idle.append(worker)
            yield row["number"], row
    for worker in idle:
        _end(worker)


def _row_of(worker: _Worker, seed: int, hang_s: float) -> dict[str, Any] | None:
    """Return what a worker has sent, or that it hangs or has died; None while it works."""
    if worker.pipe.poll():
        try:
            row: dict[str, Any] = worker.pipe.recv()
        except EOFError:
            return _lost(worker, seed, "crash", "the process died")
        return row
    if time.monotonic() - worker.since > hang_s:
        return _lost(worker, seed, "hang", f"no answer after {hang_s:.0f} s")
    return None


def _lost(worker: _Worker, seed: int, ended: str, problem: str) -> dict[str, Any]:
    _, tags = sound_bracket(seed, worker.number)
    shown = {"seed": seed, "number": worker.number, "tags": sorted(tags)}
    empty = {"would_be": "", "said": "", "unknowns": 0, "seconds": 0.0, "findings": [], "steps": []}
    refined = asked_of(worker.number).refined
    clock = round(time.monotonic() - worker.since, 1)
    return shown | empty | {"refined": refined, "ended": ended, "problems": [problem], "clock": clock}


def _end(worker: _Worker) -> None:
    worker.pipe.close()
    worker.process.kill()
    worker.process.join()


def _read(path: Path) -> list[dict[str, Any]]:
    if not path.exists():
        return []
    lines = path.read_text(encoding="utf-8").splitlines()
    # A line that was being written when the machine went down is tried again.
    return [json.loads(line) for line in lines if line.endswith("}")]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python3 tests sound", description=__doc__)
    parser.add_argument("--count", type=int, default=COUNT, help="brackets (default %(default)s)")
    parser.add_argument("--seed", type=int, default=SEED, help="of the random numbers (default %(default)s)")
    parser.add_argument("--jobs", type=int, default=1, help="processes (default %(default)s)")
    parser.add_argument("--hang", type=float, default=HANG_S, help="seconds after which one hangs")
    parser.add_argument("-o", "--output", default="sound_trial", help="folder that keeps what was found")
    parser.add_argument("--failing-again", action="store_true", help="try those again that were wrong")
    parser.add_argument(
        "--shrink", metavar="FILE", help="make a bracket that is wrong as small as it will go"
    )
    return parser
