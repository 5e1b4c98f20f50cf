"""What `python3 tests` does once it runs inside `.venv`."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import pytest

ROOT = Path(__file__).resolve().parent.parent
COMMANDS: Final = {
    "check": "tests.full_check:run_full_check",
    "spoil": "tests.spoil:run_spoilt",
    "table": "tests.table:print_table",
    "bench": "tests.bench.__main__:main",
    "band-trial": "tests.trial.band_trial:main",
    "mutants": "tests.mutants.command:main",
    "golden": "tests.golden.command:main",
    "dependencies": "tests.dependencies.command:main",
    "faults": "tests.faults.faults:main",
    "long-day": "tests.faults.long_day:main",
    "fuzz": "tests.fuzz.fuzz:main",
    "sound": "tests.sound.sound_trial:main",
}
"""Where each command's own work is; it is imported only when asked for."""
HAND_ON: Final = ("check", "spoil", "table", "bench")
"""Those that read no options of their own, or hand them on: what they do is told in their files."""


def main(arguments: Sequence[str]) -> int:
    """Run the named command, or pytest with the arguments; return the exit code."""
    first = arguments[0] if arguments else "check"
    if first in COMMANDS:
        module, function = COMMANDS[first].split(":")
        if first == "check":
            os.chdir(ROOT)
        work = importlib.import_module(module)
        if first in HAND_ON and {"-h", "--help"} & set(arguments):
            # pytest's own help would come of it, or a word about an option that is not known.
            sys.stdout.write(f"{work.__doc__}\n")
            return 0
        return int(getattr(work, function)(list(arguments[1:])))
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
