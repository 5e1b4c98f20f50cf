"""`register`: a certifier's list of inspected brackets; bare, it lists, what is overdue first."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, Literal

from app.cli.limits_file import LimitsFileError
from app.cli.page import Page, complain, page_for_stdout, say
from app.cli.record_command import CannotInspect, Papers, inspect_file
from app.cli.strict_json import strict_json
from app.exit_codes import BAD_USAGE
from app.files.near_names import missing_file_sentence
from app.record.record_file import RecordFileError, read_record
from app.record.record_name import SUFFIX, record_path_of
from app.register.csv_list import read_csv, write_csv
from app.register.database import Register
from app.register.entry import Entry, Numbered, entry_as_written, entry_of, other_records, overdue_first
from app.register.register_error import RegisterError

Doing = Literal["list", "add", "show", "search", "export", "import"]
_WANTS: Final = {
    "add": "files to add: register add NAME.record.json, or NAME.bracket.json with its record beside it",
    "show": "the number of an entry: register show 3",
    "search": "words to look for: register search refused 2031",
    "export": "one CSV file to write: register export LIST.csv",
    "import": "one CSV file to read: register import LIST.csv",
}


class _Bad(ValueError):  # noqa: N818 - a sentence for whoever typed it
    """Why the command cannot be carried out."""


@dataclass(frozen=True)
class _Asked:
    register: Register
    words: tuple[str, ...]
    as_written: bool
    profile: Path | None
    today: datetime.date


@dataclass(frozen=True)
class _Told:
    """What to print: a sentence and entries."""

    sentence: str
    entries: tuple[Numbered, ...] = ()
    whole: bool = False
    """Whether each entry is told in full."""


def run_register(
    doing: Doing,
    words: Sequence[str],
    *,
    file: Path | None,
    profile: Path | None,
    as_written: bool,
    as_json: bool,
) -> int:
    """Carry out one doing of the register and print what came of it; return 0 or 64."""
    given = tuple(word for word in words if word.strip())
    try:
        if doing in _WANTS and not given:
            raise _Bad(f"register {doing} needs {_WANTS[doing]}")
        if file is not None and doing not in ("add", "import") and not file.exists():
            raise _Bad(f"There is no register {file}: register add --file {file} begins one.")
        asked = _Asked(Register(file), given, as_written, profile, datetime.date.today())
        told = _DOINGS[doing](asked)
    except (_Bad, RegisterError, RecordFileError, CannotInspect, LimitsFileError) as bad:
        complain(str(bad))
        return BAD_USAGE
    if as_json:
        listed = [_json_of(one, asked.today) for one in told.entries]
        say(strict_json({"register": str(asked.register.path), "sentence": told.sentence, "entries": listed}))
    else:
        say(_text_of(told, asked))
    return 0


def _list(asked: _Asked) -> _Told:
    if asked.words:
        raise _Bad(
            f"register list takes no {asked.words[0]!r}: register search {asked.words[0]} looks for it"
        )
    entries = overdue_first(asked.register.newest(), asked.today)
    return _Told(_count_words(entries, asked), entries)


def _search(asked: _Asked) -> _Told:
    wanted = " ".join(asked.words)
    entries = tuple(one for one in asked.register.newest() if one.entry.holds(wanted))
    return _Told(_count_words(entries, asked), overdue_first(entries, asked.today))


def _show(asked: _Asked) -> _Told:
    if len(asked.words) != 1 or not asked.words[0].isdecimal():
        raise _Bad(f"{' '.join(asked.words)!r} is no number of an entry: give one, such as register show 3")
    every = asked.register.every()
    one = next((e for e in every if e.number == int(asked.words[0])), None)
    if one is None:
        there = f"there are {every[0].number} to {every[-1].number}" if every else "the register is empty"
        raise _Bad(f"There is no entry {asked.words[0]} in {asked.register.path}: {there}.")
    of_record = tuple(e for e in every if e.entry.record_file == one.entry.record_file)
    later = [e.number for e in of_record if e.number > one.number]
    said = f"Entry {one.number} of {asked.register.path}"
    said += f"; a later entry of the same record is {later[-1]}." if later else "."
    return _Told(said, (one, *(e for e in reversed(of_record) if e.number < one.number)), whole=True)


def _add(asked: _Asked) -> _Told:
    entries = [_entry_at(Path(word), asked) for word in asked.words]
    added = asked.register.add(entries)
    known = f"; {added.known} stood there just so already" if added.known else ""
    files = {entry.record_file for entry in entries}
    there = tuple(one for one in asked.register.newest() if one.entry.record_file in files)
    return _Told(f"Added {added.new} to {asked.register.path}{known}.", overdue_first(there, asked.today))


def _export(asked: _Asked) -> _Told:
    out = _one_csv(asked)
    count = write_csv(out, asked.register.every(), asked.today)
    return _Told(f"Written to {out}: {count} {'entry' if count == 1 else 'entries'}.")


def _import(asked: _Asked) -> _Told:
    added = asked.register.add(read_csv(_one_csv(asked)), from_list=True)
    return _Told(f"Added {added.new} to {asked.register.path}; {added.known} stood there just so already.")


_DOINGS: Final = {
    "list": _list, "add": _add, "show": _show, "search": _search, "export": _export, "import": _import,
}  # fmt: skip


def _one_csv(asked: _Asked) -> Path:
    path = Path(asked.words[0])
    if len(asked.words) != 1 or path.suffix.lower() != ".csv":
        raise _Bad(f"{' '.join(asked.words)} is not one CSV file: name one that ends in .csv")
    return path


def _entry_at(path: Path, asked: _Asked) -> Entry:
    if missing := missing_file_sentence(path):
        raise _Bad(missing)
    if not path.name.endswith(SUFFIX):
        record_path = record_path_of(path)
        if not record_path.is_file():
            if not path.name.endswith(".json"):
                raise _Bad(f"{path.name} is neither a record nor a bracket file: name one of those.")
            raise _Bad(f"{path.name} has no record beside it: record {path} --new begins one.")
        return _inspected(path, record_path, asked)
    reading = read_record(path)
    if reading.record is None:
        raise _Bad(f"{path} cannot be read as a record: {reading.sentences[0]}")
    bracket = path.with_name(Path(reading.record.bracket_file).name or ".")
    if asked.as_written or not bracket.is_file():
        return entry_as_written(reading.record, path)
    return _inspected(bracket, path, asked)


def _inspected(bracket: Path, record: Path, asked: _Asked) -> Entry:
    one = inspect_file(bracket, record, asked.profile, new=False, papers=Papers())
    results = one.judged.under_profile
    return entry_of(
        one.record, record, one.items, one.standing, one.judged.verdict,
        None if results is None else results.holds_to_nm, one.profile.called,
    )  # fmt: skip


def _count_words(entries: Sequence[Numbered], asked: _Asked) -> str:
    late = sum(1 for one in entries if one.entry.overdue(asked.today))
    count = f"{len(entries)} {'inspection' if len(entries) == 1 else 'inspections'}"
    found = f" found of {len(asked.register.newest())}" if asked.words else ""
    return f"{asked.register.path}: {count}{found}, {late} overdue."


def _text_of(told: _Told, asked: _Asked) -> str:
    page = page_for_stdout()
    page.line(told.sentence, style="bold")
    newest = asked.register.newest() if told.entries else ()
    for one in told.entries:
        _write_entry(page, one, asked.today, other_records(one, newest), whole=told.whole)
    return page.text


def _write_entry(page: Page, one: Numbered, today: datetime.date, others: str, *, whole: bool) -> None:
    entry = one.entry
    late = entry.overdue(today)
    page.blank()
    lead = f"{one.number:>4}  "
    state = entry.standing or entry.decision
    page.hanging(
        lead, f"{'OVERDUE: ' if late else ''}{entry.title or entry.bracket_file or 'no title'}: {state}"
    )
    verdict = entry.verdict.upper() or "nothing computed"
    holds = "" if entry.holds_to_nm is None else f", holds to {entry.holds_to_nm:.3g} N.m"
    opened = f"{entry.open_items} open"
    page.line(
        f"{entry.date or 'no date'}, {entry.certifier or 'no name'}; {verdict}{holds}; {opened}", indent=6
    )
    for due in entry.due:
        page.line(f"{'overdue' if due in late else 'due'} {due.by}: {due.words}", indent=6)
    if not whole:
        page.line(f"record {Path(entry.record_file).name}, inputs {entry.bracket_hash[:12]}", indent=6)
    if others:
        page.line(others, indent=6)
    if whole:
        page.line(f"record {entry.record_file}", indent=6)
        page.line(f"bracket {entry.bracket_file or 'not saved'}, inputs {entry.bracket_hash}", indent=6)
        page.line(f"judged under {entry.judged_under or 'limits not named'}; added {one.added}", indent=6)


def _json_of(one: Numbered, today: datetime.date) -> dict[str, Any]:
    return {
        "number": one.number,
        "added": one.added,
        **one.entry.model_dump(mode="json"),
        "overdue": [due.model_dump(mode="json") for due in one.entry.overdue(today)],
        "earlier_entries": one.earlier,
    }
