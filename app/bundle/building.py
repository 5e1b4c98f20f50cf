"""Build a bundle for the system this runs on: aside first, tried, then put in its place."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from app.bundle.contents import PROGRAM, TRY_EVERYTHING

NAME: Final = "holdsquare"
_RECIPE: Final = "from app.bundle.assemble import assemble\nassemble()\n"
_NO_LIBRARY: Final = re.compile(
    r"PythonLibraryNotFoundError|without a shared library|Python shared library \(.*\) was not found"
)
_NO_OBJDUMP: Final = "objdump is required"
_LEVEL: Final = re.compile(r"^(\d+ )?(ERROR: )+")
"""What PyInstaller puts before its words."""
_FAULT: Final = re.compile(r"[\w.]+(Error|Exception)\b")
_STAGES: Final = (
    ("Analyzing", "finding what it needs", 0.05),
    ("Processing standard module hook", "finding what it needs", 0.3),
    ("Looking for dynamic libraries", "finding libraries", 0.6),
    ("Building PYZ", "packing", 0.7),
    ("Building COLLECT", "copying", 0.8),
)
"""What PyInstaller says, what is said of it, and the share that is then done."""
_TRIED_WITHIN_S: Final = 300.0


class BundleError(RuntimeError):
    """The bundle cannot be built; the message is one sentence for the user."""


@dataclass(frozen=True)
class Built:
    """A bundle that stands and has been started once."""

    folder: Path
    start_file: Path
    size_mb: float


def build(root: Path, out: Path, progress: Callable[[str, float], None] | None = None) -> Built:
    """Build the program of the source folder `root` as the folder `holdsquare` in `out`.

    A bundle that stands there already is replaced once the new one has been started. Raises BundleError.
    """
    target = out.absolute() / NAME
    if target.exists() and not _is_bundle(target):
        raise BundleError(f"{target} is there and is no bundle: move it, or name another folder with -o.")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        # Beside its place, so that putting it there is a change of name.
        with tempfile.TemporaryDirectory(dir=target.parent, prefix=".holdsquare_") as aside:
            made = _made(root, Path(aside), progress)
            _try(made)
            if target.exists():
                target.rename(Path(aside) / "before")
            made.rename(target)
            size = sum(path.stat().st_size for path in target.rglob("*") if not path.is_symlink())
    except OSError as error:
        raise BundleError(
            f"The bundle cannot be written to {error.filename or target} ({error.strerror}): "
            "make room, or name another folder with -o."
        ) from error
    return Built(target, _start_file(target), size / 1e6)


def _made(root: Path, aside: Path, progress: Callable[[str, float], None] | None) -> Path:
    recipe = aside / f"{NAME}.spec"
    recipe.write_text(_RECIPE, encoding="utf-8")
    command = [sys.executable, "-m", "PyInstaller", "--noconfirm", "--distpath", str(aside / "made")]
    command += ["--workpath", str(aside / "work"), str(recipe)]
    said: list[str] = []
    with subprocess.Popen(
        command,
        cwd=root,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        # What it keeps for later builds goes with this one.
        env={**os.environ, "PYINSTALLER_CONFIG_DIR": str(aside / "kept"), "PYTHONUTF8": "1"},
    ) as process:
        assert process.stdout is not None
        try:
            for line in process.stdout:
                said.append(line.rstrip())
                _tell(line, progress)
        except BaseException:
            process.kill()
            raise
    if process.returncode:
        raise BundleError(_why(said))
    return aside / "made" / NAME


def _tell(line: str, progress: Callable[[str, float], None] | None) -> None:
    if progress is None:
        return
    for words, stage, share in _STAGES:
        if words in line:
            progress(stage, share)


def _why(said: list[str]) -> str:
    text = "\n".join(said)
    version = f"{sys.version_info.major}.{sys.version_info.minor}"
    if _NO_LIBRARY.search(text):
        return (
            f"This Python has no shared library to go into the bundle: install it (on Debian and Ubuntu "
            f"`apt-get install libpython{version}`) and build again."
        )
    if _NO_OBJDUMP in text:
        return (
            "A bundle is put together with objdump, which this system lacks: install it (on Debian and "
            "Ubuntu `apt-get install binutils`) and build again."
        )
    if "No space left on device" in text:
        return "The disk is full: a bundle takes 2 GB while it is built; make room, or name a folder with -o."
    last = next((line for line in reversed(said) if line.strip()), "no reason was given")
    return f"Building the bundle failed: {_LEVEL.sub('', last.strip())}"


def _try(made: Path) -> None:
    """Let it use all that it carries, with nothing of this Python to help it."""
    environment = {
        key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "VIRTUAL_"))
    }
    try:
        answer = subprocess.run(
            [str(_start_file(made)), TRY_EVERYTHING],
            cwd=made,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
            timeout=_TRIED_WITHIN_S,
        )
    except subprocess.TimeoutExpired as error:
        raise BundleError(
            f"The bundle was built and was not done with its trial within {_TRIED_WITHIN_S:.0f} s."
        ) from error
    if answer.returncode:
        said = [line.strip() for line in answer.stderr.splitlines() if line.strip()] or ["it said nothing"]
        faults = [line for line in said if _FAULT.match(line)]
        raise BundleError(f"The bundle was built and fails its trial: {(faults or said)[-1]}")


def _start_file(folder: Path) -> Path:
    return folder / (f"{NAME}.exe" if sys.platform == "win32" else NAME)


def _is_bundle(folder: Path) -> bool:
    return _start_file(folder).is_file() and (folder / PROGRAM).is_dir()
