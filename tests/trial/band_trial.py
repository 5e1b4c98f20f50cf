"""`python3 tests band-trial`: whether stated bands hold what far finer meshes answer. Long; never in CI."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from pathlib import Path

from geometry.bracket import Bracket
from geometry.file_writing import bracket_text
from geometry.mesh_gmsh import MeshError
from solver.errors import SolverError
from tests.trial.answers import Outcome, outcome_of, try_one
from tests.trial.telling import missed, plot, table, turned

COUNT, SEED = 300, 20261125
ROWS, NOT_SOLVED = "outcomes.jsonl", "not_solved.txt"


def main(arguments: Sequence[str]) -> int:
    """Run the trial, or go on with one that was broken off; return 1 if a pass turned into a fail."""
    asked = _parser().parse_args(arguments)
    folder = Path(asked.output)
    folder.mkdir(parents=True, exist_ok=True)
    known = {o.number: o for o in _read(folder / ROWS) if o.seed == asked.seed}
    if asked.user_again:
        (folder / ROWS).rename(folder / f"{ROWS}.before")
    todo = [n for n in range(asked.count) if asked.user_again or n not in known]
    outcomes = {} if asked.user_again else dict(known)
    for number, found in _tried(asked.seed, todo, known if asked.user_again else {}, asked.jobs):
        if isinstance(found, str):
            sys.stderr.write(f"{number}: {found}\n")
            with (folder / NOT_SOLVED).open("a", encoding="utf-8") as file:
                file.write(f"seed {asked.seed}, number {number}: {found}\n")
            continue
        bracket, outcome = found
        outcomes[number] = outcome
        with (folder / ROWS).open("a", encoding="utf-8") as file:
            file.write(json.dumps(outcome.row()) + "\n")
        _keep(bracket, outcome, folder)
        lost = sum(not c.held_above for c in outcome.checks)
        sys.stderr.write(
            f"{number}: {outcome.title}, {outcome.verdict} ({outcome.finer_verdicts[-1]}), {lost} missed,"
            f" {sum(outcome.seconds):.0f} s\n"
        )
    if not outcomes:
        sys.stderr.write("Nothing was tried.\n")
        return 1
    return _told([outcomes[n] for n in sorted(outcomes)], folder)


def _told(outcomes: Sequence[Outcome], folder: Path) -> int:
    lines = table(outcomes)
    lines += ["", *(_missed_line(o, c.name, c.off, c.band) for o, c in missed(outcomes)[:40])]
    (folder / "table.md").write_text("\n".join(lines) + "\n", encoding="utf-8")
    plot(outcomes, folder / "plot.png")
    sys.stdout.write("\n".join(lines) + "\n")
    return 1 if turned(outcomes) else 0


def _missed_line(outcome: Outcome, name: str, off: float, band: float) -> str:
    return f"- bracket {outcome.number} ({outcome.title}), {name}: {off:+.1%} with a band of {band:.1%}"


def _keep(bracket: Bracket, outcome: Outcome, folder: Path) -> None:
    """Keep a bracket whose band did not hold or whose verdict turned, to be opened."""
    if all(c.held_above for c in outcome.checks) and not turned([outcome]):
        return
    path = folder / f"{outcome.seed}_{outcome.number}.bracket.json"
    path.write_text(bracket_text(bracket), encoding="utf-8")


def _tried(
    seed: int, numbers: Sequence[int], known: dict[int, Outcome], jobs: int
) -> Iterator[tuple[int, tuple[Bracket, Outcome] | str]]:
    one = partial(_one, seed, known)
    if jobs <= 1:
        yield from map(one, numbers)
        return
    # Each process keeps to one core: two that share both are slower than one after the other.
    os.environ["OPENBLAS_NUM_THREADS"] = os.environ["HOLDSQUARE_CORES"] = "1"
    with ProcessPoolExecutor(jobs, get_context("spawn")) as pool:
        yield from pool.map(one, numbers)


def _one(seed: int, known: dict[int, Outcome], number: int) -> tuple[int, tuple[Bracket, Outcome] | str]:
    try:
        return number, try_one(seed, number, known.get(number))
    except (SolverError, MeshError) as fault:
        return number, str(fault)


def _read(path: Path) -> list[Outcome]:
    if not path.exists():
        return []
    return [outcome_of(json.loads(line)) for line in path.read_text(encoding="utf-8").splitlines() if line]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python3 tests band-trial", description=__doc__)
    parser.add_argument("--count", type=int, default=COUNT, help="brackets (default %(default)s)")
    parser.add_argument("--seed", type=int, default=SEED, help="of the random numbers (default %(default)s)")
    parser.add_argument("--jobs", type=int, default=1, help="processes (default %(default)s)")
    parser.add_argument("-o", "--output", default="band_trial", help="folder that keeps what was found")
    parser.add_argument(
        "--user-again",
        action="store_true",
        help="make the user's answers anew and hold them against the finer ones that were kept",
    )
    return parser
