"""`python3 tests bench`: speed, as ratios. `--long`: to a million unknowns; `--window`: the drag alone."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import resource
import sys
import time
from collections.abc import Sequence

import numpy as np

from solver.cores import CORES
from solver.freed_memory import keep_freed_memory
from tests.bench.bench_meshes import plate_mesh_of
from tests.bench.contestants import Timing, multiplications_per_second, ngsolves, ours, scipys
from tests.bench.whole_check import SAMPLE, whole_check_table
from tests.bench.window_drag import drag_table
from tests.fuzz.watch import peak_bytes

ROUNDS = 5


def main(argv: Sequence[str]) -> int:
    """Print the tables; return 0, or 64 for an option that is not known."""
    unknown = [a for a in argv if a not in ("--long", "--window")]
    if unknown:
        sys.stderr.write(f"python3 tests bench knows no {unknown[0]}; it takes --long and --window\n")
        return 64
    if "--window" in argv:
        drag_table(SAMPLE)
        return 0
    # As whoever analyses does: else it is the system's memory that is measured.
    keep_freed_memory()
    say = sys.stdout.write
    clock = "processor" if CORES == 1 else "wall"
    load = os.getloadavg()[0]
    say("Same mesh, same run: assembly, factorisation, ten back-substitutions and their stress\n")
    say(f"{CORES} threads, {clock} seconds, best of {ROUNDS}; load on the machine {load:.1f}\n\n")
    say("| unknowns | solver | assembly | factorisation | substitutions | stress | all | ours / it |\n")
    say("|---|---|---|---|---|---|---|---|\n")
    for size in (70_000, 300_000):
        _contest(size)
    _growth((10_000, 30_000, 100_000, 300_000, *((1_000_000,) if "--long" in argv else ())))
    _quick_path()
    whole_check_table(SAMPLE)
    drag_table(SAMPLE)
    return 0


def _contest(size: int) -> None:
    mesh = plate_mesh_of(size)
    unknowns = 3 * len(mesh.points)
    ours(plate_mesh_of(10_000))
    mine, theirs = [], []
    # Turn about, so that other work on the machine is in the way of both.
    for _ in range(ROUNDS):
        mine.append(ours(mesh))
        with contextlib.suppress(ImportError):
            theirs.append(ngsolves(mesh))
    best = min(mine, key=lambda t: t.total)
    rows = [("Holdsquare", best)]
    if theirs:
        rows.append(("NGSolve, sparsecholesky", min(theirs, key=lambda t: t.total)))
    else:
        sys.stdout.write("NGSolve is not installed: pip install '.[bench]'\n")
    if size < 100_000:
        rows.append(("scipy, splu on our matrix, no stress", scipys(mesh)))
    for name, timing in rows:
        _row(unknowns, name, timing, best)
        if name != "Holdsquare" and abs(timing.movement_mm - best.movement_mm) > 0.02 * best.movement_mm:
            sys.stdout.write(f"  (answers differ: {best.movement_mm:.5g} and {timing.movement_mm:.5g} mm)\n")
    rate, most = best.operations / best.factorisation, multiplications_per_second()
    sys.stdout.write(
        f"  our factorisation: {best.operations / 1e9:.1f} thousand million multiplications,"
        f" {rate / most:.0%} of the rate at which this machine multiplies dense matrices\n"
    )


def _row(unknowns: int, name: str, timing: Timing, mine: Timing) -> None:
    sys.stdout.write(
        f"| {unknowns} | {name} | {timing.assembly:.2f} | {timing.factorisation:.2f} |"
        f" {timing.substitutions:.2f} | {timing.stress:.2f} | {timing.total:.2f} |"
        f" {mine.total / timing.total:.2f} |\n"
    )


def _growth(sizes: Sequence[int]) -> None:
    say = sys.stdout.write
    say("\nGrowth of time and of the peak memory of a process of its own\n\n")
    say("| unknowns | seconds | MB |\n|---|---|---|\n")
    points = []
    for size in sizes:
        # A process of its own: memory that another size has used is not counted.
        with multiprocessing.get_context("spawn").Pool(1) as pool:
            points.append(pool.apply(_one_size, (size,)))
        say("| {} | {:.2f} | {:.0f} |\n".format(*points[-1]))
    size_log, time_log = np.log([p[0] for p in points]), np.log([p[1] for p in points])
    exponent = float(np.polyfit(size_log, time_log, 1)[0])
    memory = (points[-1][2] - points[0][2]) / (points[-1][0] - points[0][0]) * 1e5
    say(f"\ntime grows with unknowns to the power {exponent:.2f}; {memory:.0f} MB per 100 000 unknowns\n")


def _one_size(size: int) -> tuple[int, float, float]:
    """Return unknowns, seconds and peak memory in MB."""
    keep_freed_memory()
    mesh = plate_mesh_of(size)
    ours(plate_mesh_of(5_000))
    timing = ours(mesh)
    return 3 * len(mesh.points), timing.total, _peak_mb()


def _peak_mb() -> float:
    """Return the most memory this process has had; what getrusage tells begins with its parent's."""
    with contextlib.suppress(OSError):
        return peak_bytes() / 1024.0**2
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def _quick_path() -> None:
    from solver.quick import quick_answer
    from tests.bench.twelve_bolts import twelve_bolts

    whole = twelve_bolts()
    bracket = whole.bracket
    couple = bracket.loads.couple
    changed = bracket.but(loads=bracket.loads.but(couple=couple.but(couple_nm=33.0)))
    for name, call in (
        ("another couple", lambda: quick_answer(whole, changed)),
        ("a bolt out", lambda: quick_answer(whole, out=[bracket.bolts[0].name])),
        ("a bolt slipped", lambda: quick_answer(whole, slipped=[bracket.bolts[0].name])),
    ):
        call()
        begin = time.perf_counter()
        for _ in range(10):
            call()
        sys.stdout.write(f"quick path, 12 bolts, {name}: {(time.perf_counter() - begin) * 100.0:.1f} ms\n")


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
