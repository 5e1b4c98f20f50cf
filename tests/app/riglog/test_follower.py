from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.riglog.follower import Follower
from app.riglog.log_error import LogError

HEAD = "time;couple;gauge\n"


def rows(first: int, last: int) -> str:
    return "".join(f"{k / 10:.1f};{k},5;{k / 100:.2f}\n".replace(".", ",") for k in range(first, last))


def append(path: Path, text: str) -> None:
    with path.open("a", newline="") as stream:
        stream.write(text)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(1, 90), min_size=1, max_size=30))
def test_written_in_any_pieces_each_row_comes_once(
    tmp_path_factory: pytest.TempPathFactory, cuts: list[int]
) -> None:
    path = tmp_path_factory.mktemp("rig") / "rig.csv"
    text = HEAD + rows(0, 60)
    follower, seen, place = Follower(path), [], 0
    path.touch()
    for cut in [*cuts, len(text)]:
        append(path, text[place : place + cut])
        place += cut
        added = follower.poll()
        assert not added.told
        if added.rows is not None:
            seen.append(added.rows.values)
    values = np.vstack(seen)
    assert values.shape == (60, 3)
    assert values[:, 1].tolist() == [k + 0.5 for k in range(60)]


def test_half_a_line_waits(tmp_path: Path) -> None:
    path = tmp_path / "rig.csv"
    follower = Follower(path)
    assert "cannot be read now" in follower.poll().told
    append(path, HEAD + "0,0;1,5;2")
    assert follower.poll().rows is None
    append(path, "5\n1,0;")
    first = follower.poll().rows
    assert first is not None
    assert first.values.tolist() == [[0.0, 1.5, 25.0]]
    assert follower.poll().rows is None


def test_text_in_what_was_added_is_named_by_its_line(tmp_path: Path) -> None:
    path = tmp_path / "rig.csv"
    follower = Follower(path)
    append(path, HEAD + rows(0, 10))
    follower.poll()
    append(path, "9,9;off;1\n")
    added = follower.poll().rows
    assert added is not None
    assert added.text_cells[0].line == 12
    append(path, "1;2;3;4;5;6\n")
    with pytest.raises(LogError, match="line 13 has 6 cells"):
        follower.poll()


def test_shortened_and_replaced_logs_are_told(tmp_path: Path) -> None:
    path = tmp_path / "rig.csv"
    follower = Follower(path)
    append(path, HEAD + rows(0, 20))
    assert follower.poll().rows is not None
    path.write_text(HEAD + rows(5, 8))
    added = follower.poll()
    assert added.afresh
    assert "shorter" in added.told
    assert added.rows is not None
    assert added.rows.values[0, 1] == 5.5
    other = tmp_path / "other.csv"
    other.write_text(HEAD + rows(100, 160))
    os.replace(other, path)  # noqa: PTH105
    added = follower.poll()
    assert "replaced" in added.told
    assert added.rows is not None
    assert len(added.rows.values) == 60
