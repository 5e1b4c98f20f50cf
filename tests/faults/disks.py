"""Saves and exports to disks in trouble: a sentence with place and next step, and the work is still there.

`python -m tests.faults.disks` tries them in a process of its own: it gives up root's leave and may be told to
write no large file.
"""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from geometry.bracket_file import SUFFIX, read_bracket, save_bracket
from tests.faults.poor_disk import be_nobody_special, fill, no_file_above, small_disk
from tests.faults.tried import Tried

_NAME: Final = f"mine{SUFFIX}"
Trouble = Callable[[Path], contextlib.AbstractContextManager[object]]


@dataclass(frozen=True)
class Poor:
    """A disk in trouble from the moment the trouble is entered, the file open in a window by then."""

    name: str
    trouble: Trouble
    said: tuple[str, ...] = ()
    """Pieces of the sentence; none where the save is to succeed all the same."""
    elsewhere: bool = True
    """Whether the program's own data lie on a sound disk."""
    save_as: str = ""
    """Another name to save under; empty saves to the file that is open."""


@contextlib.contextmanager
def _mode(path: Path, mode: int) -> Iterator[None]:
    before = path.stat().st_mode & 0o777
    path.chmod(mode)
    try:
        yield
    finally:
        path.chmod(before)


@contextlib.contextmanager
def _away(path: Path) -> Iterator[None]:
    aside = path.with_name(f"{path.name} away")
    path.rename(aside)
    try:
        yield
    finally:
        if not path.exists():
            aside.rename(path)


@contextlib.contextmanager
def _in_its_place(path: Path, put: Callable[[Path], object]) -> Iterator[None]:
    path.unlink(missing_ok=True)
    put(path)
    yield


@contextlib.contextmanager
def _full(folder: Path) -> Iterator[None]:
    ballast = fill(folder)
    try:
        yield
    finally:
        ballast.unlink()


@contextlib.contextmanager
def _started_in_a_folder_that_went(folder: Path) -> Iterator[None]:
    back = Path.cwd()
    gone = folder / "started here"
    gone.mkdir()
    os.chdir(gone)
    gone.rmdir()
    try:
        yield
    finally:
        os.chdir(back)


@contextlib.contextmanager
def _through_a_link(path: Path) -> Iterator[None]:
    real = path.with_name("real.json")
    path.rename(real)
    path.symlink_to(real)
    yield
    assert path.is_symlink(), "the link was replaced by a file"


POOR: Final = (
    Poor("folder may not be written to", lambda folder: _mode(folder, 0o555),
         ("cannot be saved", "Permission denied", "save elsewhere")),
    Poor("file may only be read", lambda folder: _mode(folder / _NAME, 0o444),
         ("cannot be saved", "the file may only be read", "save elsewhere")),
    Poor("folder went between open and save", _away,
         ("cannot be saved", "No such file or directory", "check that the folder is there")),
    Poor("file went between open and save", lambda folder: _away(folder / _NAME)),
    Poor("a folder stands in the file's place", lambda folder: _in_its_place(folder / _NAME, Path.mkdir),
         ("is a folder", "give a file name")),
    Poor("a pipe stands in the file's place", lambda folder: _in_its_place(folder / _NAME, os.mkfifo),
         ("is a device or a pipe", "give a file name")),
    Poor("a link to itself stands in the file's place",
         lambda folder: _in_its_place(folder / _NAME, lambda path: path.symlink_to(path)),
         ("cannot be saved", "save elsewhere")),
    Poor("a link to a file", lambda folder: _through_a_link(folder / _NAME)),
    Poor("name too long", lambda _: contextlib.nullcontext(), ("cannot be saved", "File name too long"),
         save_as="x" * 300 + SUFFIX),
    Poor("longest name there is", lambda _: contextlib.nullcontext(), save_as="\u00e4" * 121 + SUFFIX),
    Poor("the folder it was started in went", _started_in_a_folder_that_went),
    Poor("no file larger than 200 bytes", lambda _: no_file_above(200), ("cannot be saved", "File too large"),
         elsewhere=False),
    Poor("disk full", _full, ("cannot be saved", "No space left on device")),
)  # fmt: skip


class Trial:
    """One window on one file, for every trouble a new one."""

    def __init__(self, folder: Path) -> None:
        from app.files.settings import Settings
        from app.window.application import application
        from app.window.main_window import MainWindow
        from app.window.still_judge import StillJudge
        from tests.app.window.shown import Answers
        from tests.app.window.stories.builds import whole

        self._program = application(["holdsquare"])
        self.file = folder / _NAME
        save_bracket(self.file, whole())
        self.answers = Answers()
        self.window: Any = MainWindow(Settings(), StillJudge(), self.answers)
        assert self.window.files.open_path(self.file)
        self.window.keeper.begin()
        edited = whole().but(title="edited since")
        self.window.door.attempt("edit", lambda _: edited)

    def save(self, poor: Poor, data: Path) -> str:
        """Save in trouble, and return what is wrong with what came of it."""
        bracket = self.window.door.bracket
        before = None if not self.file.is_file() else self.file.read_bytes()
        if poor.save_as:
            self.answers.save = self.file.with_name(poor.save_as)
        with poor.trouble(self.file.parent):
            for _ in range(1 if poor.said else 2):  # what went well once goes well again
                saved = self.window.files.save_as() if poor.save_as else self.window.files.save()
            said = self.window.page.said.sentence
            self.seen = said
            if not poor.said:
                path = self.answers.save if poor.save_as else self.file
                sound = path is not None and read_bracket(path).bracket == bracket
                return "" if saved and said == "" and sound else f"not saved: {said}"
            wrong = [piece for piece in ("Not saved", *poor.said) if piece not in said]
            kept = [read_bracket(path).bracket for path in data.glob("recovery/*/work.bracket.json")]
        if saved or wrong:
            return f"{said!r} lacks {wrong}"
        if self.window.door.bracket != bracket or not self.window.door.has_unsaved_work:
            return "the work is not in the window any more, or counts as saved"
        if poor.elsewhere and bracket not in kept:
            return "the work was not kept aside when it could not be saved"
        if self.file.is_file() and before is not None and self.file.read_bytes() != before:
            return "the file was changed"
        return ""

    def end(self) -> None:
        """Close the window."""
        self.answers.leaving = "leave"
        self.window.close()


def tried(names: tuple[str, ...] = ()) -> Iterator[Tried]:
    """Yield what came of every trouble; a disk that cannot be made small is said to be left out."""
    for poor in POOR:
        if names and poor.name not in names:
            continue
        one = Tried("save", poor.name)
        with tempfile.TemporaryDirectory() as name:
            data = Path(name) / "data"
            os.environ["HOLDSQUARE_DATA"] = str(data)
            folder = Path(name) / "work"
            with small_disk(folder) if poor.name == "disk full" else contextlib.nullcontext(True) as there:
                if not there:
                    one.seen = "left out: no disk could be mounted"
                    yield one
                    continue
                folder.mkdir(exist_ok=True)
                trial = Trial(folder)
                try:
                    one.note(trial.save(poor, data))
                    one.seen = trial.seen.replace(name, "")
                finally:
                    trial.end()
        yield one


if __name__ == "__main__":
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    wanted = tuple(sys.argv[1:])
    # mounting needs root's leave, all else must be without it
    rows = list(tried(("disk full",))) if not wanted or "disk full" in wanted else []
    be_nobody_special()
    rest = tuple(p.name for p in POOR if p.name != "disk full" and (not wanted or p.name in wanted))
    rows += list(tried(rest)) if rest else []
    if not wanted or "exports" in wanted:
        from tests.faults.exports import tried as exported

        rows += list(exported())
    sys.stdout.write("".join(f"{row.row}\n" for row in rows))
    sys.exit(1 if any(row.wrong for row in rows) else 0)
