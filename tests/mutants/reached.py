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
from typing import Any, Final, Literal

from app.set_up import ROOT
from tests.mutants.collected import FOLDERS, Collected
from tests.mutants.faults import Fault

SLOWEST_S: Final = 60.0
"""A test file that takes longer, of the processor and traced, is left out and named."""
NAMED: Final = 4.0
"""A test file that names the module is taken to be so much faster: it is the likeliest to see the fault."""


Asked = Literal["naming", "traced", "all"]


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

    def __init__(self, collected: Collected, folder: Path) -> None:
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
        if self._path.exists():
            self._rows = {r["key"]: r for r in map(json.loads, self._path.read_text("utf-8").splitlines())}

    def of(self, file: str, asked: Asked) -> list[Reached]:
        """Return what is reached by the test files naming that module, by those traced so far, or by all."""
        module = file.removesuffix(".py").replace("/", ".")
        package, _, name = module.rpartition(".")
        taken = re.compile(rf"{re.escape(module)}\b|from {re.escape(package)} import [^\n]*\b{name}\b")
        found = []
        for test, text in self._texts.items():
            names = bool(taken.search(text))
            if names or asked == "all" or (asked == "traced" and self._keys[test] in self._rows):
                found.append(self._of(test, names=names))
        return found

    def _of(self, test: str, *, names: bool) -> Reached:
        key = self._keys[test]
        if key not in self._rows:
            run = self._collected.traced(test, SLOWEST_S)
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
