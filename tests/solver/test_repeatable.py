"""The same file gives the same answer: to the last digit on repeat, and whatever the number of threads."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
FOLDED = ROOT / "sample_brackets" / "marlpit_one_piece.bracket.json"
SEVERAL = ROOT / "sample_brackets" / "two_piece_bolted.bracket.json"


def _checked(file: Path, cores: int, seed: int, *, helper: bool = False) -> dict[str, Any]:
    told = {"HOLDSQUARE_CORES": str(cores), "OPENBLAS_NUM_THREADS": str(cores), "PYTHONHASHSEED": str(seed)}
    told["HOLDSQUARE_HELPER"] = "" if helper else "no"
    done = subprocess.run(
        [sys.executable, "-m", "app", "check", str(file), "--json"],
        cwd=ROOT,
        env=os.environ | told,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode in (0, 1), done.stderr
    answer: dict[str, Any] = json.loads(done.stdout)
    # How long it took is no part of what is said of the bracket.
    assert answer.pop("seconds")["all"] > 0
    return answer


@pytest.mark.parametrize(
    "file", [FOLDED, pytest.param(SEVERAL, marks=pytest.mark.long)], ids=lambda file: file.name.split(".")[0]
)
def test_the_same_file_says_the_same_to_the_last_digit(file: Path) -> None:
    once = _checked(file, 2, 1)
    assert len(once["checks"]) > 10
    # A second process works out a part of it.
    assert json.dumps(_checked(file, 2, 2, helper=True)) == json.dumps(once)
    # One thread too: sums are made in one order, and dense kernels run in the thread that calls them.
    assert json.dumps(_checked(file, 1, 3)) == json.dumps(once)


@pytest.mark.long
def test_every_sample_says_the_same_on_one_core_and_two(tmp_path: Path) -> None:
    """Every figure of every stage, within 1e-9; what is told of a difference says where it began."""
    table = tmp_path / "answers.txt"
    for cores, arguments in (1, ["--take"]), (2, []):
        told = {"HOLDSQUARE_CORES": str(cores), "OPENBLAS_NUM_THREADS": str(cores)}
        program = (
            "import sys; from pathlib import Path; from tests.golden.command import main;"
            f"sys.exit(main({arguments!r}, Path({str(table)!r})))"
        )
        command = [sys.executable, "-c", program]
        done = subprocess.run(
            command, cwd=ROOT, env=os.environ | told, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stdout + done.stderr
    assert "0 different." in done.stdout


def test_no_kernel_takes_threads_of_its_own() -> None:
    """A library that came in late would run, in each of our threads, as many as there are cores."""
    look = (
        "import solver.analyse, scipy.linalg, threadpoolctl\n"
        "told = threadpoolctl.threadpool_info()\n"
        "print(max(one['num_threads'] for one in told if one['user_api'] == 'blas'))"
    )
    command = [sys.executable, "-c", look]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "1"
