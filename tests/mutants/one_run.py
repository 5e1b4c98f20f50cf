"""One run of some tests in a process of its own, forked: what it said, and what it cost.

Time is the processor's: other work on the machine makes nothing look like a hang.
"""

from __future__ import annotations

import contextlib
import importlib
import importlib.abc
import importlib.machinery
import importlib.util
import json
import os
import resource
import signal
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any, Final

import hypothesis
import pytest

from app.set_up import ROOT

LIBRARIES: Final = (
    *("numpy", "scipy.sparse.linalg", "scipy.optimize", "scipy.spatial", "skfem", "clarabel", "gmsh"),
    *("shapely", "pydantic", "pint", "meshio", "threadpoolctl", "hypothesis.strategies", "coverage", "typer"),
)
MEMORY_BYTES: Final = 6 * 2**30
OPTIONS: Final = ("-q", "-s", "--tb=no", "--no-header", "-p", "no:cacheprovider", "-p", "no:cov")
CANNOT: Final = 71
"""Exit code of a run that could not put the fault in."""


@dataclass(frozen=True)
class Run:
    """How a run ended: exit code (or minus the signal), processor seconds, and what it said of itself."""

    code: int
    seconds: float
    said: dict[str, Any]


def load_libraries() -> None:
    """Load what every test needs and the program does not own."""
    for name in LIBRARIES:
        importlib.import_module(name)
    import pydantic

    # The first model brings in the rest of that library; while a test file is being read it cannot.
    pydantic.TypeAdapter(pydantic.create_model("First", number=(float, 1.0))).json_schema()


def forked(work: Callable[[], tuple[int, dict[str, Any]]], answer: Path, seconds: float) -> Run:
    """Do this in a fork, with at most so many seconds of the processor; it gives a code and an answer."""
    answer.unlink(missing_ok=True)
    child = os.fork()
    if child == 0:
        code = 70
        try:
            limit = int(seconds) + 1
            resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 2))
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, 1)
            os.dup2(nowhere, 2)
            code, said = work()
            answer.write_text(json.dumps(said), encoding="utf-8")
        finally:
            os._exit(code)
    # By the clock only what waits for ever is ended.
    code, used = _wait(child, 60.0 + 40.0 * seconds)
    return Run(code, used, json.loads(answer.read_text(encoding="utf-8")) if answer.exists() else {})


def run_fresh(files: Sequence[str], answer: Path, seconds: float, changed: tuple[str, str]) -> Run:
    """Run these test files until one fails, in a process that has loaded nothing of the program yet.

    `changed` is a file of the program and the text to take in its place; nothing is written to the tree.
    """

    def work() -> tuple[int, dict[str, Any]]:
        os.chdir(ROOT)
        sys.meta_path.insert(0, _Changed(*changed))
        watch = Watch()
        code = int(pytest.main(["-x", *OPTIONS, *files], plugins=[watch]))
        return code, {"failed": watch.failed}

    return forked(work, answer, seconds)


class Watch:
    """Notes the first test that fails, and keeps laws from looking for the smallest example of a failure."""

    failed = ""

    def pytest_sessionstart(self) -> None:
        """Laws are read after this."""
        phases = (hypothesis.Phase.explicit, hypothesis.Phase.generate)
        with contextlib.suppress(hypothesis.errors.InvalidArgument):
            # A busy machine must not make a law fail for being slow.
            hypothesis.settings.register_profile(
                "faults",
                hypothesis.settings(),
                phases=phases,
                suppress_health_check=(hypothesis.HealthCheck.too_slow,),
            )
            hypothesis.settings.load_profile("faults")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Called thrice a test."""
        if report.failed and not self.failed:
            self.failed = report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        """A fault can keep a test file from being read."""
        if report.failed and not self.failed:
            self.failed = f"{report.nodeid} (not read)"


def _wait(child: int, clock_seconds: float) -> tuple[int, float]:
    until = time.monotonic() + clock_seconds
    while True:
        done, status, usage = os.wait4(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status), usage.ru_utime + usage.ru_stime
        if time.monotonic() > until:
            os.kill(child, signal.SIGKILL)
            until = float("inf")
        time.sleep(0.01)


class _Changed(importlib.abc.MetaPathFinder):
    """Gives one module of the program another text."""

    def __init__(self, file: str, text: str) -> None:
        self._path = ROOT / file
        self._text = text
        self._name = file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")

    def find_spec(
        self, name: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        """Answer for that module alone."""
        if name != self._name:
            return None
        loader = _Loader(name, str(self._path))
        loader.text = self._text
        return importlib.util.spec_from_file_location(name, self._path, loader=loader)


class _Loader(importlib.machinery.SourceFileLoader):
    text = ""

    def get_code(self, fullname: str) -> CodeType:
        """Compile the changed text; the sound one's compiled file is neither read nor overwritten."""
        return compile(self.text, self.path, "exec", dont_inherit=True)
