"""Which test files execute which lines of the program, found once and kept.

A test file is traced in a process of its own, since what is solved once for all tests of a process would
hide the lines of the second file to ask for it. What is kept of a test file holds until it changes or the
program does.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from app.set_up import ROOT
from tests.mutants.one_run import FOLDERS, run_tests

TEST_FOLDERS: Final = ("tests/geometry", "tests/solver", "tests/validation")
SLOWEST_S: Final = 60.0
"""A test file that takes longer, of the processor and traced, is left out and named."""


@dataclass(frozen=True)
class Reached:
    """One test file: how long it takes, and the lines it executes; `code` is nought if it passes."""

    file: str
    seconds: float
    code: int
    lines: Mapping[str, frozenset[int]]
    text: str
    """What the test file says, to see which modules it names."""

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


def reached_lines(folder: Path) -> list[Reached]:
    """Return what each test file reaches, from `folder`'s `reached.jsonl` where it still holds."""
    kept_path = folder / "reached.jsonl"
    program = hashlib.sha256(json.dumps(program_texts()).encode()).hexdigest()
    kept = {}
    if kept_path.exists():
        kept = {row["key"]: row for row in map(json.loads, kept_path.read_text("utf-8").splitlines())}
    found = []
    for path in _test_files():
        text = path.read_text(encoding="utf-8")
        file = path.relative_to(ROOT).as_posix()
        key = f"{file} {hashlib.sha256((text + program).encode()).hexdigest()}"
        if key not in kept:
            run = run_tests([file], folder, seconds=SLOWEST_S, traced=True)
            sys.stderr.write(f"{file}: exit code {run.code}, {run.seconds:.1f} s\n")
            kept[key] = {"key": key, "seconds": run.seconds, "code": run.code, "lines": run.lines}
            with kept_path.open("a", encoding="utf-8") as rows:
                rows.write(json.dumps(kept[key]) + "\n")
        row = kept[key]
        lines = {f: frozenset(numbers) for f, numbers in row["lines"].items()}
        found.append(Reached(file, row["seconds"], row["code"], lines, text))
    return found


def tests_for(file: str, lines: Sequence[int], reached: Sequence[Reached]) -> list[Reached]:
    """Return the sound test files that execute one of these lines, those that name the module first.

    Within that, the fastest first: a test file that names the module counts as four times as fast.
    """
    module = file.removesuffix(".py").replace("/", ".")
    package, _, name = module.rpartition(".")

    def names_it(test: Reached) -> bool:
        return module in test.text or (f"from {package} import" in test.text and name in test.text)

    asked = [r for r in reached if r.sound and not r.lines.get(file, frozenset()).isdisjoint(lines)]
    return sorted(asked, key=lambda r: r.seconds / (4.0 if names_it(r) else 1.0))


def batches(tests: Sequence[Reached], first_s: float = 6.0) -> Iterator[list[Reached]]:
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


def _test_files() -> list[Path]:
    return sorted(path for folder in TEST_FOLDERS for path in (ROOT / folder).rglob("test_*.py"))
