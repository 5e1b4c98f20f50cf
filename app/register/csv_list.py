"""The register as CSV, out and in again; no cell of it is ever a live formula in a spreadsheet.

A cell that a spreadsheet would take for a formula, or for the mark before one, gets an apostrophe in front,
and loses it when it is read. Numbers and times of entries are the register's own and are not read back.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from app.files.csv_cell import as_it_was, still
from app.files.files_error import reason_of
from app.register.entry import Entry, Numbered
from app.register.register_error import RegisterError
from app.wording.figures import plain
from geometry.file_replacing import replace_file

MOST_BYTES: Final = 20_000_000
MOST_ROWS: Final = 50_000
_MOST_TOLD: Final = 5
_LONGEST_NAME: Final = 60
_MOST_COLUMNS: Final = 100
_OWN: Final = ("number", "added", "overdue")
"""Columns that are told and not read."""
COLUMNS: Final = ("number", "added", *Entry.model_fields, "overdue")


def csv_text(entries: Iterable[Numbered], today: date) -> str:
    """Return the list as CSV with commas, every cell in quotes."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for one in entries:
        writer.writerow([still(cell) for cell in _cells(one, today)])
    return stream.getvalue()


def write_csv(path: Path, entries: Iterable[Numbered], today: date) -> int:
    """Write the list in one step; return how many entries. RegisterError if it cannot be written."""
    listed = tuple(entries)
    try:
        # the mark at the front tells spreadsheets that it is UTF-8
        replace_file(path, csv_text(listed, today).encode("utf-8-sig"), keep_previous=False)
    except (OSError, ValueError) as error:
        raise RegisterError(
            f"{path} cannot be written ({reason_of(error)}): name a file in a folder you may write to."
        ) from error
    return len(listed)


def read_csv(path: Path) -> tuple[Entry, ...]:
    """Return the entries in a list; RegisterError, telling the first troubles, if any row is wrong."""
    return entries_in(_text(path), path.name)


def entries_in(text: str, name: str) -> tuple[Entry, ...]:
    """Return the entries in the text of a list, as `read_csv` does."""
    first = text.split("\n", 1)[0]
    divider = max(",;\t", key=first.count)
    rows = csv.DictReader(io.StringIO(text, newline=""), delimiter=divider, strict=True)
    found: list[Entry] = []
    wrong: list[str] = []
    try:
        if "record_file" not in (rows.fieldnames or ()):
            raise RegisterError(
                f"{name} is no list of a register: its first line names no column record_file;"
                " nothing was added."
            )
        if len(rows.fieldnames or ()) > _MOST_COLUMNS:
            raise RegisterError(
                f"{name} is no list of a register: its first line names more than {_MOST_COLUMNS} columns;"
                " nothing was added."
            )
        for place, row in enumerate(rows, 2):
            if place > MOST_ROWS:
                raise RegisterError(f"{name} has more than {MOST_ROWS} lines: split it; nothing was added.")
            try:
                found.append(_entry(row))
            except ValidationError as error:
                wrong.append(f"entry {place - 1}: {_first(error)}")
            except ValueError as error:
                wrong.append(f"entry {place - 1}: {error}")
    except csv.Error as error:
        raise RegisterError(
            f"{name} is no CSV ({plain(str(error))}): export the list anew; nothing was added."
        ) from error
    if wrong:
        more = f"; and {len(wrong) - _MOST_TOLD} more" if len(wrong) > _MOST_TOLD else ""
        raise RegisterError(f"{name}: {'; '.join(wrong[:_MOST_TOLD])}{more}. Nothing was added.")
    return tuple(found)


def _cells(one: Numbered, today: date) -> list[str]:
    entry = one.entry
    cells = [str(one.number), one.added]
    for name in Entry.model_fields:
        value = getattr(entry, name)
        if name == "due":
            cells.append(json.dumps([d.model_dump() for d in entry.due], ensure_ascii=False) if value else "")
        else:
            cells.append("" if value is None else str(value))
    return [*cells, "; ".join(f"{d.words} by {d.by}" for d in entry.overdue(today))]


def _entry(row: Mapping[str | None, str | None]) -> Entry:
    if None in row:
        raise ValueError("it has more cells than the first line names")
    fields: dict[str, object] = {}
    for name, cell in row.items():
        if name is None or name in _OWN or not cell:
            continue
        value: object = as_it_was(cell)
        if name == "due":
            value = _due(as_it_was(cell))
        fields[name] = value
    return Entry.model_validate(fields)


def _due(cell: str) -> object:
    try:
        return json.loads(cell)
    except (ValueError, RecursionError):
        raise ValueError(f"due {cell[:40]!r} is no list of days as it is exported") from None


def _first(error: ValidationError) -> str:
    first = error.errors()[0]
    where = plain(" ".join(str(part) for part in first["loc"]))[:_LONGEST_NAME]  # the file's own column names
    given = first.get("input")
    shown = f" {str(given)[:40]!r}" if isinstance(given, str | int | float) else ""
    return f"{where}{shown}: {first['msg'][0].lower()}{first['msg'][1:]}"


def _text(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            content = stream.read(MOST_BYTES + 1)
        if len(content) > MOST_BYTES:
            raise RegisterError(f"{path} is larger than {MOST_BYTES / 1e6:g} MB and no list of a register.")
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise RegisterError(f"{path} is no text in UTF-8: export the list as CSV in UTF-8.") from None
    except RegisterError:
        raise
    except (OSError, ValueError) as error:
        raise RegisterError(
            f"{path} cannot be read ({reason_of(error)}): name the CSV file of a list."
        ) from error
