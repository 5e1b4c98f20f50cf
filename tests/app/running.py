"""Running the command line inside the tests, with given results in place of an analysis."""

from __future__ import annotations

import sys
import types
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from app.cli.main import main
from geometry.bracket import Bracket
from geometry.bracket_file import save_bracket
from solver.results import Results
from tests.app.example_results import example_bracket


@dataclass(frozen=True)
class Outcome:
    """What one run of the command line left."""

    code: int
    out: str
    err: str


class Runner:
    """Runs the command line with results of the test's own."""

    def __init__(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], folder: Path
    ) -> None:
        self._monkeypatch = monkeypatch
        self._capsys = capsys
        self.folder = folder
        self.asked: list[dict[str, Any]] = []
        """What each analysis was asked with."""

    def run(self, *arguments: str | Path) -> Outcome:
        """Run the command line."""
        self._capsys.readouterr()
        code = main([str(a) for a in arguments])
        seen = self._capsys.readouterr()
        return Outcome(code, seen.out, seen.err)

    def bracket_file(self, name: str = "marlpit", bracket: Bracket | None = None) -> Path:
        """Save a bracket file and return its path."""
        path = self.folder / f"{name}.bracket.json"
        save_bracket(path, example_bracket() if bracket is None else bracket)
        return path

    def answer(self, *answers: Results | BaseException) -> None:
        """Let the next analyses answer with these, the last one for all that follow."""
        waiting = list(answers)

        def analyse(bracket: Bracket, **options: Any) -> Results:  # noqa: ANN401
            self.asked.append({"bracket": bracket, **options})
            answer = waiting.pop(0) if len(waiting) > 1 else waiting[0]
            if isinstance(answer, BaseException):
                raise answer
            return answer

        self.stand_in("solver.analyse", analyse=analyse)

    def stand_in(self, name: str, **members: Callable[..., Any]) -> None:
        """Put a module with these members in the place of one that takes long to load or to answer."""
        module = types.ModuleType(name)
        for key, member in members.items():
            setattr(module, key, member)
        self._monkeypatch.setitem(sys.modules, name, module)


def lines_too_long(text: str, width: int = 80) -> Sequence[str]:
    """Return the lines wider than that."""
    return [line for line in text.splitlines() if len(line) > width]
