"""Everything the program needs, and what that needs in its turn, with its licence.

What is installed is read where it is; the rest (needed on another system alone, or by an extra that is not
installed here) is asked of the package index through pip.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
import tomllib
import zipfile
from collections import deque
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from email import message_from_string
from email.message import Message
from importlib.metadata import PackageMetadata, PackageNotFoundError, distribution
from pathlib import Path
from typing import Final

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from app.set_up import ROOT

PYTHONS: Final = ("3.11", "3.12", "3.13", "3.14")
"""From `requires-python` of pyproject.toml to the newest released."""
_OR_LATER: Final = re.compile(
    r"under the terms of the GNU General Public License as published by the Free Software Foundation;"
    r" either version (\d) of the License, or \(at your option\) any later version"
)
"""How a licence's text begins that is given whole instead of a name."""
PROGRAM: Final = "program"
"""What the program itself needs; the other parts are the extras of pyproject.toml."""

SYSTEMS: Final[Mapping[str, Mapping[str, str]]] = {
    "Windows x86-64": {
        "os_name": "nt",
        "sys_platform": "win32",
        "platform_system": "Windows",
        "platform_machine": "AMD64",
    },
    "macOS arm64": {
        "os_name": "posix",
        "sys_platform": "darwin",
        "platform_system": "Darwin",
        "platform_machine": "arm64",
    },
    "macOS x86-64": {
        "os_name": "posix",
        "sys_platform": "darwin",
        "platform_system": "Darwin",
        "platform_machine": "x86_64",
    },
    "Linux x86-64": {
        "os_name": "posix",
        "sys_platform": "linux",
        "platform_system": "Linux",
        "platform_machine": "x86_64",
    },
    "Linux aarch64": {
        "os_name": "posix",
        "sys_platform": "linux",
        "platform_system": "Linux",
        "platform_machine": "aarch64",
    },
}
"""What requirements call each system."""


@dataclass(frozen=True)
class About:
    """What a package says of itself."""

    name: str
    version: str
    licence: str
    requires: tuple[str, ...]
    installed: bool = True


@dataclass(frozen=True)
class Package:
    """A package that is needed."""

    about: About
    parts: tuple[str, ...]
    """PROGRAM or extras it is needed by, in the order of pyproject.toml."""
    systems: tuple[str, ...]
    """Of SYSTEMS, those it is needed on."""


Ask = Callable[[str], About | None]
"""Takes a package's name and gives what it says of itself; None if it cannot be had."""


def needed(ask: Ask) -> list[Package]:
    """Return every package that the program or one of its extras needs on any system, by name."""
    found: dict[str, About] = {}
    parts: dict[str, list[str]] = {}
    systems: dict[str, set[str]] = {}
    for part, requirements in _parts().items():
        for system in SYSTEMS:
            for about in _closure(requirements, system, ask, found):
                key = canonicalize_name(about.name)
                parts.setdefault(key, [])
                if part not in parts[key]:
                    parts[key].append(part)
                systems.setdefault(key, set()).add(system)
    return [
        Package(found[key], tuple(parts[key]), tuple(s for s in SYSTEMS if s in systems[key]))
        for key in sorted(parts)
    ]


def installed(name: str) -> About | None:
    """Return what the installed package of that name says of itself; None where it is not installed."""
    try:
        found = distribution(name)
    except PackageNotFoundError:
        return None
    return _about(found.metadata, here=True)


def installed_or_asked(name: str) -> About | None:
    """Return what a package says of itself, asked of the package index through pip where not installed."""
    return installed(name) or _asked(name)


def licence_of(said: PackageMetadata | Message) -> str:
    """Return a package's licence in few words, from its metadata."""
    expression = str(said["License-Expression"] or "") if "License-Expression" in said else ""
    classifiers = [
        line.rpartition(" :: ")[2]
        for line in map(str, said.get_all("Classifier") or ())
        if line.startswith("License :: ") and not line.endswith("OSI Approved")
    ]
    free = " ".join(str(said["License"] or "").split()) if "License" in said else ""
    later = _OR_LATER.search(free)
    if later is not None:
        free = f"GPL-{later.group(1)}.0-or-later"
    return expression or ", ".join(classifiers) or free[:60] or "not said"


def _parts() -> dict[str, list[str]]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return {PROGRAM: project["dependencies"], **project["optional-dependencies"]}


def _closure(requirements: Iterable[str], system: str, ask: Ask, found: dict[str, About]) -> Sequence[About]:
    """Return everything that requirements need on a system; `found` is what is known, and is added to."""
    waiting = deque((line, "") for line in requirements)
    seen: set[tuple[str, str]] = set()
    reached: dict[str, About] = {}
    while waiting:
        line, extra = waiting.popleft()
        requirement = Requirement(line)
        if not _counts(requirement, system, extra):
            continue
        key = canonicalize_name(requirement.name)
        if key not in found:
            about = ask(requirement.name)
            found[key] = about or About(requirement.name, "?", "not known: it could not be asked", (), False)
        reached[key] = found[key]
        for wanted in ("", *sorted(requirement.extras)):
            if (key, wanted) not in seen:
                seen.add((key, wanted))
                waiting.extend((needs, wanted) for needs in found[key].requires)
    return list(reached.values())


def _counts(requirement: Requirement, system: str, extra: str) -> bool:
    """Return whether a requirement holds on a system, for any of the Pythons."""
    return requirement.marker is None or any(
        requirement.marker.evaluate(
            {
                **SYSTEMS[system],
                "python_version": python,
                "python_full_version": f"{python}.0",
                "implementation_name": "cpython",
                "platform_python_implementation": "CPython",
                "extra": extra,
            }
        )
        for python in PYTHONS
    )


def _asked(name: str) -> About | None:
    # What pip reports of a package leaves its licence out where pip is older than the way it is told.
    with tempfile.TemporaryDirectory() as folder:
        run_pip("download", "--quiet", "--no-deps", "--only-binary=:all:", f"--dest={folder}", name)
        for wheel in Path(folder).glob("*.whl"):
            with zipfile.ZipFile(wheel) as packed:
                inside = next(n for n in packed.namelist() if n.endswith(".dist-info/METADATA"))
                return _about(message_from_string(packed.read(inside).decode()), here=False)
    return None


def _about(said: PackageMetadata | Message, *, here: bool) -> About:
    requires = tuple(map(str, said.get_all("Requires-Dist") or ()))
    return About(str(said["Name"]), str(said["Version"]), licence_of(said), requires, here)


def run_pip(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Return what pip says; it asks the index that it is set to."""
    command = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--no-input", "--retries=1"]
    return subprocess.run([*command, *arguments], capture_output=True, text=True, check=False)
