"""`.venv/bin/python -m tests.bench.whole_check [FILE]`: a whole check, from bracket to verdict, warm.

With the helper where there is a second core. Once the same bracket again and again, whose first mesh the
helper then has solved already, and once a bracket that neither has seen.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterable
from pathlib import Path

from app.editing.outline import move_corner
from app.worker.helper import have_second_process
from app.worker.working_thread import ready_to_work
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from solver.analyse import analyse
from solver.cores import CORES
from solver.helper import helper_had

SAMPLE = Path(__file__).resolve().parents[2] / "sample_brackets" / "marlpit_one_piece.bracket.json"
ROUNDS = 9
STEP_MM = 0.05


def whole_check_table(sample: Path) -> None:
    """Print least and median time, s, or that there is no bracket in the file."""
    bracket = read_bracket(sample).bracket
    if bracket is None:
        sys.stdout.write(f"\n{sample.name} cannot be read: the whole check was not timed\n")
        return
    have_second_process()
    beside = "alone" if helper_had() is None else "with the helper"
    sys.stdout.write(
        f"\nWhole check of {sample.name}, {CORES} cores, {beside}, best and middle of {ROUNDS}\n\n"
    )
    sys.stdout.write("| bracket | best s | middle s |\n|---|---|---|\n")
    _row("the same again", [bracket] * (ROUNDS + 1))
    _row("another each time", [_moved(bracket, i) for i in range(1, ROUNDS + 2)])


def _moved(bracket: Bracket, number: int) -> Bracket:
    """Return the bracket with a corner of its first plate moved a hair."""
    plate = bracket.plates[0]
    x, y = plate.outline[2].at_mm
    return bracket.with_plate(move_corner(plate, 2, (x, y + STEP_MM * number)))


def _row(what: str, brackets: Iterable[Bracket]) -> None:
    walls = []
    for bracket in brackets:
        begin = time.perf_counter()
        analyse(bracket)
        walls.append(time.perf_counter() - begin)
    walls = sorted(walls[1:])
    sys.stdout.write(f"| {what} | {walls[0]:.2f} | {walls[len(walls) // 2]:.2f} |\n")


if __name__ == "__main__":
    ready_to_work()
    whole_check_table(Path(sys.argv[1]) if len(sys.argv) > 1 else SAMPLE)
