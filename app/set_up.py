"""The first start: make `.venv` beside the code, install the program in it, and run again inside.

Standard library alone. Later starts read one small file, the stamp, and go straight on. Words:

- **stamp**: `.venv/holdsquare.json`, written last: what was installed, for which place and dependencies.
- **lock**: `.venv.lock`, held by the process that installs. It reads "installing" until that is done, so a
  start that finds it free but still reading so knows an installation was cut short, and makes `.venv` anew.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import IO, NoReturn

from app.installing import install, make_venv
from app.python_version import BAD_USAGE
from app.set_up_error import SetUpError
from app.system_libraries import provide_libraries

ROOT = Path(__file__).resolve().parent.parent
_UNFINISHED = "installing"


def start_inside(main_file: str, extras: Sequence[str] = ()) -> None:
    """Return when this process runs inside `.venv`; otherwise set it up and run `main_file` again inside.

    `extras` are optional dependencies of pyproject.toml wanted too. Leaves with one sentence and exit code 64
    when the program cannot be set up. A copy installed by pip, without pyproject.toml beside it, is left.
    """
    if not (ROOT / "pyproject.toml").is_file() or _is_inside(ROOT):
        return
    try:
        python = set_up(ROOT, extras)
    except SetUpError as error:
        _leave(str(error))
    except KeyboardInterrupt:
        _leave("Stopped before Holdsquare was set up; the next start begins again.")
    _run_again(python, [main_file, *sys.argv[1:]])


def set_up(root: Path, extras: Sequence[str]) -> Path:
    """Return the Python of `root`/.venv with the program and `extras` installed. Raises SetUpError."""
    venv = root / ".venv"
    stamp = _read_stamp(venv)
    if not _is_current(stamp, root, extras):
        with _lock(root / ".venv.lock") as lock:
            # Another start may have done the work while this one waited.
            stamp = _read_stamp(venv)
            if not _is_current(stamp, root, extras):
                stamp = _install(root, extras, stamp, lock)
    if not stamp.get("libraries"):
        stamp["libraries"] = provide_libraries()
        if stamp["libraries"]:
            with contextlib.suppress(OSError):
                _write_stamp(venv, stamp)
    return _venv_python(venv)


def _install(root: Path, extras: Sequence[str], stamp: dict[str, object], lock: IO[str]) -> dict[str, object]:
    venv = root / ".venv"
    lock.seek(0)
    interrupted = lock.read() == _UNFINISHED
    try:
        _mark(lock, _UNFINISHED)
        (venv / _STAMP).unlink(missing_ok=True)
        if interrupted or not _runs(venv, root, stamp):
            shutil.rmtree(venv, ignore_errors=True)
            stamp = {}
            make_venv(venv)
        known = stamp.get("extras")
        everything = sorted({*extras, *(known if isinstance(known, list) else [])})
        install(_venv_python(venv), root, everything)
        stamp = {"place": _place(root), "dependencies": _dependencies(root), "extras": everything}
        _write_stamp(venv, stamp)
        _mark(lock, "")
    except OSError as error:
        raise SetUpError(
            f"Holdsquare cannot write {error.filename or venv} ({error.strerror}): "
            "make room or put the folder where you may write, and start again."
        ) from error
    return stamp


_STAMP = "holdsquare.json"


def _read_stamp(venv: Path) -> dict[str, object]:
    try:
        stamp = json.loads((venv / _STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def _write_stamp(venv: Path, stamp: dict[str, object]) -> None:
    aside = venv / f"{_STAMP}.{os.getpid()}"
    aside.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
    aside.replace(venv / _STAMP)


def _is_current(stamp: dict[str, object], root: Path, extras: Sequence[str]) -> bool:
    known = stamp.get("extras")
    return (
        isinstance(known, list)
        and set(extras) <= set(known)
        and stamp.get("place") == _place(root)
        and stamp.get("dependencies") == _dependencies(root)
    )


def _place(root: Path) -> list[str]:
    """Return the folder and the Python behind `.venv`: when either has moved, `.venv` no longer works."""
    python = _venv_python(root / ".venv")
    # Not Path.exists, which raises where a folder on the way may not be entered.
    return [str(root), os.path.realpath(python) if os.path.exists(python) else ""]  # noqa: PTH110


def _dependencies(root: Path) -> str:
    """Return a digest of what in pyproject.toml decides what is installed; other edits install nothing."""
    project = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    named = ("requires-python", "dependencies", "optional-dependencies", "scripts")
    return hashlib.sha256(json.dumps([project.get(key) for key in named]).encode()).hexdigest()


def _runs(venv: Path, root: Path, stamp: dict[str, object]) -> bool:
    """Return whether `.venv` can be kept and added to: a Python new enough, standing where it was made."""
    python = _venv_python(venv)
    if not os.access(python, os.X_OK) or (stamp and stamp.get("place") != _place(root)):
        return False
    question = "import sys, pip; sys.exit(sys.version_info < (3, 11))"
    return subprocess.run([python, "-c", question], capture_output=True, check=False).returncode == 0


@contextlib.contextmanager
def _lock(path: Path) -> Iterator[IO[str]]:
    """Hold the lock; its file is never removed, since another process may be waiting on it."""
    try:
        file = path.open("a+", encoding="utf-8")
    except OSError as error:
        raise SetUpError(
            f"Holdsquare cannot write in {path.parent} ({error.strerror}): "
            "copy the folder to where you may write, and start that copy."
        ) from error
    with file:
        if not _try_lock(file, wait=False):
            sys.stderr.write("Another start is setting Holdsquare up; waiting for it to finish.\n")
            while not _try_lock(file, wait=True):
                pass
        yield file


def _try_lock(file: IO[str], *, wait: bool) -> bool:
    """Return whether the lock is now held; it falls when the file is closed or the process ends."""
    try:
        if sys.platform == "win32":
            import msvcrt

            # Far beyond the text, since Windows keeps others from reading what is locked.
            file.seek(1_000_000)
            msvcrt.locking(file.fileno(), msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        return False
    return True


def _mark(lock: IO[str], text: str) -> None:
    lock.seek(0)
    lock.truncate()
    lock.write(text)
    lock.flush()


def _venv_python(venv: Path) -> Path:
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def _is_inside(root: Path) -> bool:
    return Path(sys.prefix).resolve() == (root / ".venv").resolve()


def _run_again(python: Path, arguments: list[str]) -> NoReturn:
    command = [str(python), *arguments]
    sys.stdout.flush()
    sys.stderr.flush()
    try:
        if os.name != "nt":
            os.execv(command[0], command)
        # On Windows exec returns to the shell before the new process is done.
        child = subprocess.Popen(command)
    except OSError as error:
        _leave(f"Holdsquare cannot run {python} ({error.strerror}): delete the folder .venv and start again.")
    while True:
        with contextlib.suppress(KeyboardInterrupt):
            sys.exit(child.wait())


def _leave(sentence: str) -> NoReturn:
    sys.stderr.write(sentence + "\n")
    sys.exit(BAD_USAGE)
