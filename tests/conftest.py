"""Settings of every test run: no display needed, spoiling, and the report other commands read."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from pathlib import Path

import hypothesis
import pytest

from tests import spoil
from tests.run_report import RunReport
from tests.validation import reference

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# A second process for each analysis would see nothing of what a test puts in place of the true thing.
os.environ.setdefault("HOLDSQUARE_HELPER", "no")
# The machine is shared: how long one example takes says nothing. A failure seen once must be seen again.
hypothesis.settings.register_profile("holdsquare", deadline=None, derandomize=True)
hypothesis.settings.load_profile("holdsquare")

TESTS_A_COLLECTION = 10
_ENDED: list[int] = []
_VALIDATION = Path(__file__).parent / "validation"


def pytest_addoption(parser: pytest.Parser) -> None:
    group = parser.getgroup("holdsquare")
    group.addoption(
        "--spoil", choices=list(spoil.WAYS), help="spoil the program by 5 %% (see tests/spoil.py)"
    )
    group.addoption("--report", type=Path, help="write outcomes and comparisons to this JSON file")


def pytest_collection_finish() -> None:
    # Widgets that a test left in rings must not be taken apart in a thread of a later one: that ends the run.
    gc.collect()
    gc.freeze()
    gc.disable()


@pytest.hookimpl(trylast=True)
def pytest_runtest_logfinish() -> None:
    _ENDED.append(1)
    if len(_ENDED) % TESTS_A_COLLECTION == 0:
        gc.collect()


def pytest_configure(config: pytest.Config) -> None:
    way = config.getoption("--spoil")
    if way:
        spoil.spoil(way)
    path = config.getoption("--report")
    if path:
        config.pluginmanager.register(RunReport(path))


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark every test of tests/validation as a reference test, unless it says that it compares no number."""
    for item in items:
        if _VALIDATION in item.path.parents and item.get_closest_marker("qualitative") is None:
            item.add_marker(pytest.mark.reference)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Tell `agrees` which test is running."""
    reference.current_test = item.nodeid
    return (yield)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Iterator[None]:
    """In a spoilt run, fail a test after all its comparisons if any of them disagreed."""
    before = len(reference.comparisons)
    answer = yield
    disagreed = [one.name for one in reference.comparisons[before:] if not one.agreed]
    assert reference.raising or not disagreed, f"spoilt, and seen in {', '.join(disagreed)}"
    return answer
