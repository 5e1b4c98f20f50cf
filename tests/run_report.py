"""What a test run writes for the commands that read it: how each test ended, and every comparison it made."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.validation import reference


class RunReport:
    """A pytest plugin. Outcomes: passed, failed (a comparison said no), broken (any other error), skipped."""

    def __init__(self, path: Path) -> None:
        self._path = path.resolve()
        self._outcomes: dict[str, str] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_makereport(self, item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[None]:
        report: pytest.TestReport = yield  # type: ignore[assignment]
        said_no = call.excinfo is not None and isinstance(call.excinfo.value, AssertionError)
        if report.failed:
            self._outcomes[item.nodeid] = "failed" if report.when == "call" and said_no else "broken"
        elif report.skipped or report.when == "call":
            self._outcomes[item.nodeid] = report.outcome
        return report  # type: ignore[return-value]

    def pytest_sessionfinish(self) -> None:
        answer: dict[str, Any] = {
            "outcomes": self._outcomes,
            "comparisons": [dataclasses.asdict(comparison) for comparison in reference.comparisons],
        }
        self._path.write_text(json.dumps(answer), encoding="utf-8")
