"""Registers and lists of strangers: what the trial of strangers' files found in them, cut down."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from app.register import database
from app.register.csv_list import entries_in
from app.register.database import Register
from app.register.register_error import RegisterError
from tests.app.register.entries import entry

ENDLESS = "WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT x AS number"


def marked(path: Path, *statements: str) -> Register:
    """Return a database that says it is a register, and holds what the statements make."""
    connection = sqlite3.connect(path, isolation_level=None)
    for statement in statements:
        connection.execute(statement)
    connection.execute(f"PRAGMA application_id = {0x48535251}")
    connection.execute("PRAGMA user_version = 1")
    connection.close()
    return Register(path)


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            f"CREATE VIEW entries AS {ENDLESS}, 'a' AS added, 'r' AS record_file, '' AS entry FROM n",
            "'entries'",
        ),
        ("CREATE TABLE entries (number, added, record_file, entry)", "'entries'"),
        ("CREATE TABLE other (x)", "'other'"),
    ],
)
def test_what_only_looks_like_a_register_is_not_carried_out(
    statement: str, said: str, tmp_path: Path
) -> None:
    register = marked(tmp_path / "r.sqlite3", statement)
    before = register.path.read_bytes()
    for use in (register.every, lambda: register.add([entry(1)])):
        with pytest.raises(RegisterError, match=rf"holds {said}, which no register does: move it aside"):
            use()
    assert register.path.read_bytes() == before


def test_a_trigger_is_refused(tmp_path: Path) -> None:
    register = Register(tmp_path / "r.sqlite3")
    register.add([entry(1)])
    marked(register.path, "CREATE TRIGGER t AFTER INSERT ON entries BEGIN DELETE FROM entries; END")
    with pytest.raises(RegisterError, match="holds 't', which no register does"):
        register.add([entry(2)])


def test_values_of_another_type_are_told(tmp_path: Path) -> None:
    register = Register(tmp_path / "r.sqlite3")
    register.add([entry(1)])
    marked(register.path, "UPDATE entries SET added = x'ff'")
    with pytest.raises(RegisterError, match="holds an entry 1 that cannot be read"):
        register.every()


def test_a_file_or_a_value_beyond_every_register_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    register = Register(tmp_path / "r.sqlite3")
    register.add([entry(1)])
    marked(register.path, "UPDATE entries SET entry = zeroblob(3000000)")
    with pytest.raises(RegisterError, match="holds a value larger than any entry"):
        register.every()
    monkeypatch.setattr(database, "MOST_BYTES", 1_000)
    with pytest.raises(RegisterError, match="is larger than"):
        register.every()


def test_a_tab_between_cells_reaches_no_sentence() -> None:
    with pytest.raises(RegisterError, match="is no CSV") as refused:
        entries_in('record_file\ttitle\n"a"b\tc\n', "list.csv")
    assert str(refused.value).isprintable()


def test_a_columns_name_of_any_length_is_told_in_short() -> None:
    with pytest.raises(RegisterError) as refused:
        entries_in(f"record_file,{'n' * 5_000}\x1b\na,b\n", "list.csv")
    assert len(str(refused.value)) < 300
    assert str(refused.value).isprintable()
