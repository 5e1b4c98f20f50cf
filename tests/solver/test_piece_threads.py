"""The variable that tells how many threads to work with, as sweeps that run side by side set it."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from app.ladder import crew


@pytest.mark.parametrize("cores", ["1", "3"])
def test_threads_are_those_told(cores: str) -> None:
    told = dict.fromkeys(crew._THREADS_TOLD, cores)
    asked = "from solver.cores import CORES; print(CORES)"
    answer = subprocess.run(
        [sys.executable, "-c", asked], env=os.environ | told, capture_output=True, text=True, check=True
    )
    assert answer.stdout.strip() == cores
