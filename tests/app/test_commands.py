"""`python3 tests`: arguments reach pytest from any folder, and no failed step hides behind passing tests."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from app.set_up import ROOT
from tests import commands, full_check


def test_paths_are_the_users_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "test_a.py").touch()
    monkeypatch.chdir(tmp_path)
    file = str((tmp_path / "test_a.py").resolve())
    assert commands._absolute("test_a.py") == file
    assert commands._absolute("test_a.py::test_b[1]") == f"{file}::test_b[1]"
    assert commands._absolute("-k") == "-k"
    assert commands._absolute("bolts") == "bolts"


@pytest.mark.parametrize("name", ["golden", "dependencies"])
def test_commands_take_their_own_arguments(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    taken: list[Sequence[str]] = []
    monkeypatch.setattr(f"tests.{name}.command.main", lambda given: taken.append(given) or 7)
    assert commands.main([name, "--only", "x"]) == 7
    assert taken == [["--only", "x"]]


@pytest.mark.parametrize("name", commands.HAND_ON)
def test_who_asks_for_help_is_told_what_it_does(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert commands.main([name, "--help"]) == 0
    assert "python3 tests" in capsys.readouterr().out


@pytest.mark.parametrize(("body", "code"), [("assert True", 0), ("assert False", 1), ("!", 2)])
def test_pytest_exit_code_is_passed_on(body: str, code: int, tmp_path: Path) -> None:
    (tmp_path / "test_a.py").write_text(f"def test_a():\n    {body}\n", encoding="utf-8")
    answer = subprocess.run(
        [sys.executable, "-c", _RUN.format(root=str(ROOT), call="commands.main(['test_a.py', '-q'])")],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert answer.returncode == code, answer.stdout + answer.stderr


@pytest.mark.parametrize(("step", "code"), [("pass", 0), ("raise SystemExit('a finding')", 1)])
def test_failed_step_fails_the_check(step: str, code: int, tmp_path: Path) -> None:
    (tmp_path / "test_a.py").write_text("def test_a():\n    assert True\n", encoding="utf-8")
    program = _RUN.format(
        root=str(ROOT),
        call=f"full_check.run_full_check(['{tmp_path}/test_a.py', '-q'], Path('{tmp_path}'))",
    ).replace("sys.exit", f"full_check.STEPS = {{'lint': ['-c', {step!r}]}}; sys.exit")
    answer = subprocess.run(
        [sys.executable, "-c", program], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert answer.returncode == code, answer.stdout + answer.stderr
    assert ("lint: FAILED" in answer.stdout) is bool(code)
    assert ("a finding" in answer.stdout) is bool(code)
    # Named again near the end, and the last line is still pytest's own.
    assert ("failed before the tests" in answer.stdout) is bool(code)
    assert answer.stdout.splitlines()[-1].startswith("1 passed")


@pytest.mark.parametrize(("body", "code"), [("assert True", 0), ("assert 'beside' == 'it'", 1)])
def test_the_half_that_runs_beside_fails_the_check_too(body: str, code: int, tmp_path: Path) -> None:
    (tmp_path / "test_a.py").write_text("def test_a():\n    assert True\n", encoding="utf-8")
    (tmp_path / "beside").mkdir()
    (tmp_path / "beside" / "test_b.py").write_text(f"def test_b():\n    {body}\n", encoding="utf-8")
    program = _RUN.format(root=str(ROOT), call=f"full_check.run_full_check((), Path('{tmp_path}'))").replace(
        "sys.exit", "full_check.STEPS = {}; full_check.BESIDE = (('beside',),); sys.exit"
    )
    answer = subprocess.run(
        [sys.executable, "-c", program], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert answer.returncode == code, answer.stdout + answer.stderr
    assert "1 passed" in answer.stdout.splitlines()[-1]
    assert ("assert 'beside' == 'it'" in answer.stdout) is bool(code)


def test_every_step_names_a_tool_that_is_there() -> None:
    for command in full_check.STEPS.values():
        tool = command[1] if command[0] == "-m" else "importlinter"
        assert subprocess.run([sys.executable, "-c", f"import {tool}"], check=False).returncode == 0


_RUN = """
import sys
from pathlib import Path
sys.path.insert(0, {root!r})
from tests import commands, full_check
sys.exit({call})
"""
