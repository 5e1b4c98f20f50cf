"""A process that has read all tests once and forks for each run: a fault in a function is put in there.

Loading the program and the tests takes longer than most tests do. A fault in the body of a function needs
neither again: its function is given the changed code, wherever it is held. What was kept by functions that
remember their answers is forgotten first.
"""

from __future__ import annotations

import functools
import gc
import json
import os
import signal
from collections.abc import Sequence
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, Final

import pytest

from app.set_up import ROOT
from tests.mutants.faults import Fault
from tests.mutants.one_run import CANNOT, OPTIONS, Run, Watch, forked

TEST_FOLDERS: Final = ("tests/geometry", "tests/solver", "tests/validation")
FOLDERS: Final = ("solver", "geometry")
"""The program's, that get faults."""


class Collected:
    """The process that has read all tests; ask it for runs, and `end` it."""

    def __init__(self, scratch: Path) -> None:
        self._answer = scratch / f"collected-{os.getpid()}.json"
        asks, self._to = os.pipe()
        self._from, tells = os.pipe()
        self._process = os.fork()
        if self._process == 0:
            try:
                os.chdir(ROOT)
                waiting = _Waiting(os.fdopen(asks, "r"), os.fdopen(tells, "w"), self._answer)
                pytest.main([*OPTIONS, *TEST_FOLDERS], plugins=[waiting.watch, waiting])
            finally:
                os._exit(0)
        os.close(asks)
        os.close(tells)
        self._asking = os.fdopen(self._to, "w")
        self._telling = os.fdopen(self._from, "r")

    def files(self) -> list[str]:
        """Return the test files that were read."""
        return list(self._ask({"want": "files"})["files"])

    def traced(self, file: str, seconds: float) -> Run:
        """Run one test file and say which lines of the program it executes."""
        return Run(**self._ask({"want": "run", "files": [file], "seconds": seconds, "traced": True}))

    def run(self, files: Sequence[str], seconds: float, fault: Fault, text: str) -> Run:
        """Run test files with a fault in a function's body; code `CANNOT` if that function was not found."""
        where = {"file": fault.file, "function": fault.function, "line": fault.line, "text": text}
        return Run(**self._ask({"want": "run", "files": list(files), "seconds": seconds, "fault": where}))

    def end(self) -> None:
        """End the process."""
        os.kill(self._process, signal.SIGKILL)
        os.waitpid(self._process, 0)

    def _ask(self, wish: dict[str, Any]) -> dict[str, Any]:
        self._asking.write(json.dumps(wish) + "\n")
        self._asking.flush()
        line = self._telling.readline()
        if not line:
            raise RuntimeError("the tests could not be read: run pytest on them")
        told: dict[str, Any] = json.loads(line)
        return told


class _Waiting:
    """Takes the place of pytest's loop over the tests: waits for wishes, and forks for each."""

    def __init__(self, asks: Any, tells: Any, answer: Path) -> None:  # noqa: ANN401 - text files
        self._asks, self._tells, self._answer = asks, tells, answer
        self._functions: dict[tuple[str, str, int], list[FunctionType]] = {}
        self._memories: list[Any] = []
        self.watch = Watch()

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Answer wishes until nobody asks any more."""
        by_file: dict[str, list[pytest.Item]] = {}
        for item in session.items:
            by_file.setdefault(item.path.relative_to(ROOT).as_posix(), []).append(item)
        self._look_round()
        for line in self._asks:
            wish = json.loads(line)
            if wish["want"] == "files":
                told: dict[str, Any] = {"files": sorted(by_file)}
            else:
                items = [item for file in wish["files"] for item in by_file[file]]
                run = forked(functools.partial(self._run, items, wish), self._answer, wish["seconds"])
                told = {"code": run.code, "seconds": run.seconds, "said": run.said}
            self._tells.write(json.dumps(told) + "\n")
            self._tells.flush()
        return True

    def _look_round(self) -> None:
        """Find every function of the program, and everything that remembers answers."""
        gc.unfreeze()
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType) and thing.__code__.co_filename.startswith(str(ROOT)):
                code = thing.__code__
                key = (code.co_filename, code.co_qualname, code.co_firstlineno)
                self._functions.setdefault(key, []).append(thing)
            elif isinstance(thing, functools._lru_cache_wrapper) and _is_ours(thing.__module__):
                self._memories.append(thing)
        gc.freeze()

    def _run(self, items: Sequence[pytest.Item], wish: dict[str, Any]) -> tuple[int, dict[str, Any]]:
        if "fault" in wish and not self._put_in(**wish["fault"]):
            return CANNOT, {}
        cover: Any = None
        if wish.get("traced"):
            import coverage

            cover = coverage.Coverage(
                data_file=None, source=[str(ROOT / f) for f in FOLDERS], config_file=False
            )
            cover.start()
        for item, following in zip(items, [*items[1:], None], strict=True):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if self.watch.failed:
                break
        said: dict[str, Any] = {"failed": self.watch.failed}
        if cover is not None:
            cover.stop()
            data = cover.get_data()
            said["lines"] = {
                Path(f).relative_to(ROOT).as_posix(): sorted(data.lines(f) or [])
                for f in data.measured_files()
            }
        return int(bool(self.watch.failed)), said

    def _put_in(self, file: str, function: str, line: int, text: str) -> bool:
        """Give the function that stands there its changed code; False if it cannot be had."""
        path = str(ROOT / file)
        new = _code_at(compile(text, path, "exec", dont_inherit=True), function, line)
        holders = self._functions.get((path, new.co_qualname, new.co_firstlineno), []) if new else []
        if new is None or not holders:
            return False
        for memory in self._memories:
            memory.cache_clear()
        try:
            for holder in holders:
                holder.__code__ = new
        except ValueError:  # it closes over other names than before
            return False
        return True


def _is_ours(module: str | None) -> bool:
    return (module or "").partition(".")[0] in (*FOLDERS, "tests")


def _code_at(code: CodeType, function: str, line: int) -> CodeType | None:
    """Return the code of the function of this name that begins last before the line."""
    best: CodeType | None = None
    for part in code.co_consts:
        if not isinstance(part, CodeType) or part.co_firstlineno > line:
            continue
        found = part if part.co_qualname == function else _code_at(part, function, line)
        if found is not None and (best is None or found.co_firstlineno > best.co_firstlineno):
            best = found
    return best
