"""What the file of a record is called."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from geometry.bracket_file import SUFFIX as BRACKET_SUFFIX

SUFFIX: Final = ".record.json"


def record_path_of(bracket_path: Path) -> Path:
    """Return where the record of a bracket file or of a report stands: beside it, NAME.record.json."""
    name = bracket_path.name.removesuffix(BRACKET_SUFFIX).removesuffix(".json").removesuffix(".pdf")
    return bracket_path.with_name(name + SUFFIX)


def record_named(path: Path) -> Path:
    """Return a path with the ending of a record file."""
    if path.name.endswith(SUFFIX):
        return path
    return path.with_name(path.name.removesuffix(".json").removesuffix(".record") + SUFFIX)
