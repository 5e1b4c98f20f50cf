"""`register` on the command line: bare it lists; every doing in text and JSON; bad input is a sentence."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.cli.main import main
from app.record import judging
from app.record.comparison import Judgements
from app.record.due import with_conditions
from app.record.record_file import save_record
from app.register.database import Register
from app.register.entry import as_a_list_says
from geometry.bracket import Bracket
from geometry.bracket_file import save_bracket
from tests.app.record.examples import clear_results, locked_bracket, settled_record


@pytest.fixture
def record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    path = tmp_path / "cart.record.json"
    kept = settled_record().but(title="the cart", decision="accept with conditions")
    save_record(path, with_conditions(kept, ["refit bolt 3 by 2001-05-30", "send a picture"]))
    return path


def said(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> str:
    assert main([str(a) for a in ("register", *arguments)]) == 0
    return capsys.readouterr().out


def refused(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> str:
    assert main([str(a) for a in ("register", *arguments)]) == 64
    told = capsys.readouterr()
    assert told.out == ""
    return " ".join(told.err.split())


def test_a_record_is_added_listed_shown_and_found(record: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "0 inspections" in said(capsys)
    assert "Added 1" in said(capsys, "add", record)
    assert "stood there just so already" in said(capsys, "add", record)
    listed = said(capsys)
    assert "1 inspection, 1 overdue" in " ".join(listed.split())
    assert "OVERDUE: the cart: accept with conditions, as written down" in listed
    assert "overdue 2001-05-30: refit bolt 3" in listed
    assert record.name in "".join(said(capsys, "show", "1").split())
    assert "the cart" in said(capsys, "search", "inventley", "CART")
    assert "0 inspections found of 1" in " ".join(said(capsys, "search", "barge").split())
    assert f"record {record.name}, inputs" in listed
    (one,) = json.loads(said(capsys, "--json"))["entries"]
    assert (one["title"], one["decision"]) == ("the cart", "accept with conditions")
    assert one["overdue"] == [{"words": "refit bolt 3", "by": "2001-05-30", "done": ""}]


def test_out_and_in_again(record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "add", record)
    out = tmp_path / "list.csv"
    assert said(capsys, "export", out).split()[-2:] == ["1", "entry."]
    other = tmp_path / "other.sqlite3"
    assert "Added 1" in said(capsys, "import", out, "--file", other)
    assert "Added 0" in said(capsys, "import", out, "--file", other)
    assert Register(other).newest()[0].entry == as_a_list_says(Register().newest()[0].entry)


def test_a_bracket_is_added_with_its_record_and_what_is_computed(
    record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    bracket = tmp_path / "cart.bracket.json"
    save_bracket(bracket, locked_bracket())
    seen: list[Bracket] = []

    def judged_for(of: Bracket, *_: object, **__: object) -> Judgements:
        seen.append(of)
        return Judgements(under_profile=clear_results("fail"))

    monkeypatch.setattr(judging, "judged_for", judged_for)
    said(capsys, "add", bracket)
    (one,) = Register().newest()
    assert (one.entry.verdict, one.entry.standing) == ("fail", "open")
    assert one.entry.holds_to_nm == clear_results().holds_to_nm
    # naming the record finds its bracket by the name that is written down in it
    save_record(record, settled_record().but(bracket_file="../cart.bracket.json"))
    said(capsys, "add", record)
    assert seen == [locked_bracket()] * 2
    said(capsys, "add", record, "--as-written")
    assert seen == [locked_bracket()] * 2


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("add",), "register add needs files to add"),
        (("add", "nowhere.record.json"), "There is no file nowhere.record.json"),
        (("show", "x"), "'x' is no number of an entry"),
        (("show", "7"), "There is no entry 7"),
        (("list", "cart"), "register search cart looks for it"),
        (("export", "list.txt"), "is not one CSV file"),
        (("import", "nowhere.csv"), "nowhere.csv cannot be read"),
        (("--file", "nowhere.sqlite3"), "There is no register nowhere.sqlite3"),
        (("burn",), "'burn' is not one of 'list', 'add', 'show', 'search', 'export', 'import'"),
    ],
)
def test_bad_usage_is_a_sentence(
    record: Path, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], words: str
) -> None:
    assert words in refused(capsys, *arguments)


def test_bad_files_are_a_sentence(record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    alone = tmp_path / "alone.bracket.json"
    alone.write_text("{}")
    assert "has no record beside it" in refused(capsys, "add", alone)
    torn = tmp_path / "torn.record.json"
    torn.write_text("{")
    assert "cannot be read as a record" in refused(capsys, "add", torn)
    assert "is no register" in refused(capsys, "--file", alone)
    assert Register().newest() == ()


def test_two_records_of_one_bracket_are_told_of_each_other(
    record: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    again = tmp_path / "again.record.json"
    save_record(again, settled_record().but(title="the cart", decision="refuse"))
    said(capsys, "add", record)
    assert "other record of the same inputs: 1 (accept with conditions, as written down)" in " ".join(
        said(capsys, "add", again).split()
    )
    listed = " ".join(said(capsys).split())
    assert "other record of the same inputs: 2 (refuse, as written down)" in listed
    elsewhere = tmp_path / "else.record.json"
    save_record(elsewhere, settled_record().but(bracket_hash="0" * 64))
    assert "other record" not in said(capsys, "add", elsewhere)


def test_what_is_neither_record_nor_bracket_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "rig.csv"
    log.write_text("time,couple")
    assert "rig.csv is neither a record nor a bracket file" in refused(capsys, "add", log)
