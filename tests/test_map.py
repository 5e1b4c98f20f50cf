"""The map in DEVELOPERS.md against the folders: no file in it that is gone, no folder that is missing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

_ROOT: Final = Path(__file__).resolve().parents[1]
_LAYERS: Final = ("app", "geometry", "solver")


def _map() -> str:
    whole = (_ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    return whole[whole.index("## The map") : whole.index("## How data flows")]


def _rows(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.startswith("| ") and "`" in line]


def _gone(row: str) -> Iterator[str]:
    """Yield the names in a row that are no file or folder; a bare one stands beside the one before it."""
    folder = _ROOT
    for name in re.findall(r"`([\w/*.]+(?:\.py|\.toml|/))`", row):
        within = [*(place for place in (folder, *folder.parents) if place.is_relative_to(_ROOT))]
        found = [path for place in within for path in sorted(place.glob(name.rstrip("/")))]
        # a name alone stands in the folder named last, not somewhere above it
        if not found or ("/" not in name and found[0].parent != folder):
            yield name
            continue
        folder = found[0] if found[0].is_dir() else found[0].parent


@pytest.mark.parametrize("row", _rows(_map()), ids=lambda row: row.split("|")[1].strip())
def test_what_the_map_names_is_there(row: str) -> None:
    assert list(_gone(row)) == []


def test_every_folder_stands_in_the_map() -> None:
    text = _map()
    folders = [path.parent for layer in _LAYERS for path in sorted((_ROOT / layer).rglob("__init__.py"))]
    places = [folder.relative_to(_ROOT).as_posix() for folder in folders]
    assert len(places) > 25
    assert [place for place in places if not re.search(rf"`?\b{place.split('/')[-1]}/", text)] == []


def test_a_file_that_is_gone_is_told() -> None:
    row = "| a | `geometry/plate_mesh.py`, `plate_mush.py`, `app/flat/view.py`, `solver/around/`, `room.py` |"
    assert list(_gone(row)) == ["plate_mush.py", "app/flat/view.py"]
