"""Every file is put in place in one step, and nothing is written over that is not meant to be."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from geometry.file_replacing import ASIDE, previous_of, replace_file, sweep
from tests.faults.killing import MOST_STEPS, killed_at_step

needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_link_stays_a_link_to_what_is_replaced(tmp_path: Path) -> None:
    real, link = tmp_path / "real", tmp_path / "link"
    real.write_bytes(b"old")
    link.symlink_to(real)
    replace_file(link, b"new", keep_previous=False)
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_what_is_no_file_is_refused(tmp_path: Path) -> None:
    folder, pipe, circle = (tmp_path / name for name in ("folder", "pipe", "circle"))
    folder.mkdir()
    os.mkfifo(pipe)
    circle.symlink_to(circle)
    for target, why in ((folder, "it is a folder"), (pipe, "a device or a pipe"), (circle, "symbolic links")):
        with pytest.raises(OSError, match=why):
            replace_file(target, b"new")
    assert names(tmp_path) == ["circle", "folder", "pipe"]


def test_a_file_that_may_only_be_read_is_not_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system's answer is put in its place: who runs the tests may be allowed everything."""
    target = tmp_path / "mine"
    target.write_bytes(b"protected")
    monkeypatch.setattr(os, "access", lambda path, way: way != os.W_OK)
    with pytest.raises(OSError, match="may only be read"):
        replace_file(target, b"new")
    assert target.read_bytes() == b"protected"


def test_the_longest_name_is_saved_again_and_again(tmp_path: Path) -> None:
    target = tmp_path / ("\u00e4" * 127 + "x")
    assert len(os.fsencode(target.name)) == 255
    for content in (b"first", b"second", b"third"):
        replace_file(target, content)
    assert target.read_bytes() == b"third"
    assert previous_of(target).read_bytes() == b"second"
    assert len(names(tmp_path)) == 2


def test_rights_that_cannot_be_set_keep_nobody_from_saving(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "chmod", refuse)
    replace_file(tmp_path / "mine", b"new")
    assert (tmp_path / "mine").read_bytes() == b"new"


@needs_fork
def test_what_a_killed_process_was_writing_is_swept_and_nothing_else(tmp_path: Path) -> None:
    target = tmp_path / "mine"
    others = [f".other{ASIDE}.txt", f"plain{ASIDE}", ".mine.abcdefgh.part"]
    for name in others:
        (tmp_path / name).touch()
    for step in range(MOST_STEPS):
        assert killed_at_step(lambda: replace_file(target, b"new"), step), "it was never left aside"
        if any(name.startswith(".mine") and name.endswith(ASIDE) for name in names(tmp_path)):
            break
    sweep(tmp_path)
    assert names(tmp_path) == sorted(others)


@needs_fork
def test_what_is_being_written_is_not_swept(tmp_path: Path) -> None:
    reading, telling = os.pipe()
    child = os.fork()
    if child == 0:  # pragma: no cover - another process
        os.fsync = lambda _: (os.write(telling, b"x"), signal.pause())
        replace_file(tmp_path / "mine", b"new")
        os._exit(0)
    try:
        os.read(reading, 1)
        sweep(tmp_path)
        assert len(names(tmp_path)) == 1
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(reading)
        os.close(telling)
    sweep(tmp_path)
    assert names(tmp_path) == []
