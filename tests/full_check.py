"""`python3 tests`: lint, types, layers, tests; the one check, by hand and by machine."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import IO

import pytest

from app.set_up import ROOT

_LAYERS = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
STEPS: dict[str, list[str]] = {
    "lint": ["-m", "ruff", "check", "--quiet", "--output-format=concise", "."],
    "format": ["-m", "ruff", "format", "--check", "--quiet", "."],
    "types": ["-m", "mypy", "--no-error-summary"],
    "layers": ["-c", _LAYERS],
}
"""Each step before the tests, with the arguments Python runs it by."""


BESIDE = (
    ("tests/app/window/stories", "tests/app/window/lists"),
    ("tests/app/window", "--ignore=tests/app/window/stories", "--ignore=tests/app/window/lists"),
    ("tests/app/worker", "tests/app/test_samples.py", "tests/faults"),
    ("tests/app/test_strangers_files.py", "tests/sound", "tests/golden", "tests/mutants"),
    tuple(
        f"tests/solver/test_{what}.py"
        for what in ("repeatable", "one_at_a_time", "kept_plates", "stays", "buckling")
    ),
)
"""Tests that run beside all the others, about half of the time: a process for each group, one by one.

In one process alone the graphics library ran out of something after some hundred windows and aborted.
"""
_IN_TURN = """
import subprocess, sys
codes = [subprocess.call([sys.executable, "-m", "pytest", "-q", *group]) for group in {groups!r}]
sys.exit(max(codes, key=abs))
"""


def run_full_check(arguments: Sequence[str] = (), root: Path = ROOT) -> int:
    """Run every step, then the tests with `arguments`; return 0 only when all passed.

    Without arguments the tests run in two halves at once, one of them beside the steps already. A step prints
    what it found only when it failed, and so does the half that runs beside. What failed is named again in
    pytest's closing summary, so that the end of a long output does not read like a pass.
    """
    if arguments:
        failed = _failed_steps(root)
        code = int(pytest.main(list(arguments), plugins=[_Reminder(failed)]))
        return code or (1 if failed else 0)
    with tempfile.TemporaryFile("w+", encoding="utf-8") as said:
        command = [sys.executable, "-c", _IN_TURN.format(groups=BESIDE)]
        beside = subprocess.Popen(command, cwd=root, stdout=said, stderr=subprocess.STDOUT)
        failed = _failed_steps(root)
        paths = [path for group in BESIDE for path in group if not path.startswith("--")]
        print(f"beside, in processes of their own: {', '.join(paths)}", flush=True)
        others = [f"--ignore={path}" for path in paths]
        code = int(pytest.main(others, plugins=[_Reminder(failed), _Beside(beside, said)]))
    return code or (1 if failed or beside.returncode else 0)


def _failed_steps(root: Path) -> list[str]:
    return [name for name, command in STEPS.items() if not _passes(name, command, root)]


def _passes(name: str, command: list[str], root: Path) -> bool:
    started = time.monotonic()
    answer = subprocess.run([sys.executable, *command], cwd=root, capture_output=True, text=True, check=False)
    seconds = time.monotonic() - started
    print(f"{name}: {'FAILED' if answer.returncode else 'passed'} ({seconds:.1f} s)", flush=True)
    if answer.returncode:
        print(answer.stdout + answer.stderr, flush=True)
    return answer.returncode == 0


class _Beside:
    """Waits for the half that runs beside, and tells how it ended."""

    def __init__(self, process: subprocess.Popen[bytes], said: IO[str]) -> None:
        self._process, self._said = process, said

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        code = self._process.wait()
        self._said.seek(0)
        lines = self._said.read().rstrip().splitlines()
        terminalreporter.section("beside", red=bool(code))
        for line in lines if code else [line for line in lines if " passed" in line]:
            terminalreporter.line(line)


class _Reminder:
    def __init__(self, failed: list[str]) -> None:
        self._failed = failed

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        if self._failed:
            terminalreporter.section("failed before the tests", red=True)
            terminalreporter.line(", ".join(self._failed))
