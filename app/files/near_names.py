"""What somebody may have meant who named a file that is not there."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import Final

_MOST_NAMES: Final = 2000
"""Of a folder; beyond it nobody is helped by a guess."""
_ENDING: Final = ".bracket.json"


def missing_file_sentence(path: Path) -> str:
    """Return why that path is no file to read, with the nearest name; empty if it is one."""
    try:
        if path.is_dir():
            return _folder_sentence(path)
        if path.exists():
            return ""
    except (OSError, ValueError) as error:
        return f"{path} cannot be read: {getattr(error, 'strerror', None) or error}."
    folder = path.parent
    here = "here" if str(folder) == "." else f"in {folder}"
    if not folder.is_dir():
        return f"There is no folder {folder}, so no file {path.name} in it."
    near = near_file(path)
    advice = f"; did you mean {near}?" if near else "."
    return f"There is no file {path.name} {here}{advice}"


def near_file(path: Path) -> str:
    """Return the path of the file beside it whose name is nearest; empty if none is near."""
    names = _names(path.parent)
    by_key = {_key(name): name for name in names}
    near = difflib.get_close_matches(_key(path.name), by_key, n=1, cutoff=0.6)
    return str(path.with_name(by_key[near[0]])) if near else ""


def _folder_sentence(path: Path) -> str:
    brackets = [name for name in _names(path) if name.endswith(_ENDING)]
    if not brackets:
        return f"{path} is a folder, and there is no *{_ENDING} in it: name a bracket file."
    return f"{path} is a folder: name a bracket file in it, such as {path / brackets[0]}."


def _names(folder: Path) -> list[str]:
    try:
        found = [entry.name for _, entry in zip(range(_MOST_NAMES), folder.iterdir(), strict=False)]
    except OSError:
        return []
    return sorted(name for name in found if not name.startswith("."))


def _key(name: str) -> str:
    # the long ending would make any two bracket files look alike
    small = name.casefold()
    return small.removesuffix(_ENDING).removesuffix(".json")
