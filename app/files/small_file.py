"""Small JSON files of the program's own, read without trust and replaced in one step."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

from app.files.files_error import FilesError, reason_of
from geometry.file_replacing import replace_file

_MOST_BYTES: Final = 100_000


def read_group(path: Path) -> dict[str, Any]:
    """Return the keys and values in a small file; none if it is missing, unreadable, too big or no group."""
    try:
        with path.open("rb") as stream:
            content = stream.read(_MOST_BYTES + 1)
        data = json.loads(content) if len(content) <= _MOST_BYTES else None
    except (OSError, ValueError, RecursionError):
        return {}
    return data if isinstance(data, dict) else {}


def write_group(path: Path, data: dict[str, Any], what: str) -> None:
    """Replace a small file; FilesError, naming what is in it, if it cannot be."""
    content = json.dumps(data, ensure_ascii=True, indent=2).encode() + b"\n"
    try:
        replace_file(path, content, keep_previous=False)
    except (OSError, ValueError) as error:
        raise FilesError(
            f"{what[:1].upper()}{what[1:]} cannot be kept in {path.parent} ({reason_of(error)}): make room"
            " there, or let it be written to."
        ) from error
