"""`python3 tests golden`: what the program says of every sample, held against the kept table."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Final

from app.set_up import ROOT
from solver.cores import CORES
from solver.kept_plates import KeptPlates
from tests.golden.answers import made_with, names, rows_of
from tests.golden.difference import AGREES, difference
from tests.golden.rows import TABLE, Row, Table, table_of, text_of
from tests.golden.telling import told

SAME, DIFFERENT, BAD_USAGE = 0, 1, 64
OLDER: Final = {
    "GLIBC_TUNABLES": "glibc.cpu.hwcaps=-FMA,-FMA_Usable,-AVX2,-AVX2_Usable,-AVX512F",
    "NPY_DISABLE_CPU_FEATURES": "FMA3 AVX2",
    "OPENBLAS_CORETYPE": "Prescott",
}
"""Keeps sines, numpy and the dense kernels from what newer processors have: all of them round otherwise."""
_AGAIN: Final = "import sys; from tests.golden.command import main; sys.exit(main(sys.argv[1:]))"


def main(arguments: Sequence[str], path: Path = TABLE) -> int:
    """Hold every sample, or those named, against the kept table; return 1 if any differs.

    With `--take` the table is written anew and 0 returned; 64 where a sample is unknown or there is no table.
    """
    asked = _parser().parse_args(arguments)
    wanted = [*dict.fromkeys(asked.only)] or names()
    unknown = sorted({*wanted} - {*names()} - {*_kept(path).samples()})
    if unknown:
        return _refuse(f"There is no sample {unknown[0]}; there are: {', '.join(names())}.")
    if asked.take:
        return _take([name for name in wanted if name in names()], path, whole=not asked.only)
    if not path.exists():
        return _refuse(f"There is no kept table at {path}; make one with `python3 tests golden --take`.")
    if asked.cores or asked.older:
        return max(_in_process(asked, cores) for cores in asked.cores or [CORES])
    return _compare(wanted, path, asked.tolerance, whole=not asked.only)


def _compare(wanted: Sequence[str], path: Path, tolerance: float, *, whole: bool) -> int:
    before = _kept(path)
    _say(f"{CORES} core{'s' * (CORES > 1)}, {len(wanted)} samples, tolerance {tolerance:g}")
    if before.made_with != made_with():
        _say(f"Other libraries than the table's. The table: {before.made_with}. Here: {made_with()}.")
    everything = [*wanted, *(sorted({*before.samples()} - {*names()}) if whole else ())]
    differing = 0
    for name, rows in _judged(everything):
        found = difference(name, before.of(name), rows, tolerance)
        differing += found is not None
        for line in told(found) if found is not None else [f"{name}: the same, {len(rows)} rows"]:
            _say(line)
    _say(f"{len(everything) - differing} the same, {differing} different.")
    return DIFFERENT if differing else SAME


def _take(wanted: Sequence[str], path: Path, *, whole: bool) -> int:
    """Write the rows of the samples wanted; those of the others stay as they are, unless all are wanted."""
    others = [] if whole else [row for row in _kept(path).rows if row.sample not in wanted]
    rows: list[Row] = []
    for name, own in _judged(wanted):
        rows += own
        _say(f"{name}: {len(own)} rows")
    path.write_text(text_of(Table((*others, *rows), made_with())), encoding="utf-8")
    _say(f"{path}: {len(rows)} rows of {len(wanted)} samples; its diff shows what changed.")
    return SAME


def _judged(wanted: Iterable[str]) -> Iterator[tuple[str, list[Row]]]:
    """Yield each sample with its rows, none for one that is gone; samples of the same plates share them."""
    kept = KeptPlates()
    for name in wanted:
        yield name, rows_of(name, kept) if name in names() else []


def _in_process(asked: argparse.Namespace, cores: int) -> int:
    """Run the comparison again in a process that may use so many cores, as an older processor if so `asked`.

    Both are read when the process and its libraries start.
    """
    command = [sys.executable, "-c", _AGAIN, f"--tolerance={asked.tolerance!r}"]
    command += [f"--only={name}" for name in asked.only]
    sys.stdout.flush()
    told = {"HOLDSQUARE_CORES": str(cores)} | (OLDER if asked.older else {})
    return subprocess.call(command, cwd=ROOT, env=os.environ | told)


def _kept(path: Path) -> Table:
    return table_of(path.read_text(encoding="utf-8")) if path.exists() else Table(())


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python3 tests golden", description=__doc__)
    parser.add_argument("--take", action="store_true", help="write the table anew instead of comparing")
    parser.add_argument(
        "--only", action="append", default=[], metavar="NAME", help="this sample; may be repeated"
    )
    parser.add_argument(
        "--cores",
        action="append",
        default=[],
        type=int,
        metavar="N",
        help="compare in a process with so many cores; may be repeated",
    )
    parser.add_argument(
        "--older", action="store_true", help="compare in a process that rounds as an older processor does"
    )
    parser.add_argument(
        "--tolerance",
        type=float,
        default=AGREES,
        help="relative; on another processor 1e-6 (default %(default)g)",
    )
    return parser


def _refuse(sentence: str) -> int:
    sys.stderr.write(sentence + "\n")
    return BAD_USAGE


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()
