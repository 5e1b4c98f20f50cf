"""`python3 tests long-day`: does a window that is worked for a day grow? Long; never in CI."""

from __future__ import annotations

import argparse
import gc
import os
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from tests.faults.day import Day

DEEDS, ROWS, SEED = 4800, 16, 20261126
WARM_ROWS: Final = 4
"""Of the table, that are not counted: libraries, fonts, pictures and kept answers come in."""
GROWTH_MB: Final = 40.0
"""Of the window from the end of warming up to the end of the day, at most. The steps of undo are in it."""


@dataclass(frozen=True)
class Taken:
    """What the window's process takes at a moment, once nothing is left to be thrown away."""

    deeds: int
    minutes: float
    window_mb: float
    given_back_mb: float
    """What the C library still held without need, and gave back when it was asked to."""
    worker_mb: float
    files: int
    threads: int
    children: int
    objects: int
    widgets: int


def main(arguments: Sequence[str]) -> int:
    """Work the day and print the table; return 1 if anything grew."""
    parser = argparse.ArgumentParser(prog="python3 tests long-day", description=__doc__)
    parser.add_argument("--deeds", type=int, default=DEEDS, help="how much is done in all")
    parser.add_argument("--rows", type=int, default=ROWS, help="how often it is measured")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--only", nargs="*", default=[], help="these deeds alone, such as edit")
    asked = parser.parse_args(arguments)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HOLDSQUARE_DATA"] = str(Path(folder) / "data")
        taken = _worked(Path(folder), asked)
    told = grown(taken)
    for sentence in told:
        sys.stdout.write(f"{sentence}\n")
    return 1 if told else 0


def grown(taken: Sequence[Taken]) -> list[str]:
    """Return what grew after the window was warm, a sentence each."""
    warm = taken[min(WARM_ROWS, len(taken) - 1) :]
    first, last = warm[0], warm[-1]
    told = []
    if last.window_mb - first.window_mb > GROWTH_MB:
        told.append(f"The window grew from {first.window_mb:.0f} to {last.window_mb:.0f} MB.")
    for name in ("files", "threads", "children", "widgets"):
        before, after = (max(getattr(t, name) for t in half) for half in _halves(warm))
        if after > before:
            told.append(f"There are more {name}: {after}, and {before} before.")
    return told


def _halves(warm: Sequence[Taken]) -> tuple[Sequence[Taken], Sequence[Taken]]:
    middle = max(1, len(warm) // 2)
    return warm[:middle], warm[middle:] or warm[:middle]


def _worked(folder: Path, asked: argparse.Namespace) -> list[Taken]:
    from tests.faults.day import Day

    day = Day(folder, asked.seed, only=tuple(asked.only))
    begun = time.monotonic()
    names = [f.name.replace("_", " ") for f in fields(Taken)]
    sys.stdout.write(f"| {' | '.join(names)} |\n|{'---|' * len(names)}\n")
    taken = []
    try:
        for _ in range(asked.rows):
            day.work(asked.deeds // asked.rows)
            day.wait_for_ink()
            day.rest()
            taken.append(_taken(day, begun))
            row = (getattr(taken[-1], f.name) for f in fields(Taken))
            sys.stdout.write(
                f"| {' | '.join(f'{v:.1f}' if isinstance(v, float) else f'{v}' for v in row)} |\n"
            )
            sys.stdout.flush()
    finally:
        day.end()
    sys.stdout.write(", ".join(f"{name} {count}" for name, count in day.done.most_common()) + "\n")
    return taken


def _taken(day: Day, begun: float) -> Taken:
    from PySide6.QtWidgets import QApplication

    from solver.freed_memory import give_memory_back

    gc.collect()
    before = _mb("self")
    give_memory_back()
    after = _mb("self")
    worker = day.worker.process_id
    return Taken(
        deeds=sum(day.done.values()),
        minutes=(time.monotonic() - begun) / 60.0,
        window_mb=after,
        given_back_mb=before - after,
        worker_mb=0.0 if worker is None else _mb(str(worker)),
        files=len(list(Path("/proc/self/fd").iterdir())),
        threads=len(list(Path("/proc/self/task").iterdir())),
        children=sum(
            len((task / "children").read_text().split()) for task in Path("/proc/self/task").iterdir()
        ),
        objects=len(gc.get_objects()),
        widgets=len(QApplication.allWidgets()),
    )


def _mb(process: str) -> float:
    return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6
