"""An old Python is refused in words, which it can only do if it can read the files that say so."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.python_version import demand_python
from app.set_up import ROOT


@pytest.mark.parametrize("version", [(3, 6), (3, 9), (3, 10)])
def test_old_python_gets_one_sentence(version: tuple[int, int], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        demand_python(version)
    assert left.value.code == 64
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert f"this is Python {version[0]}.{version[1]}" in said


@pytest.mark.parametrize("version", [(3, 11), (3, 20), (4, 0)])
def test_new_python_is_welcome(version: tuple[int, int]) -> None:
    demand_python(version)


@pytest.mark.parametrize(
    "file",
    ["app/__init__.py", "app/__main__.py", "app/python_version.py", "tests/__init__.py", "tests/__main__.py"],
)
def test_files_read_by_an_old_python_parse_there(file: str) -> None:
    text = (ROOT / file).read_text(encoding="utf-8")
    tree = ast.parse(text, feature_version=(3, 7))
    for node in ast.walk(tree):
        # What 3.7 already parses and the first of Python 3 did not.
        assert not isinstance(node, ast.JoinedStr | ast.AnnAssign | ast.AsyncFunctionDef), ast.dump(node)
        assert not (isinstance(node, ast.ImportFrom) and node.module == "__future__")


@pytest.mark.parametrize(
    "file", ["set_up", "installing", "system_libraries", "python_version", "set_up_error"]
)
def test_set_up_needs_nothing_installed(file: str) -> None:
    """The start runs before anything is installed: with no site packages the import must still work."""
    answer = subprocess.run(
        [
            sys.executable,
            "-S",
            "-E",
            "-c",
            f"import sys; sys.path.insert(0, {str(ROOT)!r}); import app.{file}",
        ],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(os.sep),
    )
    assert answer.returncode == 0, answer.stderr
