"""Killed at every step of every write, and at random moments: old or new stands there whole, no litter."""

from __future__ import annotations

import random
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from geometry.file_replacing import ASIDE, sweep
from tests.faults.killing import MOST_STEPS, killed_at_random, killed_at_step, time_of
from tests.faults.tried import Tried
from tests.faults.written import Written, all_written

RANDOM: Final = 500
"""Kills at random moments, over all that is written."""
_ALWAYS_THERE: Final = ("~", ".lock", ".json", ".dxf", ".svg", ".pdf", ".sqlite3", ".sqlite3-journal")


def killed(seed: int, kills: int = RANDOM, names: Sequence[str] = ()) -> Iterator[Tried]:
    """Yield what came of killing every write: step by step, then `kills` times at random moments in all."""
    chosen = [one for one in all_written() if not names or one.name in names]
    die = random.Random(seed)
    for place, one in enumerate(chosen):
        yield at_every_step(one)
        times = kills // len(chosen) + (place < kills % len(chosen))
        yield at_random(one, die, times)


def at_every_step(one: Written) -> Tried:
    """Kill the first write and the second at each step they have."""
    tried = Tried("killed at each step", one.name)
    for number in (1, 2):
        for step in range(MOST_STEPS):
            with tempfile.TemporaryDirectory() as name:
                folder = Path(name)
                one.begin(folder)

                def write(folder: Path = folder, number: int = number) -> None:
                    for version in range(1, number):
                        one.write(folder, version)
                    one.write(folder, number)

                if not killed_at_step(write, step):
                    break
                tried.note(_look(one, folder, range(number + 1)), f"version {number}, step {step}")
        else:
            tried.note(f"it took more than {MOST_STEPS} steps", "")
    return tried


def at_random(one: Written, die: random.Random, times: int) -> Tried:
    """Kill a process that writes on and on, at random moments."""
    tried = Tried("killed at random", one.name)
    with tempfile.TemporaryDirectory() as name:
        one.begin(Path(name))
        takes_s = time_of(lambda number: one.write(Path(name), number))
    for turn in range(times):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            one.begin(folder)
            done = killed_at_random(lambda number, folder=folder: one.write(folder, number), die, takes_s)
            # what was written for certain stands there, or the one that was being written
            tried.note(_look(one, folder, (done, done + 1)), f"turn {turn}, {done} written")
    return tried


def _look(one: Written, folder: Path, allowed: Sequence[int]) -> str:
    """Return what is wrong with what a killed process left, or nothing."""
    try:
        found = one.newest(folder)
    except (AssertionError, OSError, ValueError) as wrong:
        return f"{type(wrong).__name__}: {wrong}"
    if found != -1 and found not in allowed:
        return f"version {found} stands there, not one of {list(allowed)}"
    for place in {path.parent for path in folder.rglob("*")} | {folder}:
        sweep(place)
    litter = [path.name for path in folder.rglob("*") if path.is_file() and not _known(path)]
    return f"left lying: {litter}" if litter else ""


def _known(path: Path) -> bool:
    return not path.name.endswith(ASIDE) and path.name.endswith(_ALWAYS_THERE)
