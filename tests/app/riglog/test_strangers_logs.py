"""Logs of strangers: what the trial of strangers' files found in them, cut down."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from app.riglog.dialect import is_number
from app.riglog.follower import Follower
from app.riglog.log_error import LogError
from app.riglog.reading import table_of


def test_lines_that_end_in_several_ways_are_lines() -> None:
    table = table_of(b"couple,gauge\n1,2\r3,4\r\n5,6\n7,x\n")
    assert table.values[:3].tolist() == [[1.0, 2.0], [3.0, 4.0], [5.0, 6.0]]
    assert [(cell.line, cell.text) for cell in table.text_cells] == [(5, "x")]


def test_a_growing_log_may_end_its_lines_in_several_ways(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b"rig 3\rcouple,gauge\r\n1,2\n3,4\r")
    follower = Follower(path)
    first = follower.poll().rows
    assert first is not None
    assert first.values.tolist() == [[1.0, 2.0]]
    with path.open("ab") as stream:
        stream.write(b"5,6\n")
    second = follower.poll().rows
    assert second is not None
    assert second.values.tolist() == [[3.0, 4.0], [5.0, 6.0]]


@pytest.mark.parametrize("absurd", ["1e308", "-1e21", "1e999", "inf"])
@pytest.mark.parametrize("beside", ["1", "x"])
def test_an_absurd_reading_is_told_and_left_out(absurd: str, beside: str) -> None:
    table = table_of(f"couple,gauge\n1,2\n3,{absurd}\n5,6\n7,{beside}\n".encode())
    assert np.isnan(table.values[1, 1])
    assert table.text_cells[0].line == 3
    assert table.text_count == (1 if beside == "1" else 2)


def test_time_in_nanoseconds_is_not_absurd() -> None:
    table = table_of(b"time,gauge\n1764000000000000000,2\n1764000000100000000,6\n")
    assert table.text_count == 0


def test_a_cell_without_end_in_a_growing_log_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b"couple,gauge\n1,2\n")
    follower = Follower(path)
    follower.poll()
    with path.open("ab") as stream:
        stream.write(b"x" * 200_000 + b",1\n")
    with pytest.raises(LogError, match="is no table row"):
        follower.poll()


@pytest.mark.parametrize("cell", ["9" * 200_000 + "x", "-" + "9" * 200_000 + ",9,"])
def test_a_cell_of_digits_alone_but_for_its_end_is_looked_at_once(cell: str) -> None:
    """Each way to split the digits in two would be tried: that took minutes."""
    assert not is_number(cell, ".")
    assert not is_number(cell, ",")
