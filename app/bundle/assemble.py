"""Put the bundle's folder together. The one file that knows PyInstaller, which runs it as its recipe."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from PyInstaller.building.api import COLLECT, EXE, PYZ
from PyInstaller.building.build_main import Analysis
from PyInstaller.config import CONF

from app.bundle.contents import BESIDE, DATA, EXCLUDED, PROGRAM, can_be_stripped, is_wanted, modules, read_me
from app.bundle.licences import write_licences
from solver.version import VERSION

NAME: Final = "holdsquare"
_ROOT: Final = Path(__file__).resolve().parents[2]
_Entries = Iterable[tuple[str, str, str]]
"""(place in the bundle, file it is from, kind)."""


def assemble() -> None:
    """Make the folder `holdsquare` where PyInstaller was told to."""
    found = Analysis(
        [str(_ROOT / "app" / "bundle_start.py")],
        pathex=[str(_ROOT)],
        datas=[(str(_ROOT / name), name) for name in DATA],
        hiddenimports=modules(_ROOT),
        excludes=list(EXCLUDED),
    )
    binaries = [entry for entry in found.binaries if is_wanted(entry[0])]
    datas = [entry for entry in found.datas if is_wanted(entry[0])]
    start = EXE(
        PYZ(found.pure),
        found.scripts,
        exclude_binaries=True,
        name=NAME,
        # The commands print; where Windows opens a terminal only for the window, it is put away at once.
        console=True,
        hide_console="hide-early" if sys.platform == "win32" else None,
        contents_directory=PROGRAM,
        upx=False,
    )
    COLLECT(start, binaries, datas, name=NAME, upx=False)
    folder = Path(CONF["distpath"]) / NAME
    _strip(folder / PROGRAM, [place for place, _, _ in binaries])
    lay_beside(folder)
    write_licences(folder / "licences", _top_level([*found.pure, *binaries]), _of_the_system(binaries))


def lay_beside(folder: Path) -> None:
    """Lay beside the start file what people look for."""
    for name in BESIDE:
        source = _ROOT / name
        if source.is_dir():
            shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns("*.previous"))
        else:
            shutil.copyfile(source, folder / name)
    start_file = f"{NAME}.exe" if sys.platform == "win32" else f"./{NAME}"
    (folder / "READ_ME.txt").write_text(read_me(VERSION, start_file), encoding="utf-8")


def _strip(program: Path, places: Iterable[str]) -> None:
    """Make libraries smaller where this system has the usual tool for that."""
    tool = shutil.which("strip") if sys.platform.startswith("linux") else None
    files = [str(program / place) for place in places if can_be_stripped(place)]
    if tool is not None and files:
        subprocess.run([tool, "--strip-unneeded", *files], check=True)


def _top_level(entries: _Entries) -> set[str]:
    # Modules are named with dots, their libraries by path.
    return {place.replace("\\", "/").split("/")[0].split(".")[0] for place, _, _ in entries}


def _of_the_system(binaries: _Entries) -> list[Path]:
    own = (Path(sys.prefix).resolve(), Path(sys.base_prefix).resolve())
    files = [Path(file).resolve() for _, file, kind in binaries if kind == "BINARY"]
    return [file for file in files if not any(file.is_relative_to(place) for place in own)]
