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


def test_signs_that_do_not_print_in_names_and_units_are_spaces() -> None:
    table = table_of(b"time,output \ttorque,di\x0bal\ns,N.\tm,m\x07m\n1,2,3\n2,3,4\n3,x,5\n")
    assert table.names == ("time", "output  torque", "di al")
    assert table.dialect.units == ("s", "N. m", "m m")
    assert [cell.column for cell in table.text_cells] == ["output  torque"]


def test_a_column_of_words_and_numbers_is_read_cell_by_cell() -> None:
    """Words that come again, gaps, figures with spaces round them, and a number too large to be a reading."""
    table = table_of(b"time,gauge\n0,1\n0,2\n0,3\n" + b"1,a\n2, 7\n3,a\n4,\n5,nan\n6,7\n7,1e30\n8, b \n" * 3)
    gauge = table.values[3:, 1]
    expected = [np.nan, 7.0, np.nan, np.nan, np.nan, 7.0, np.nan, np.nan] * 3
    assert np.array_equal(gauge, expected, equal_nan=True)
    told = [(cell.line, cell.text.strip()) for cell in table.text_cells[:4]]
    assert told == [(5, "a"), (7, "a"), (11, "1e30"), (12, "b")]
    assert table.text_count == 12
