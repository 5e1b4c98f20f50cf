"""The first start: what it makes, what it does the second time, and what it says when it cannot."""

from __future__ import annotations

import fcntl
import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from app import __main__ as start
from app import installing, set_up
from app.set_up_error import SetUpError

PROJECT = """
[project]
name = "holdsquare"
requires-python = ">=3.11"
dependencies = ["numpy>=2,<3"]
description = "one"
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "pyproject.toml").write_text(PROJECT, encoding="utf-8")
    return tmp_path


@pytest.fixture
def installed(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """Stand in for pip and venv, which need a network; the list holds the extras of each installation."""
    calls: list[tuple[str, ...]] = []

    def make_venv(venv: Path) -> None:
        python = venv / "bin/python"
        python.parent.mkdir(parents=True)
        # A link would be the Python behind this one, which on a bare Debian has no pip.
        python.write_text(f'#!/bin/sh\nexec "{sys.executable}" "$@"\n')
        python.chmod(0o755)

    def install(python: Path, root: Path, extras: Sequence[str]) -> None:
        assert python.exists()
        calls.append(tuple(extras))

    monkeypatch.setattr(set_up, "make_venv", make_venv)
    monkeypatch.setattr(set_up, "install", install)
    monkeypatch.setattr(set_up, "provide_libraries", lambda: True)
    return calls


def test_second_start_installs_nothing(root: Path, installed: list[tuple[str, ...]]) -> None:
    python = set_up.set_up(root, [])
    assert python == root / ".venv/bin/python"
    set_up.set_up(root, [])
    assert installed == [()]


def test_test_tools_are_added_and_kept(root: Path, installed: list[tuple[str, ...]]) -> None:
    set_up.set_up(root, [])
    set_up.set_up(root, ["test"])
    set_up.set_up(root, [])
    assert installed == [(), ("test",)]
    _change_dependencies(root)
    set_up.set_up(root, [])
    assert installed[2:] == [("test",)]


def test_only_dependencies_count_as_a_change(root: Path, installed: list[tuple[str, ...]]) -> None:
    set_up.set_up(root, [])
    (root / "pyproject.toml").write_text(PROJECT.replace('"one"', '"two"') + "[tool.other]\nx = 1\n")
    set_up.set_up(root, [])
    assert len(installed) == 1
    _change_dependencies(root)
    set_up.set_up(root, [])
    assert len(installed) == 2


def test_interrupted_installation_is_begun_anew(
    root: Path, installed: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    def killed(python: Path, root: Path, extras: Sequence[str]) -> None:
        (root / ".venv/half_unpacked").touch()
        raise KeyboardInterrupt

    with monkeypatch.context() as context:
        context.setattr(set_up, "install", killed)
        with pytest.raises(KeyboardInterrupt):
            set_up.set_up(root, [])
    assert not (root / ".venv/holdsquare.json").exists()
    set_up.set_up(root, [])
    assert installed == [()]
    assert not (root / ".venv/half_unpacked").exists()


def test_moved_folder_is_installed_anew(root: Path, installed: list[tuple[str, ...]]) -> None:
    set_up.set_up(root, ["test"])
    moved = root.with_name("moved")
    root.rename(moved)
    (moved / ".venv/of_the_old_place").touch()
    set_up.set_up(moved, [])
    assert len(installed) == 2
    assert not (moved / ".venv/of_the_old_place").exists()


def test_damaged_stamp_is_repaired(root: Path, installed: list[tuple[str, ...]]) -> None:
    set_up.set_up(root, [])
    for damage in ("", "[]", '{"extras": 3}', "\x00"):
        (root / ".venv/holdsquare.json").write_text(damage)
        set_up.set_up(root, [])
        assert "place" in json.loads((root / ".venv/holdsquare.json").read_text())
    assert len(installed) == 5


def test_missing_libraries_are_looked_for_again(
    root: Path, installed: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = [False, True]
    monkeypatch.setattr(set_up, "provide_libraries", lambda: answers.pop(0))
    for _ in range(3):
        set_up.set_up(root, [])
    assert answers == []
    assert installed == [()]


def test_two_starts_at_once_install_once(root: Path) -> None:
    """Two processes, one slow installation: the second waits, then finds the work done."""
    program = f"""
import sys, time
from pathlib import Path
from app import set_up
root = Path({str(root)!r})
def make_venv(venv):
    (venv / "bin").mkdir(parents=True)
    (venv / "bin/python").symlink_to(sys.executable)
def install(python, root, extras):
    (root / "started").touch()
    time.sleep(0.6)
    with (root / "installations").open("a") as file:
        file.write("one\\n")
set_up.make_venv, set_up.install, set_up.provide_libraries = make_venv, install, lambda: True
print(set_up.set_up(root, []))
"""
    starts = [
        subprocess.Popen(
            [sys.executable, "-c", program],
            cwd=set_up.ROOT,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for _ in range(2)
    ]
    answers = [start.communicate(timeout=60) for start in starts]
    assert [start.returncode for start in starts] == [0, 0], answers
    assert (root / "installations").read_text() == "one\n"
    assert "waiting for it to finish" in "".join(said for _, said in answers)


def test_lock_is_let_go(root: Path, installed: list[tuple[str, ...]]) -> None:
    set_up.set_up(root, [])
    with (root / ".venv.lock").open() as file:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


def test_folder_that_cannot_be_written(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Root may write anywhere, so the refusal of the system is played here.
    def refuse(path: Path, *_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(SetUpError, match=r"cannot write in .* \(Permission denied\): copy the folder"):
        set_up.set_up(root, [])


def test_disk_that_is_full(
    root: Path, installed: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(venv: Path, stamp: dict[str, object]) -> None:
        raise OSError(28, "No space left on device", str(venv))

    monkeypatch.setattr(set_up, "_write_stamp", full)
    with pytest.raises(SetUpError, match=r"No space left on device.*make room"):
        set_up.set_up(root, [])


@pytest.mark.parametrize("name", ["venv", "ensurepip"])
def test_python_without_venv(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = installing.importlib.util.find_spec
    monkeypatch.setattr(
        installing.importlib.util, "find_spec", lambda asked: None if asked == name else real(asked)
    )
    with pytest.raises(SetUpError, match=r"has no venv module: install it .*-venv`\) and start"):
        installing.make_venv(tmp_path / ".venv")


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (
            "WARNING: Retrying ... NewConnectionError('...')\nERROR: No matching distribution found for gmsh",
            "cannot be reached",
        ),
        (
            "Could not fetch URL: There was a problem confirming the ssl certificate: (Caused by SSLError("
            "SSLCertVerificationError(1, '[SSL: CERTIFICATE_VERIFY_FAILED] certificate verify failed'))) - "
            "skipping\nERROR: No matching distribution found for hatchling",
            "certificate that pip does not trust.*set PIP_CERT",
        ),
        ("ERROR: No matching distribution found for gmsh>=4.13", r"has no gmsh>=4\.13 for this machine"),
        ("Collecting a\nERROR: Wheel 'x' is invalid.\n\n", "Installing failed: ERROR: Wheel 'x' is invalid"),
        ("", "no reason was given"),
    ],
)
def test_pip_failure_in_words(said: str, told: str, tmp_path: Path) -> None:
    """pip itself is replaced by a program that says what pip says, and fails."""
    (tmp_path / ".venv").mkdir()
    python = tmp_path / "python"
    python.write_text(f"#!{sys.executable}\nimport sys\nprint({said!r})\nsys.exit(1)\n")
    python.chmod(0o755)
    with pytest.raises(SetUpError, match=told):
        installing.install(python, tmp_path, [])
    assert (tmp_path / ".venv/install.log").read_text().strip() == said.strip()


def test_progress_is_two_lines_off_a_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / ".venv").mkdir()
    python = tmp_path / "python"
    python.write_text(
        f"#!{sys.executable}\nfor n in range(300): print('Collecting p%d' % n)\n"
        "print('Installing collected packages: ' + ', '.join('abc'))\n"
    )
    python.chmod(0o755)
    installing.install(python, tmp_path, ["test"])
    answer = capsys.readouterr()
    assert answer.out == ""
    first, second = answer.err.splitlines()
    assert first == "Installing Holdsquare ..."
    assert second.startswith("Installing Holdsquare: done in ")
    assert second.endswith(" s, 3 packages")


def _change_dependencies(root: Path) -> None:
    (root / "pyproject.toml").write_text(PROJECT.replace("<3", "<4"), encoding="utf-8")


def test_a_key_pressed_while_the_program_is_being_read_is_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def press(_main_file: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(sys, "path", list(sys.path))
    monkeypatch.setattr(set_up, "start_inside", press)
    with pytest.raises(SystemExit) as left:
        start.run()
    assert left.value.code == 130
    assert capsys.readouterr().err == "Stopped; there is no verdict.\n"
