"""The register's file; the one file that knows sqlite3.

Nothing in it is ever changed or deleted: an addition is a row of its own, written in one transaction that
reserves the file before it reads, so that two windows take turns. A journal beside the file undoes what a
killed process left half done. It is one file whenever nobody writes, so it can be copied as such.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from app.files.data_folder import data_folder
from app.files.files_error import FilesError
from app.register.entry import Entry, Numbered, as_a_list_says
from app.register.register_error import RegisterError

NAME: Final = "register.sqlite3"
MOST_BYTES: Final = 100_000_000
"""Of the file; fifty thousand inspections take less."""
_LONGEST: Final = 2_000_000
"""Bytes of one value: what a stranger's file packs small may be made to swell."""
WAIT_S: Final = 3.0
"""For another window that is writing."""
_MARK: Final = 0x4853_5251
"""`application_id` of the file."""
_VERSION: Final = 1
_MADE: Final = (
    "CREATE TABLE entries (number INTEGER PRIMARY KEY AUTOINCREMENT, added TEXT NOT NULL,"
    " record_file TEXT NOT NULL, entry TEXT NOT NULL)",
    "CREATE INDEX by_record ON entries (record_file)",
    f"PRAGMA application_id = {_MARK}",
    f"PRAGMA user_version = {_VERSION}",
)
_OF_THE_LIBRARY: Final = ("sqlite_sequence", "sqlite_stat1", "sqlite_stat4")
"""Tables that the database keeps for itself."""


def register_path() -> Path:
    """Return where the register is kept if nobody names another place; RegisterError if nowhere."""
    try:
        return data_folder() / NAME
    except FilesError as error:
        raise RegisterError(str(error)) from error


@dataclass(frozen=True)
class Added:
    """What came of adding."""

    new: int
    known: int
    """Entries that stood there already, just so."""


class Register:
    """One register; every call opens the file and closes it again."""

    def __init__(self, path: Path | None = None) -> None:
        self.path = register_path() if path is None else path

    def newest(self) -> tuple[Numbered, ...]:
        """Return the newest entry of every record, in the order they were added."""
        newest: dict[str, Numbered] = {}
        for one in self.every():
            newest.pop(one.entry.record_file, None)
            newest[one.entry.record_file] = one
        return tuple(newest.values())

    def every(self) -> tuple[Numbered, ...]:
        """Return every entry, oldest first; none while there is no register yet.

        RegisterError if the file is unsound.
        """
        if not self.path.exists():
            return ()
        with self._opened("rw") as connection:
            if not self._is_made(connection):
                return ()
            rows = connection.execute("SELECT number, added, entry FROM entries ORDER BY number").fetchall()
        counts: dict[str, int] = {}
        found = []
        for number, added, text in rows:
            one = self._numbered(number, added, text)
            earlier = counts.get(one.entry.record_file, 0)
            counts[one.entry.record_file] = earlier + 1
            found.append(one.model_copy(update={"earlier": earlier}))
        return tuple(found)

    def add(self, entries: Iterable[Entry], *, from_list: bool = False) -> Added:
        """Add all these entries or, with RegisterError, none of them.

        One that stands there just so as the newest of its record is not added again; from a list, which has
        all that went before, neither is one that ever stood there just so, and what is new is marked as no
        more than what a list says.
        """
        wanted = tuple(entries)
        with self._opened("rwc") as connection:
            connection.execute("BEGIN IMMEDIATE")
            if not self._is_made(connection):
                for statement in _MADE:
                    connection.execute(statement)
            new = sum(_insert(connection, entry, from_list) for entry in wanted)
            connection.execute("COMMIT")
        return Added(new, len(wanted) - new)

    @contextmanager
    def _opened(self, mode: str) -> Iterator[sqlite3.Connection]:
        """Yield the file, open; what is not committed is undone.

        Reading opens it to be written too, where it may be: what a killed process left is undone first.
        """
        connection = None
        if self.path.is_file() and self.path.stat().st_size > MOST_BYTES:
            raise RegisterError(
                f"{self.path} is larger than {MOST_BYTES / 1e6:g} MB and no register: name another file."
            )
        try:
            where = f"{self.path.absolute().as_uri()}?mode={mode}"
            connection = sqlite3.connect(where, uri=True, timeout=WAIT_S, isolation_level=None)
            connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST)
            connection.execute("PRAGMA trusted_schema = OFF")
            connection.execute("PRAGMA synchronous = FULL")
            yield connection
        except sqlite3.Error as error:
            raise RegisterError(f"{self.path} {_words(error)}") from error
        except UnicodeDecodeError as error:
            # The library tells what is damaged in the damaged bytes themselves.
            raise RegisterError(f"{self.path} {_SAID[sqlite3.SQLITE_CORRUPT]}") from error
        finally:
            if connection is not None:
                connection.close()

    def _is_made(self, connection: sqlite3.Connection) -> bool:
        """Return whether there is a register, sound, or a file with nothing in it yet.

        RegisterError if it is somebody else's, newer or damaged.
        """
        mark, version = (
            connection.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version")
        )
        tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
        if (mark, version, tables) == (0, 0, 0):
            return False
        if mark != _MARK:
            raise RegisterError(
                f"{self.path} is another program's database and no register: name another file; nothing was"
                " changed."
            )
        if version > _VERSION:
            raise RegisterError(
                f"{self.path} was written by a newer version of Holdsquare (register {version}, this one"
                f" knows {_VERSION}): use that version; nothing was changed."
            )
        self._refuse_strange(connection)
        if connection.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
            raise RegisterError(f"{self.path} is damaged: {_WAY_OUT}")
        return True

    def _refuse_strange(self, connection: sqlite3.Connection) -> None:
        """Raise RegisterError for a table that is none, a view, a trigger: they would be carried out."""
        made = connection.execute("SELECT type, name, sql FROM sqlite_master").fetchall()
        strange = [
            str(name)
            for kind, name, sql in made
            if sql not in _MADE and (kind, name) not in {("table", own) for own in _OF_THE_LIBRARY}
        ]
        if strange or not any(name == "entries" for _, name, _ in made):
            what = f"holds {strange[0][:60]!r}, which no register does" if strange else "holds no entries"
            raise RegisterError(f"{self.path} {what}: {_WAY_OUT}")

    def _numbered(self, number: object, added: object, text: str) -> Numbered:
        try:
            entry = Entry.model_validate_json(text)
            return Numbered.model_validate({"number": number, "added": added, "entry": entry})
        except ValidationError as error:
            raise RegisterError(
                f"{self.path} holds an entry {number!r} that cannot be read ({error.errors()[0]['msg']}): "
                f"{_WAY_OUT}"
            ) from error


_WAY_OUT: Final = "move it aside and import your last list (CSV) into a new one; nothing was changed."
_BUSY: Final = "is being written by another window: try again in a moment; nothing was changed."
_SAID: Final = {
    sqlite3.SQLITE_BUSY: _BUSY,
    sqlite3.SQLITE_LOCKED: _BUSY,
    sqlite3.SQLITE_TOOBIG: f"holds a value larger than any entry: {_WAY_OUT}",
    sqlite3.SQLITE_NOTADB: "is no register: name another file; nothing was changed.",
    sqlite3.SQLITE_CORRUPT: f"is damaged: {_WAY_OUT}",
    sqlite3.SQLITE_READONLY: "may only be read: let it and its folder be written to; nothing was changed.",
    sqlite3.SQLITE_PERM: "may not be opened: let it be read and written; nothing was changed.",
    sqlite3.SQLITE_FULL: "cannot grow, the disk is full: make room; nothing was changed.",
    sqlite3.SQLITE_IOERR: "cannot be written, the disk is full or gone: make room; nothing was changed.",
    sqlite3.SQLITE_CANTOPEN: "cannot be opened: name a file in a folder that is there and may be written to.",
}


def _words(error: sqlite3.Error) -> str:
    code = (getattr(error, "sqlite_errorcode", 0) or 0) & 0xFF
    return _SAID.get(code, f"cannot be used ({error}): name another file; nothing was changed.")


def _insert(connection: sqlite3.Connection, entry: Entry, from_list: bool) -> int:
    """Add one entry unless it stands there just so already; return how many rows that made."""
    alike = [entry.model_dump_json()]
    if from_list:
        alike.append(as_a_list_says(entry).model_dump_json())
    rows = connection.execute(
        "SELECT entry FROM entries WHERE record_file = ? ORDER BY number DESC", (entry.record_file,)
    ).fetchall()
    if any((text,) in (rows if from_list else rows[:1]) for text in alike):
        return 0
    now = datetime.now().astimezone().strftime("%Y-%m-%d %H:%M:%S")
    connection.execute(
        "INSERT INTO entries (added, record_file, entry) VALUES (?, ?, ?)",
        (now, entry.record_file, alike[-1]),
    )
    return 1
