"""Two windows on one file."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import pytest

from app.files.open_elsewhere import claim
from tests.app.files.killed import killed_while, needs_fork

ROOT = Path(__file__).parents[3]


def test_the_second_window_reads_only(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    path.write_text("{}")
    first = claim(path, tmp_path / "data")
    assert (first.read_only, first.words) == (False, None)
    second = claim(path, tmp_path / "data")
    assert second.read_only
    assert second.words is not None
    assert "mine.bracket.json is open in another window since " in second.words
    other = claim(tmp_path / "other.bracket.json", tmp_path / "data")
    assert not other.read_only
    second.let_go()  # it holds nothing
    assert claim(path, tmp_path / "data").read_only
    first.let_go()
    again = claim(path, tmp_path / "data")
    assert not again.read_only
    again.let_go()
    other.let_go()


def test_the_same_file_by_another_way(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    path.write_text("{}")
    link = tmp_path / "link.bracket.json"
    link.symlink_to(path)
    first = claim(path, tmp_path / "data")
    assert claim(link, tmp_path / "data").read_only
    assert claim(tmp_path / "x" / ".." / path.name, tmp_path / "data").read_only
    first.let_go()


def test_another_process_sees_it_too(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    first = claim(path, tmp_path / "data")
    asking = (
        "import sys; from pathlib import Path; from app.files.open_elsewhere import claim;"
        "print(claim(Path(sys.argv[1]), Path(sys.argv[2])).read_only)"
    )
    command = [sys.executable, "-c", asking, str(path), str(tmp_path / "data")]
    assert subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout == "True\n"
    first.let_go()
    assert subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout == "False\n"


@needs_fork
def test_a_window_that_died_blocks_nothing(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    kept = []
    killed_while(
        lambda number: kept.append(claim(path, tmp_path / "data")) if number == 1 else None, random.Random(1)
    )
    mine = claim(path, tmp_path / "data")
    assert not mine.read_only
    mine.let_go()


def test_without_a_data_folder_the_file_opens_with_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "file"))
    opened = claim(tmp_path / "mine.bracket.json")
    assert not opened.read_only
    assert opened.words is not None
    assert "not guarded against a second window" in opened.words


def test_a_spoilt_note_of_who_has_it_still_tells(tmp_path: Path) -> None:
    path = tmp_path / "mine.bracket.json"
    first = claim(path, tmp_path / "data")
    (note,) = (tmp_path / "data" / "open").glob("*.json")
    for content in (b"", b"[1]", b'{"since": "yesterday"}', b'{"since": 3}'):
        note.write_bytes(content)
        words = claim(path, tmp_path / "data").words
        assert words is not None
        assert "is open in another window, so" in words
    first.let_go()
