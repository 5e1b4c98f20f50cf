"""One run of some test files in a process of its own, forked: what it said, and what it cost.

The process that forks has the libraries loaded and nothing of the program, so a run need not load them anew.
Time is the processor's: other work on the machine makes nothing look like a hang.
"""

from __future__ import annotations

import contextlib
import importlib
import importlib.abc
import importlib.machinery
import json
import os
import resource
import signal
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any, Final

import hypothesis
import pytest

from app.set_up import ROOT

LIBRARIES: Final = (
    *("numpy", "scipy.sparse.linalg", "scipy.optimize", "scipy.spatial", "skfem", "cvxopt", "gmsh"),
    *("shapely", "pydantic", "pint", "meshio", "threadpoolctl", "hypothesis.strategies", "coverage", "typer"),
)
MEMORY_BYTES: Final = 6 * 2**30
FOLDERS: Final = ("solver", "geometry")


@dataclass(frozen=True)
class Run:
    """How a run ended: pytest's exit code (or minus the signal), processor seconds, first failed test."""

    code: int
    seconds: float
    failed: str
    lines: dict[str, list[int]]
    """Lines of each file of the program that were executed, when that was asked for."""


def load_libraries() -> None:
    """Load what every test needs and the program does not own."""
    for name in LIBRARIES:
        importlib.import_module(name)
    import pydantic

    # The first model brings in the rest of that library; while a test file is being read it cannot.
    pydantic.TypeAdapter(pydantic.create_model("First", number=(float, 1.0))).json_schema()


def run_tests(
    files: Sequence[str],
    scratch: Path,
    *,
    seconds: float,
    changed: tuple[str, str] | None = None,
    traced: bool = False,
) -> Run:
    """Run these test files until one fails, with at most so many seconds of the processor.

    `changed` is a file of the program and the text to take in its place; nothing is written to the tree.
    """
    answer = scratch / "answer.json"
    answer.unlink(missing_ok=True)
    child = os.fork()
    if child == 0:
        _run_and_leave(files, answer, seconds, changed, traced)
    # By the clock only what waits for ever is ended.
    code, used = _wait(child, 60.0 + 40.0 * seconds)
    said = json.loads(answer.read_text(encoding="utf-8")) if answer.exists() else {}
    return Run(code, used, str(said.get("failed", "")), said.get("lines", {}))


def _wait(child: int, clock_seconds: float) -> tuple[int, float]:
    until = time.monotonic() + clock_seconds
    while True:
        done, status, usage = os.wait4(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status), usage.ru_utime + usage.ru_stime
        if time.monotonic() > until:
            os.kill(child, signal.SIGKILL)
            until = float("inf")
        time.sleep(0.02)


def _run_and_leave(
    files: Sequence[str], answer: Path, seconds: float, changed: tuple[str, str] | None, traced: bool
) -> None:
    code = 70
    try:
        limit = int(seconds) + 1
        resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 2))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
        with Path(os.devnull).open("w") as nowhere:
            os.dup2(nowhere.fileno(), 1)
            os.dup2(nowhere.fileno(), 2)
        os.chdir(ROOT)
        if changed is not None:
            sys.meta_path.insert(0, _Changed(*changed))
        code = _pytest(files, answer, traced)
    finally:
        os._exit(code)


def _pytest(files: Sequence[str], answer: Path, traced: bool) -> int:
    cover: Any = None
    if traced:
        import coverage

        cover = coverage.Coverage(data_file=None, source=[str(ROOT / f) for f in FOLDERS], config_file=False)
        cover.start()
    watch = _Watch()
    options = ["-x", "-q", "--tb=no", "-p", "no:cacheprovider", "-p", "no:cov", "-p", "no:randomly"]
    code = int(pytest.main([*options, *files], plugins=[watch]))
    said: dict[str, Any] = {"failed": watch.failed}
    if cover is not None:
        cover.stop()
        data = cover.get_data()
        said["lines"] = {
            Path(f).relative_to(ROOT).as_posix(): sorted(data.lines(f) or []) for f in data.measured_files()
        }
    answer.write_text(json.dumps(said), encoding="utf-8")
    return code


class _Watch:
    """Notes the first test that fails, and keeps laws from looking for the smallest example of a failure."""

    failed = ""

    def pytest_sessionstart(self) -> None:
        phases = (hypothesis.Phase.explicit, hypothesis.Phase.generate)
        with contextlib.suppress(hypothesis.errors.InvalidArgument):
            hypothesis.settings.register_profile("faults", hypothesis.settings(), phases=phases)
            hypothesis.settings.load_profile("faults")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and not self.failed:
            self.failed = report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed and not self.failed:
            self.failed = f"{report.nodeid} (not read)"


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
