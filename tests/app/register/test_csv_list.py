"""The list as CSV: no live formula in it, and everything comes back as it was."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.register.csv_list import csv_text, entries_in, read_csv, write_csv
from app.register.entry import Entry, Numbered
from app.register.register_error import RegisterError
from tests.app.register.entries import due, entry

TODAY = date(2031, 6, 1)
LIVE = ("=", "+", "-", "@", "\t", "\r", "\n")
HOSTILE = (
    '=HYPERLINK("http://x.invalid";"open")', "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "'=1", "''", "'",
    'a "quoted", cell', "two\nlines", "\uff1d1", " =1", "",
)  # fmt: skip


def listed(*entries: Entry) -> str:
    numbered = [Numbered(number=n, added="2031-05-01 10:00:00", entry=e) for n, e in enumerate(entries, 1)]
    return csv_text(numbered, TODAY)


@pytest.mark.parametrize("text", HOSTILE)
def test_no_cell_is_carried_out_and_each_reads_back_the_same(text: str) -> None:
    one = entry(1, title=text, certifier=text, due=(due(f"x{text}", "2031-05-01"),))
    written = listed(one)
    for row in csv.reader(io.StringIO(written, newline="")):
        assert not any(cell.startswith(LIVE) for cell in row)
    assert entries_in(written, "list.csv") == (one,)


@given(st.text(max_size=30), st.text(max_size=30))
def test_any_words_come_back(title: str, name: str) -> None:
    one = entry(1, title=title, certifier=name)
    assert entries_in(listed(one), "list.csv") == (one,)


def test_a_file_goes_out_and_comes_in(tmp_path: Path) -> None:
    entries = (entry(1, title="größte Stütze"), entry(2, verdict="", holds_to_nm=None, decision="ask"))
    path = tmp_path / "list.csv"
    numbered = [Numbered(number=n, added="", entry=e) for n, e in enumerate(entries, 5)]
    assert write_csv(path, numbered, TODAY) == 2
    assert path.read_bytes().startswith(b"\xef\xbb\xbf")
    assert read_csv(path) == entries
    # as a spreadsheet of another language saves it again
    semicolons = io.StringIO(newline="")
    csv.writer(semicolons, delimiter=";").writerows(
        csv.reader(io.StringIO(path.read_text("utf-8-sig"), newline=""))
    )
    assert entries_in(semicolons.getvalue(), "list.csv") == entries
    with pytest.raises(RegisterError, match="cannot be written"):
        write_csv(tmp_path / "no" / "x.csv", numbered, TODAY)


def test_an_overdue_item_is_told_in_a_column_of_its_own() -> None:
    one = entry(1, due=(due("refit bolt 3", "2031-05-01"), due("weld", "2031-07-01")))
    (row,) = csv.DictReader(io.StringIO(listed(one), newline=""))
    assert row["overdue"] == "refit bolt 3 by 2031-05-01"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name,price\nbolt,3\n", "no list of a register: its first line names no column record_file"),
        ("", "no list of a register"),
        ("record_file,decision\n/a.record.json,maybe\n", "entry 1: decision 'maybe'"),
        ("record_file,date\n/a,1.2.2031\n/b,2031-01-01\n/c,x\n", "entry 1: date '1.2.2031'"),
        ("record_file,date\n/a,1.2.2031\n/b,2031-01-01\n/c,x\n", "entry 3: date 'x'"),
        ("record_file,holds_to_nm\n/a,-3\n", "holds_to_nm '-3'"),
        ("record_file,due\n/a,soon\n", "due 'soon' is no list of days"),
        ("record_file,wheel\n/a,3\n", "wheel '3'"),
        ("record_file\n/a,3\n", "more cells than the first line names"),
        ('record_file\n"/a\n', "is no CSV"),
    ],
)
def test_a_list_that_is_wrong_is_told_and_nothing_of_it_taken(text: str, words: str) -> None:
    with pytest.raises(RegisterError) as refused:
        entries_in(text, "list.csv")
    assert words in str(refused.value)
    assert "othing was added" in str(refused.value)


def test_files_that_are_no_text_are_told(tmp_path: Path) -> None:
    (tmp_path / "x.csv").write_bytes(b"\xff\xfe\x00record_file")
    with pytest.raises(RegisterError, match="no text in UTF-8"):
        read_csv(tmp_path / "x.csv")
    with pytest.raises(RegisterError, match="cannot be read"):
        read_csv(tmp_path / "y.csv")
