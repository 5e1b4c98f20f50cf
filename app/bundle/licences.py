"""The licences of everything in a bundle that is not this program's own."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Iterable
from importlib import metadata
from pathlib import Path
from typing import Final

_OWN: Final = "holdsquare"
_TELLS: Final = re.compile(r"(licen[cs]e|copying|copyright|notice|authors|credits)", re.IGNORECASE)
_PROGRAM_TEXT: Final = {".py", ".pyc", ".pyi", ".so", ".h", ".dll", ".pyd"}


def write_licences(folder: Path, modules: Iterable[str], libraries: Iterable[Path]) -> None:
    """Write a folder of texts for every distribution that a module is from, and for system libraries.

    `modules` are top-level names as they are imported; `libraries` are files copied from the system.
    """
    folder.mkdir(parents=True)
    for name in distributions_of(modules):
        _write_distribution(folder, metadata.distribution(name))
    _write_python(folder)
    _write_system(folder / "system_libraries", sorted({path.resolve() for path in libraries}))


def distributions_of(modules: Iterable[str]) -> list[str]:
    """Return the names of the distributions that those top-level modules are from, other than the program."""
    known = metadata.packages_distributions()
    found = {name for module in modules for name in known.get(module, [])}
    return sorted(found - {_OWN}, key=str.casefold)


def licence_texts(distribution: metadata.Distribution) -> list[Path]:
    """Return the files of a distribution that tell under which licence it is, as they are installed."""
    paths = [
        Path(str(file.locate()))
        for file in distribution.files or ()
        if _TELLS.search(file.name) or "licenses" in file.parts
    ]
    return sorted(path for path in paths if path.suffix not in _PROGRAM_TEXT and path.is_file())


def _write_distribution(folder: Path, distribution: metadata.Distribution) -> None:
    about = distribution.metadata
    place = folder / f"{about['Name']}-{distribution.version}"
    place.mkdir(exist_ok=True)
    said = [
        f"{key}: {about[key]}"
        for key in ("Name", "Version", "Home-page", "License-Expression")
        if key in about
    ]
    said += [f"Link: {link}" for link in about.get_all("Project-URL") or []]
    said += [line for line in about.get_all("Classifier") or [] if line.startswith("License")]
    if "License" in about:
        said.append(f"License: {about['License']}")
    (place / "ABOUT.txt").write_text("\n".join(said) + "\n", encoding="utf-8")
    for path in licence_texts(distribution):
        _copy(path, place)


def _write_python(folder: Path) -> None:
    version = f"{sys.version_info.major}.{sys.version_info.minor}"
    candidates = (
        Path(sysconfig.get_path("stdlib")) / "LICENSE.txt",
        Path(sys.base_prefix) / "LICENSE.txt",
        Path(f"/usr/share/doc/python{version}/copyright"),
    )
    place = folder / f"Python-{sys.version_info.major}.{sys.version_info.minor}.{sys.version_info.micro}"
    place.mkdir(exist_ok=True)
    (place / "ABOUT.txt").write_text(
        f"Name: Python\nVersion: {sys.version}\nLicense: PSF-2.0\n", encoding="utf-8"
    )
    for path in candidates:
        if path.is_file():
            _copy(path, place)


def _write_system(folder: Path, libraries: list[Path]) -> None:
    """Say which libraries are the building system's, and lay down what it says of their licences."""
    if not libraries:
        return
    folder.mkdir()
    lines = [
        "These libraries were copied from the system that the bundle was built on; beside each its package.",
        "",
    ]
    for library in libraries:
        package = _package_of(library)
        lines.append(f"{library.name}  {package}".rstrip())
        words = Path("/usr/share/doc") / package / "copyright"
        if package and words.is_file():
            shutil.copyfile(words, folder / f"{package}.txt")
    (folder / "ABOUT.txt").write_text("\n".join(lines) + "\n", encoding="utf-8")


def _package_of(library: Path) -> str:
    """Return the Debian package that a library is from; empty where that cannot be asked."""
    asker = shutil.which("dpkg-query")
    if asker is None:
        return ""
    # Packages made before /lib and /usr/lib became one still say /lib.
    for path in (str(library), str(library).removeprefix("/usr")):
        answer = subprocess.run([asker, "--search", path], capture_output=True, text=True, check=False)
        if answer.returncode == 0:
            return answer.stdout.split(":", 1)[0]
    return ""


def _copy(path: Path, place: Path) -> None:
    target, number = place / path.name, 1
    while target.exists():
        number += 1
        target = place / f"{path.stem}_{number}{path.suffix}"
    shutil.copyfile(path, target)
