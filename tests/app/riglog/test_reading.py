from __future__ import annotations

import random
import time
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.riglog.log_error import LogError
from app.riglog.reading import SAMPLE_BYTES, Table, read_table, table_of

NUMBERS = st.floats(-1e6, 1e6).map(lambda value: round(value, 6))
NAMES = ("time", "output torque", "input torque", "force", "gauge", "angle")


def written(rows: list[list[float]], names: list[str], separator: str, decimal: str) -> str:
    lines = [separator.join(names)]
    lines += [separator.join(f"{value:.6f}".replace(".", decimal) for value in row) for row in rows]
    return "\n".join(lines) + "\n"


def outcome(content: bytes) -> tuple[str, Table | None]:
    """Return the sentence that refuses the bytes, or their rows; anything else that is raised is a fault."""
    try:
        return "", table_of(content)
    except LogError as error:
        return str(error), None


@settings(max_examples=120, deadline=None)
@given(
    width=st.integers(2, 6),
    count=st.integers(1, 40),
    way=st.sampled_from([(";", ","), (";", "."), (",", "."), ("\t", ","), ("\t", "."), ("|", ".")]),
    ending=st.sampled_from(["\n", "\r\n"]),
    preamble=st.sampled_from(["", "Rig 3\n", "Rig 3\nrun of the morning\n\n"]),
    data=st.data(),
)
def test_any_separator_decimal_sign_and_order_of_columns(
    width: int, count: int, way: tuple[str, str], ending: str, preamble: str, data: st.DataObject
) -> None:
    row = st.lists(NUMBERS, min_size=width, max_size=width)
    rows = data.draw(st.lists(row, min_size=count, max_size=count))
    names = data.draw(st.permutations(NAMES))[:width]
    text = (preamble + written(rows, names, *way)).replace("\n", ending)
    table = table_of(text.encode())
    assert table.names == tuple(names)
    assert table.values.shape == (count, width)
    assert np.allclose(table.values, rows, rtol=1e-12, atol=1e-12)
    assert table.text_count == 0
    assert table.line_of(0) == preamble.count("\n") + 2


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=400))
def test_no_bytes_bring_the_reader_down(content: bytes) -> None:
    told, table = outcome(content)
    assert told.endswith((".", "?")) if table is None else table.values.shape[1] == len(table.names)


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet="0123456789,.;\t\n \"-+eE=Aab'", max_size=200))
def test_no_text_brings_the_reader_down(text: str) -> None:
    told, table = outcome(text.encode())
    assert told if table is None else len(table.values) > 0


UNITS = ("s", "ms", "N", "kN", "lbf", "kgf", "N.m", "kN.m", "lbf.ft", "mm", "deg", "rad")


@settings(max_examples=80, deadline=None)
@given(
    units=st.lists(st.sampled_from(UNITS), min_size=2, max_size=6),
    way=st.sampled_from(["{} [{}]", "{} ({})", "own row"]),
    separator=st.sampled_from([";", ",", "\t"]),
    count=st.integers(2, 8),
)
def test_any_unit_is_read_wherever_it_stands(units: list[str], way: str, separator: str, count: int) -> None:
    names = NAMES[: len(units)]
    if way == "own row":
        heads = [separator.join(names), separator.join(units)]
    else:
        heads = [separator.join(way.format(n, u) for n, u in zip(names, units, strict=True))]
    rows = [separator.join(f"{k}.5" for _ in units) for k in range(count)]
    table = table_of("\n".join([*heads, *rows]).encode())
    assert list(table.dialect.units) == units
    assert table.values.tolist() == [[k + 0.5] * len(units) for k in range(count)]


def test_units_in_a_row_of_their_own_and_in_brackets() -> None:
    table = table_of(b"t;M (kN.m);x\ns;kN.m;mm\n0;1,5;2\n1;2,5;3\n")
    assert table.names == ("t", "M (kN.m)", "x")
    assert table.dialect.units == ("s", "kN.m", "mm")
    assert table.values.tolist() == [[0, 1.5, 2], [1, 2.5, 3]]
    assert table_of(b"t [s],force (lbf)\n0,1\n1,2\n").dialect.units == ("s", "lbf")


def test_log_without_names_numbers_its_columns() -> None:
    table = table_of(b"0.0,1.0\n0.1,2.0\n")
    assert table.names == ("column 1", "column 2")
    assert len(table.values) == 2


def test_byte_order_mark_spaces_and_a_separator_at_the_end_of_lines() -> None:
    table = table_of("\ufefftime, couple,\n0.0, 1.0,\n0.1, 2.0,\n".encode())
    assert table.names[:2] == ("time", "couple")
    assert table.values[:, :2].tolist() == [[0.0, 1.0], [0.1, 2.0]]


def test_text_cells_and_formulas_are_named_by_line_and_left_out() -> None:
    lines = ["time,couple", *(f"{k / 10},{k}" for k in range(30))]
    lines[11], lines[21] = "1.0,=1+2", "2.0,ERROR"
    table = table_of("\n".join(lines).encode())
    assert [(cell.line, cell.column, cell.text) for cell in table.text_cells] == [
        (12, "couple", "=1+2"),
        (22, "couple", "ERROR"),
    ]
    assert np.isnan(table.values[10, 1])
    assert table.values[11, 1] == 11


def test_missing_cells_are_gaps_and_no_text() -> None:
    table = table_of(b"a;b\n1;2\n3;\n;4\nNaN;5\n6;7\n")
    assert table.text_count == 0
    assert int(np.isnan(table.values).sum()) == 3


def test_text_past_the_part_that_tells_how_the_log_is_written() -> None:
    lines = ["time;couple", *(f"{k},5;{k}" for k in range(20_000)), "7;off", "8;1"]
    content = "\n".join(lines).encode()
    assert content.index(b"off") > SAMPLE_BYTES
    table = table_of(content)
    assert table.text_cells[0].line == 20_002
    assert table.values[19_999, 0] == 19_999.5


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"\n\n", "empty"),
        (b"time,couple\n", "no rows of numbers"),
        (b"once upon a time\nthere was\n", "no rows of numbers"),
        (b"\x89PNG\r\n\x1a\n\0\0\0", "binary"),
        ("a,b\n1,2\n".encode("utf-16"), "UTF-16"),
        (b"a,b\n1,2\n1,2,3,4\n1,2\n", "line 3 has 4 cells"),
        (b"a,b\n1,2\n1,2\n1,2,3\n", "line 4 has 3 cells"),
        ((",".join(str(k) for k in range(300)) + "\n").encode() * 3, "300 columns"),
    ],
)
def test_what_is_no_log_is_told_in_a_sentence(content: bytes, words: str) -> None:
    with pytest.raises(LogError, match=words):
        table_of(content, "rig.csv")


def test_too_large_or_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.riglog.reading.MOST_BYTES", 2 * 1024 * 1024)
    large = tmp_path / "large.csv"
    large.write_bytes(b"a,b\n" + b"1,2\n" * 600_000)
    with pytest.raises(LogError, match="larger than 2 MB"):
        read_table(large)
    with pytest.raises(LogError, match=r"There is no file .*none.csv: name a CSV file"):
        read_table(tmp_path / "none.csv")
    with pytest.raises(LogError, match="is a folder: name a CSV file in it"):
        read_table(tmp_path)
    monkeypatch.setattr("app.riglog.reading.MOST_ROWS", 10)
    with pytest.raises(LogError, match="more than 10 rows"):
        table_of(b"a,b\n" + b"1,2\n" * 11)


def test_a_million_rows(tmp_path: Path, record_property: pytest.FixtureRequest) -> None:
    """The time is reported, not asserted: it hangs on the machine."""
    row = random.Random(1)
    block = "".join(
        f"{k / 1000:.3f},{row.gauss(0, 30):.4f},{row.gauss(0, 3):.4f},{row.gauss(0, 1):.5f}\n"
        for k in range(10_000)
    )
    path = tmp_path / "million.csv"
    path.write_text("time,output,input,gauge\n" + block * 100)
    began = time.perf_counter()
    table = read_table(path)
    seconds = time.perf_counter() - began
    record_property("seconds", seconds)  # type: ignore[operator]
    print(f"1 000 000 rows of 4 in {seconds:.2f} s")  # noqa: T201
    assert table.values.shape == (1_000_000, 4)
    assert table.values[999_999, 0] == 9.999
