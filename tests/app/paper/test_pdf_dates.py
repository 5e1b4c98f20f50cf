"""SOURCE_DATE_EPOCH: seconds since 1970, or nothing (reproducible-builds.org, specification, from memory)."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import UTC, datetime

import pytest

from app.paper.pdf_dates import fixed_moment, forget_wrong_moment

NO_MOMENTS = ["", "soon", "-1", "1e9", "\u0663", "999999999999"]


@pytest.mark.parametrize("given", NO_MOMENTS)
def test_what_is_no_moment_is_forgotten(given: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", given)
    forget_wrong_moment()
    assert "SOURCE_DATE_EPOCH" not in os.environ
    assert fixed_moment() is None


def test_a_moment_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    forget_wrong_moment()
    assert fixed_moment() == datetime(1970, 1, 2, tzinfo=UTC)


def test_a_library_that_reads_it_while_it_loads_is_not_in_the_way() -> None:
    """An empty one stopped every command that loads numpy's scipy, with a fault of the program."""
    code = (
        "import sys; from app.cli.main import main; code = main(['materials']);"
        "import scipy.linalg; sys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "SOURCE_DATE_EPOCH": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
