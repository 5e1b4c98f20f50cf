"""Building: aside, tried, put in place; and a sentence when it does not come to that."""

from __future__ import annotations

import stat
import sys
from pathlib import Path

import pytest

from app.bundle import building
from app.bundle.building import BundleError, build
from app.cli import bundle_command
from app.set_up import ROOT
from tests.app.running import Runner

pytestmark = pytest.mark.skipif(
    sys.platform == "win32", reason="the stand-in for PyInstaller is a shell script"
)


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Let a small folder stand in for what PyInstaller makes; the list holds what its start file runs."""
    script = ["exit 0"]

    def make(root: Path, aside: Path, progress: object) -> Path:
        folder = aside / "made" / building.NAME
        (folder / building.PROGRAM).mkdir(parents=True)
        start = folder / building.NAME
        start.write_text(f"#!/bin/sh\n{script[0]}\n", encoding="utf-8")
        start.chmod(start.stat().st_mode | stat.S_IXUSR)
        return folder

    monkeypatch.setattr(building, "_made", make)
    return script


def test_it_is_put_in_place_and_takes_the_place_of_an_older_one(made: list[str], tmp_path: Path) -> None:
    first = build(ROOT, tmp_path / "new")
    assert first.folder == tmp_path / "new" / "holdsquare"
    assert first.start_file.is_file()
    (first.folder / "old").touch()
    build(ROOT, tmp_path / "new")
    assert sorted(path.name for path in first.folder.iterdir()) == ["holdsquare", building.PROGRAM]
    assert [path.name for path in (tmp_path / "new").iterdir()] == ["holdsquare"]


def test_one_that_does_not_start_leaves_the_older_one(made: list[str], tmp_path: Path) -> None:
    old = build(ROOT, tmp_path)
    (old.folder / "old").touch()
    made[0] = "echo 'OSError: no library' >&2; echo failed >&2; exit 3"
    with pytest.raises(BundleError, match="fails its trial: OSError: no library"):
        build(ROOT, tmp_path)
    assert (old.folder / "old").exists()
    assert [path.name for path in tmp_path.iterdir()] == ["holdsquare"]


def test_nothing_else_is_overwritten(made: list[str], tmp_path: Path) -> None:
    (tmp_path / "holdsquare").mkdir()
    (tmp_path / "holdsquare" / "letters").touch()
    with pytest.raises(BundleError, match="is no bundle: move it"):
        build(ROOT, tmp_path)
    assert (tmp_path / "holdsquare" / "letters").exists()


def test_a_place_that_cannot_be_written_is_named(made: list[str], tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(BundleError, match=r"cannot be written to .*file"):
        build(ROOT, tmp_path / "file" / "below")


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (["PyInstaller.exceptions.PythonLibraryNotFoundError: ..."], "apt-get install libpython3"),
        (
            [
                "ERROR: ERROR: Python shared library ('libpython3.11.so.1.0') was not found! If you are",
                "using system python on Debian/Ubuntu, you might need to install a separate package",
            ],
            "apt-get install libpython3",
        ),
        (
            ["ERROR: On Linux, objdump is required. It is typically provided by the 'binutils' package"],
            "`apt-get install binutils`) and build again",
        ),
        (["12 ERROR: ERROR: no such thing"], "failed: no such thing"),
        (["OSError: [Errno 28] No space left on device"], "The disk is full"),
        (["a", "ValueError: b", ""], "failed: ValueError: b"),
        ([], "no reason was given"),
    ],
)
def test_why_it_failed(said: list[str], words: str) -> None:
    assert words in building._why(said)


def test_progress_follows_what_is_said() -> None:
    told: list[tuple[str, float]] = []
    for line in (
        "12 INFO: Building PYZ (ZlibArchive)",
        "nothing",
        "13 INFO: Building COLLECT COLLECT-00.toc",
    ):
        building._tell(line, lambda stage, share: told.append((stage, share)))
    assert [stage for stage, _ in told] == ["packing", "copying"]
    assert told[0][1] < told[1][1] < 1.0


def test_a_bundle_builds_no_bundle(cli: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    outcome = cli.run("bundle")
    assert outcome.code == 64
    assert "This is a bundle already" in outcome.err


def test_a_copy_without_its_source_builds_no_bundle(
    cli: Runner, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(bundle_command, "ROOT", tmp_path)
    outcome = cli.run("bundle")
    assert outcome.code == 64
    assert "built from the source folder" in outcome.err


def test_the_command_says_what_it_built(
    cli: Runner, made: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    asked: list[object] = []
    monkeypatch.setattr(bundle_command.importlib.util, "find_spec", lambda name: None)
    monkeypatch.setattr(bundle_command, "set_up", lambda root, extras: asked.append((root, extras)))
    outcome = cli.run("bundle", "-o", tmp_path / "out")
    assert (outcome.code, asked) == (0, [(ROOT, ("bundle",))])
    assert str(tmp_path / "out" / "holdsquare") in outcome.out.replace("\n", "")
