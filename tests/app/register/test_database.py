"""The register's file: windows take turns, a kill in mid-write loses nothing, bad files are sentences."""

from __future__ import annotations

import multiprocessing
import os
import random
import signal
import sqlite3
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from app.register import database
from app.register.csv_list import csv_text, entries_in
from app.register.database import Register
from app.register.entry import Entry, overdue_first
from app.register.register_error import RegisterError
from tests.app.files.killed import killed_while, needs_fork
from tests.app.register.entries import due, entry

TODAY = date(2031, 6, 1)


@pytest.fixture
def register(tmp_path: Path) -> Register:
    return Register(tmp_path / "list é#?.sqlite3")


def titles(register: Register) -> list[str]:
    return [one.entry.title for one in register.newest()]


def test_what_is_added_comes_back_and_the_newest_of_each_record_counts(register: Register) -> None:
    assert register.newest() == ()
    assert register.add([entry(1), entry(2)]).new == 2
    again = register.add([entry(1), entry(2, decision="refuse", standing="refused")])
    assert (again.new, again.known) == (1, 1)
    assert [one.entry for one in register.newest()] == [
        entry(1),
        entry(2, decision="refuse", standing="refused"),
    ]
    assert [(one.number, one.earlier) for one in register.every()] == [(1, 0), (2, 0), (3, 1)]


def test_a_whole_list_taken_in_twice_adds_nothing_the_second_time(register: Register) -> None:
    history = [entry(1), entry(1, decision="refuse"), entry(1)]
    assert register.add(history).new == 3
    assert register.add(history, from_list=True).new == 0
    assert register.add([entry(1, decision="refuse")]).new == 1


def test_what_only_a_list_says_is_marked_so_however_often_it_is_taken_in(register: Register) -> None:
    """A list is a text that anybody can edit: an acceptance in it was never looked at here."""
    seen, told = entry(1, decision="accept", standing="accepted"), entry(2, decision="accept")
    register.add([seen])
    assert register.add([seen, told], from_list=True).new == 1
    assert [one.entry.standing for one in register.newest()] == [
        "accepted",
        f"{told.standing}, as a list says",
    ]
    listed = entries_in(csv_text(register.every(), TODAY), "list.csv")
    assert register.add([*listed, told], from_list=True).new == 0


def test_overdue_leads_and_search_takes_every_word(register: Register) -> None:
    late = due("refit bolt 3", "2031-05-01")
    register.add([entry(1, due=(late,)), entry(2, due=(due("weld", "2031-07-01"),)), entry(3)])
    listed = overdue_first(register.newest(), TODAY)
    assert [one.number for one in listed] == [1, 3, 2]
    assert listed[0].entry.overdue(TODAY) == (late,)
    assert not listed[2].entry.overdue(TODAY)
    # the day itself is not late yet
    assert not listed[2].entry.overdue(date(2031, 7, 1))
    assert entry(1, due=(late,)).holds("REFIT inventley 2031-05")
    assert not entry(1).holds("car nowhere")


def test_a_file_that_is_empty_is_no_fault(register: Register) -> None:
    register.path.touch()
    assert register.newest() == ()
    register.add([entry(1)])
    assert titles(register) == ["car 1"]


def _adds(path: Path, first: int) -> None:
    for number in range(first, first + 15):
        Register(path).add([entry(number)])


def test_two_windows_at_once_lose_nothing(register: Register) -> None:
    context = multiprocessing.get_context("spawn")
    windows = [context.Process(target=_adds, args=(register.path, first)) for first in (100, 200, 300)]
    for window in windows:
        window.start()
    for window in windows:
        window.join(60)
        assert window.exitcode == 0
    assert sorted(titles(register)) == sorted(
        f"car {n}" for first in (100, 200, 300) for n in range(first, first + 15)
    )


def test_a_window_that_writes_too_long_is_told(register: Register, monkeypatch: pytest.MonkeyPatch) -> None:
    register.add([entry(1)])
    monkeypatch.setattr(database, "WAIT_S", 0.05)
    other = sqlite3.connect(register.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(RegisterError, match="is being written by another window: try again"):
        register.add([entry(2)])
    other.execute("ROLLBACK")
    other.close()
    assert register.add([entry(2)]).new == 1


@needs_fork
def test_killed_over_and_over_it_keeps_everything_that_was_added(register: Register) -> None:
    chance, done = random.Random(7), register.path.with_name("done")
    for turn in range(6):

        def step(number: int, turn: int = turn) -> None:
            Register(register.path).add([entry(turn * 1000 + number)])
            with done.open("a") as told:
                told.write(f"car {turn * 1000 + number}\n")
                told.flush()
                os.fsync(told.fileno())

        killed_while(step, chance)
        assert set(done.read_text().split("\n")) - {""} <= set(titles(register))


@needs_fork
def test_killed_in_the_middle_of_one_addition_none_of_it_is_there(
    register: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    register.add([entry(1)])
    insert, told = database._insert, os.pipe()
    child = os.fork()
    if child == 0:  # pragma: no cover - another process

        def stopping(connection: sqlite3.Connection, one: Entry, once: bool) -> int:
            made = insert(connection, one, once)
            if connection.total_changes >= 3000:
                os.write(told[1], b"1")
                signal.pause()
            return made

        monkeypatch.setattr(database, "_insert", stopping)
        Register(register.path).add([entry(n, judged_under="x" * 390) for n in range(2, 5000)])
        os._exit(1)
    assert os.read(told[0], 1) == b"1"
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    journal = register.path.with_name(f"{register.path.name}-journal")
    # it was half written into the file itself, and the journal knows what stood there
    assert journal.stat().st_size > 0
    assert register.path.stat().st_size > 500_000
    assert titles(register) == ["car 1"]
    assert register.add([entry(2)]).new == 1


def _with(path: Path, *statements: str) -> None:
    with sqlite3.connect(path) as other:
        for statement in statements:
            other.execute(statement)
    other.close()


def test_foreign_newer_and_damaged_files_are_one_sentence_and_stay_as_they_were(
    register: Register, tmp_path: Path
) -> None:
    text, foreign, newer, torn, no_letters, folder = (
        tmp_path / n for n in ("text.db", "foreign.db", "newer.db", "torn.db", "no_letters.db", "folder")
    )
    text.write_bytes(b"a list of things to buy\n" * 200)
    _with(foreign, "CREATE TABLE songs (name TEXT)")
    Register(newer).add([entry(1)])
    _with(newer, "PRAGMA user_version = 2")
    Register(torn).add([entry(n) for n in range(300)])
    content = bytearray(torn.read_bytes())
    content[8192:40960] = b"\xff" * 32768
    torn.write_bytes(content)
    Register(no_letters).add([entry(1)])
    no_letters.write_bytes(
        no_letters.read_bytes().replace(b"CREATE TABLE entries", b"CREATE \x82ABLE entries")
    )
    folder.mkdir()
    for path, words in (
        (text, "is no register: name another file"),
        (foreign, "another program's database and no register"),
        (newer, "written by a newer version of Holdsquare (register 2, this one knows 1)"),
        (torn, "is damaged: move it aside and import your last list"),
        (no_letters, "is damaged: move it aside and import your last list"),
        (folder, "cannot be opened: name a file in a folder that is there"),
    ):
        before = path.read_bytes() if path.is_file() else b""
        for deed in (
            lambda path=path: Register(path).every(),
            lambda path=path: Register(path).add([entry(9)]),
        ):
            with pytest.raises(RegisterError) as refused:
                deed()
            assert words in str(refused.value), path
            assert "\n" not in str(refused.value)
        assert (path.read_bytes() if path.is_file() else b"") == before
    with pytest.raises(RegisterError, match="cannot be opened"):
        Register(tmp_path / "nowhere" / "x.db").add([entry(1)])


def test_an_entry_that_makes_no_sense_is_told_with_its_number(register: Register) -> None:
    register.add([entry(1)])
    _with(register.path, 'UPDATE entries SET entry = \'{"decision": "maybe"}\'')
    with pytest.raises(RegisterError, match="entry 1 that cannot be read"):
        register.every()


_IN_CHILD = """
import os, sys, resource, signal
from pathlib import Path
from app.register.csv_list import csv_text, entries_in
from app.register.database import Register
from app.register.register_error import RegisterError
from tests.app.register.entries import entry
{first}
register = Register(Path(sys.argv[1]))
print(len(register.every()))
try:
    register.add([entry(n, judged_under="y" * 390) for n in range(1000, 1400)])
except RegisterError as refused:
    print(refused)
"""


def _told_by_child(path: Path, first: str) -> list[str]:
    """Return the lines a child process says, on a system that refuses it something."""
    done = subprocess.run(
        [sys.executable, "-c", _IN_CHILD.format(first=first), str(path)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[3],
    )
    return done.stdout.splitlines()


def test_a_disk_without_room_loses_nothing(register: Register) -> None:
    """The system itself refuses to let the file grow past what it has."""
    register.add([entry(1)])
    said = _told_by_child(
        register.path,
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (40960, 40960))",
    )
    assert said[0] == "1"
    assert "the disk is full" in said[1]
    assert titles(register) == ["car 1"]


def test_a_file_that_may_only_be_read_is_listed_and_not_added_to(register: Register) -> None:
    register.add([entry(1)])
    register.path.chmod(0o400)
    register.path.parent.chmod(0o500)
    try:
        # root may write everywhere, so somebody else is asked
        nobody = "os.setgid(65534); os.setuid(65534)" if os.geteuid() == 0 else ""
        if nobody:
            os.chown(register.path, 65534, 65534)
            os.chown(register.path.parent, 65534, 65534)
            register.path.parent.parent.chmod(0o711)
            register.path.parent.parent.parent.chmod(0o711)
        said = _told_by_child(register.path, nobody)
    finally:
        register.path.parent.chmod(0o700)
    assert said[0] == "1"
    assert "may only be read" in said[1]
