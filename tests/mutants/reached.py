"""Which test files execute which lines of the program, found once and kept.

A test file is traced in a process of its own, since what is solved once for all tests of a process would
hide the lines of the second file to ask for it. What is kept of a test file holds until it changes or the
program does.
"""

from __future__ import annotations

import hashlib
import json
import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from app.set_up import ROOT
from tests.mutants.collected import FOLDERS, Collected
from tests.mutants.faults import Fault

SLOWEST_S: Final = 60.0
"""A test file that takes longer, of the processor and traced, is left out and named."""
NAMED: Final = 4.0
"""A test file that names the module is taken to be so much faster: it is the likeliest to see the fault."""


_SOLVES: Final = re.compile(r"solved_once|\banalyse\b|\bSolved\b")


@dataclass(frozen=True)
class Reached:
    """One test file: how long it takes, and the lines it executes; `code` is nought if it passes."""

    file: str
    seconds: float
    code: int
    lines: Mapping[str, frozenset[int]]
    names: bool
    """Whether it imports the module in question itself."""

    @property
    def sound(self) -> bool:
        """Whether it can be asked: it passes without a fault, and in time."""
        return self.code == 0


def program_texts() -> dict[str, str]:
    """Return every file of the program that may get a fault, by its path under the root."""
    return {
        path.relative_to(ROOT).as_posix(): path.read_text(encoding="utf-8")
        for folder in FOLDERS
        for path in sorted((ROOT / folder).rglob("*.py"))
    }


class ReachedLines:
    """What each test file reaches, traced when it is asked for, and kept in `folder`'s `reached.jsonl`."""

    def __init__(self, collected: Collected, folder: Path, slowest_s: float = SLOWEST_S) -> None:
        self._slowest_s = slowest_s
        self._collected = collected
        self._path = folder / "reached.jsonl"
        self._texts = {file: (ROOT / file).read_text(encoding="utf-8") for file in collected.files()}
        program = json.dumps(program_texts())
        self._keys = {
            file: f"{file} {hashlib.sha256((text + program).encode()).hexdigest()}"
            for file, text in self._texts.items()
        }
        self._lines: dict[str, dict[str, frozenset[int]]] = {}
        self._rows: dict[str, dict[str, Any]] = {}
        self._had = 0

    def naming(self, file: str) -> Iterator[list[Reached]]:
        """Yield the test files that import that module themselves: those traced so far, then one by one.

        One that solves a bracket is likely to be slow, so it comes last.
        """
        self._read()
        names = self._naming(file)
        yield [self._of(test, names=True) for test in names if self._keys[test] in self._rows]
        left = [test for test in names if self._keys[test] not in self._rows]
        for test in sorted(left, key=lambda t: (bool(_SOLVES.search(self._texts[t])), len(self._texts[t]))):
            yield [self._of(test, names=True)]

    def all(self, file: str, *, traced: bool) -> list[Reached]:
        """Return all test files, or those traced so far."""
        self._read()
        names = self._naming(file)
        tests = [test for test in self._texts if not traced or self._keys[test] in self._rows]
        return [self._of(test, names=test in names) for test in tests]

    def _read(self) -> None:
        """Take in what was traced since, by another run with the same folder too."""
        if not self._path.exists() or self._path.stat().st_size == self._had:
            return
        self._had = self._path.stat().st_size
        lines = self._path.read_text(encoding="utf-8").splitlines(keepends=True)
        rows = [json.loads(line) for line in lines if line.endswith("\n")]
        # What was ended for being slow is tried again where it may take longer.
        self._rows |= {r["key"]: r for r in rows if r["code"] >= 0 or r["seconds"] >= self._slowest_s}

    def _naming(self, file: str) -> set[str]:
        module = file.removesuffix(".py").replace("/", ".")
        package, _, name = module.rpartition(".")
        taken = re.compile(rf"{re.escape(module)}\b|from {re.escape(package)} import [^\n]*\b{name}\b")
        return {test for test, text in self._texts.items() if taken.search(text)}

    def _of(self, test: str, *, names: bool) -> Reached:
        key = self._keys[test]
        if key not in self._rows:
            self._read()
        if key not in self._rows:
            run = self._collected.traced(test, self._slowest_s)
            sys.stderr.write(f"{test}: exit code {run.code} {run.said.get('failed')}, {run.seconds:.1f} s\n")
            lines = run.said.get("lines", {})
            row = {"key": key, "seconds": run.seconds, "code": run.code, "lines": lines}
            self._rows[key] = row
            with self._path.open("a", encoding="utf-8") as rows:
                rows.write(json.dumps(row) + "\n")
        row = self._rows[key]
        if test not in self._lines:
            self._lines[test] = {f: frozenset(numbers) for f, numbers in row["lines"].items()}
        return Reached(test, row["seconds"], row["code"], self._lines[test], names)


def tests_for(fault: Fault, last_line: int, reached: Sequence[Reached]) -> list[Reached]:
    """Return the sound test files that execute a line of the fault, the fastest and likeliest first.

    What stands outside all functions is executed when the program is loaded, before anything is traced: all
    test files are asked that name the module or execute any line of it.
    """
    lines = range(fault.line, last_line + 1)
    asked = []
    for test in reached:
        there = test.lines.get(fault.file, frozenset())
        within = not there.isdisjoint(lines) if fault.function else bool(there) or test.names
        if test.sound and within:
            asked.append(test)
    return sorted(asked, key=lambda t: t.seconds / (NAMED if t.names else 1.0))


def batches(tests: Sequence[Reached], first_s: float = 3.0) -> Iterator[list[Reached]]:
    """Yield the tests in runs, each twice as long as the one before: most faults are seen in the first."""
    batch: list[Reached] = []
    room = first_s
    for test in tests:
        if batch and sum(t.seconds for t in batch) + test.seconds > room:
            yield batch
            batch, room = [], room * 2.0
        batch.append(test)
    if batch:
        yield batch
