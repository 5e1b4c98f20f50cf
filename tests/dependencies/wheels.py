"""For which systems and Pythons a package has wheels, told by the names of the files in the package index.

pip, asked for a package's versions and told to be talkative, names every file that it passes over: one
question a package for all systems, and nothing is downloaded.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final
from urllib.parse import unquote

from packaging.tags import Tag
from packaging.utils import InvalidWheelFilename, parse_wheel_filename

from tests.dependencies.packages import PYTHONS, SYSTEMS, run_pip

_FILE: Final = re.compile(r"([^\s/]+\.whl)\b")
_OLD_LINUX: Final = {"manylinux1": (2, 5), "manylinux2010": (2, 12), "manylinux2014": (2, 17)}
_ENDINGS: Final[Mapping[str, tuple[str, ...]]] = {
    "Windows x86-64": ("win_amd64",),
    "macOS arm64": ("arm64", "universal2"),
    "macOS x86-64": ("x86_64", "universal2", "intel"),
    "Linux x86-64": ("x86_64",),
    "Linux aarch64": ("aarch64",),
}
_BEGINNINGS: Final = {"Windows": "win", "macOS": "macosx_", "Linux": "manylinux"}


@dataclass(frozen=True)
class Wheels:
    """The wheels of one version of a package."""

    pythons: Mapping[str, tuple[str, ...]]
    """Of each of SYSTEMS, the Pythons there is a wheel for."""
    everywhere: bool
    """Whether there is one for any system and any Python 3."""
    oldest: Mapping[str, str]
    """Of a system, the oldest version that a wheel is for: of macOS, or of the C library on Linux."""

    def on(self, system: str) -> str:
        """Return the Pythons there is a wheel for on a system, in few words."""
        there = self.pythons[system]
        if len(there) == len(PYTHONS):
            return "all"
        return ", ".join(there) or "NONE"


def wheels_of(name: str, version: str) -> Wheels | None:
    """Return the wheels of a version, asked of the package index; None where it cannot be reached."""
    answer = run_pip("index", "versions", name, "-vv")
    files = sorted({unquote(file) for file in _FILE.findall(answer.stdout + answer.stderr)})
    return wheels_in(files, version) if files or not answer.returncode else None


def wheels_in(files: Iterable[str], version: str) -> Wheels:
    """Return what the wheels among these files are for, of one version."""
    tags: set[Tag] = set()
    for file in files:
        try:
            _, known, _, own = parse_wheel_filename(file)
        except InvalidWheelFilename:
            continue
        if str(known) == version:
            tags |= own
    return Wheels(
        {system: tuple(p for p in PYTHONS if any(_fits(t, system, p) for t in tags)) for system in SYSTEMS},
        any(tag.platform == "any" for tag in tags),
        {system: _oldest(tags, system) for system in SYSTEMS},
    )


def _fits(tag: Tag, system: str, python: str) -> bool:
    return _for_python(tag, python) and (tag.platform == "any" or _for_system(tag, system))


def _for_system(tag: Tag, system: str) -> bool:
    beginning = _BEGINNINGS[system.partition(" ")[0]]
    return tag.platform.startswith(beginning) and tag.platform.endswith(_ENDINGS[system])


def _for_python(tag: Tag, python: str) -> bool:
    minor = int(python.partition(".")[2])
    if tag.interpreter in ("py3", f"py3{minor}"):
        return tag.abi == "none"
    own = re.fullmatch(r"cp3(\d+)", tag.interpreter)
    if own is None:
        return False
    if tag.abi == "abi3":
        return int(own.group(1)) <= minor
    return int(own.group(1)) == minor and tag.abi in (tag.interpreter, "none")


def _oldest(tags: Iterable[Tag], system: str) -> str:
    """Return the oldest system of those for the newest Python that has any; empty where it hangs on none."""
    own = [tag for tag in tags if _for_system(tag, system)]
    for python in reversed(PYTHONS):
        ages = [age for tag in own if _for_python(tag, python) and (age := _age(tag.platform)) is not None]
        if ages:
            return ".".join(map(str, min(ages)))
    return ""


def _age(platform: str) -> tuple[int, int] | None:
    for old, age in _OLD_LINUX.items():
        if platform.startswith(f"{old}_"):
            return age
    numbered = re.match(r"(?:macosx|manylinux)_(\d+)_(\d+)_", platform)
    return (int(numbered.group(1)), int(numbered.group(2))) if numbered else None
