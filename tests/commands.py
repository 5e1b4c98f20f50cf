"""What `python3 tests` does once it runs inside `.venv`."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def main(arguments: Sequence[str]) -> int:
    """Run the named command, or pytest with the arguments; return the exit code."""
    first = arguments[0] if arguments else "check"
    if first == "check":
        from tests.full_check import run_full_check

        os.chdir(ROOT)
        return run_full_check(arguments[1:])
    if first == "spoil":
        from tests.spoil import run_spoilt

        return run_spoilt(arguments[1:])
    if first == "table":
        from tests.table import print_table

        return print_table(arguments[1:])
    if first == "bench":
        from tests.bench.__main__ import main as bench

        return bench(list(arguments[1:]))
    if first == "band-trial":
        from tests.trial.band_trial import main as band_trial

        return band_trial(arguments[1:])
    if first == "golden":
        from tests.golden.command import main as golden

        return golden(arguments[1:])
    if first == "dependencies":
        from tests.dependencies.command import main as dependencies

        return dependencies(arguments[1:])
    if first == "faults":
        from tests.faults.faults import main as faults

        return faults(arguments[1:])
    if first == "long-day":
        from tests.faults.long_day import main as long_day

        return long_day(arguments[1:])
    if first == "fuzz":
        from tests.fuzz.fuzz import main as fuzz

        return fuzz(arguments[1:])
    absolute = [_absolute(argument) for argument in arguments]
    # pytest reads its settings and the list of test folders from where it is started.
    os.chdir(ROOT)
    return int(pytest.main(absolute))


def _absolute(argument: str) -> str:
    """Return a path of the user's as an absolute one (`tests/a.py::test_b` too); anything else as it is."""
    path, colons, test = argument.partition("::")
    if path and not path.startswith("-") and Path(path).exists():
        return str(Path(path).resolve()) + colons + test
    return argument
