"""Find the system libraries the mesher and the window need, and get those missing. Standard library alone."""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Final

LIBRARIES: Final[Mapping[str, str]] = {
    "libgl1": "libGL.so.1",
    "libegl1": "libEGL.so.1",
    "libgl1-mesa-dri": "dri/swrast_dri.so",
    "libglib2.0-0": "libglib-2.0.so.0",
    "libxkbcommon0": "libxkbcommon.so.0",
    "libdbus-1-3": "libdbus-1.so.3",
    "libglu1-mesa": "libGLU.so.1",
    "libxft2": "libXft.so.2",
    "libxcursor1": "libXcursor.so.1",
    "libxinerama1": "libXinerama.so.1",
    "libgomp1": "libgomp.so.1",
    "libxcb-cursor0": "libxcb-cursor.so.0",
    "libxcb-icccm4": "libxcb-icccm.so.4",
    "libxcb-keysyms1": "libxcb-keysyms.so.1",
    "libxcb-shape0": "libxcb-shape.so.0",
    "libxcb-xkb1": "libxcb-xkb.so.1",
    "libxkbcommon-x11-0": "libxkbcommon-x11.so.0",
}
"""Debian's package for each library a bare machine may lack, the library's own name beside it."""
OF_A_BUNDLE: Final[Mapping[str, str]] = {
    "libgl1": "libGL.so.1",
    "libegl1": "libEGL.so.1",
    "libopengl0": "libOpenGL.so.0",
    "libgl1-mesa-dri": "dri/swrast_dri.so",
    "libxcb1": "libxcb.so.1",
}
"""Those a bundle needs: it carries the others, but what works with the graphics driver is the system's."""


def provide_libraries() -> bool:
    """Return whether every library is there, after installing what is missing where that may be done.

    As root it installs; a person at a terminal is asked; otherwise one sentence names what is missing and the
    start goes on, since not every command needs every library.
    """
    missing = missing_packages()
    if not missing:
        return True
    line = [*_INSTALL, *missing]
    prefix = None if shutil.which("apt-get") is None else _privilege(line)
    if prefix is None:
        _say(how_to_get(missing))
        return False
    _say(f"Installing system libraries: {' '.join(line)}")
    if not (_run([*prefix, *line]) or (_run([*prefix, "apt-get", "update"]) and _run([*prefix, *line]))):
        _say(f"Some system libraries could not be installed. Try: {' '.join([*prefix, *line])}")
    return not missing_packages()


def how_to_get(missing: Sequence[str]) -> str:
    """Return what is missing and how to get it, in a sentence or two, for packages that are needed."""
    if shutil.which("apt-get") is None:
        needed = _needed()
        names = ", ".join(needed[package] for package in missing)
        return f"Missing system libraries: {names}. Install them with your system's package manager."
    return f"Missing system libraries. Install them with: sudo {' '.join([*_INSTALL, *missing])}"


def missing_packages() -> list[str]:
    """Return the packages whose library this machine lacks, in the order of the table; none off Linux."""
    if not sys.platform.startswith("linux"):
        return []
    return [package for package, library in _needed().items() if not _is_there(library)]


_INSTALL: Final = ("apt-get", "install", "-y", "--no-install-recommends")


def _needed() -> Mapping[str, str]:
    return OF_A_BUNDLE if getattr(sys, "frozen", False) else LIBRARIES


def _is_there(library: str) -> bool:
    if "/" in library:
        return any(_found(folder.glob(f"*/{library}")) or (folder / library).exists() for folder in _FOLDERS)
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


_FOLDERS: Final = (Path("/usr/lib"), Path("/usr/lib64"))


def _found(paths: Iterable[Path]) -> bool:
    return next(iter(paths), None) is not None


def _privilege(line: list[str]) -> list[str] | None:
    """Return what to put before apt-get: nothing as root, sudo if the user agrees; None if it may not run."""
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo") is None or not (sys.stdin.isatty() and sys.stderr.isatty()):
        return None
    _say(f"Missing system libraries: {' '.join(line[4:])}")
    sys.stderr.write("Install them with sudo apt-get now? [y/N] ")
    sys.stderr.flush()
    return ["sudo"] if sys.stdin.readline().strip().lower() in {"y", "yes"} else None


def _run(command: list[str]) -> bool:
    """Run quietly, showing the last words on failure; sudo asks for a password on the terminal itself."""
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    answer = subprocess.run(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False
    )
    if answer.returncode:
        sys.stderr.write("".join(f"  {line}\n" for line in answer.stdout.splitlines()[-3:]))
    return answer.returncode == 0


def _say(sentence: str) -> None:
    sys.stderr.write(sentence + "\n")
    sys.stderr.flush()
