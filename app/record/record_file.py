"""The one reader and the one writer of record files. A bad file gives findings; a save never leaves half."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from app.editing.refused import EditRefused
from app.record.photographs import sound_photograph
from app.record.record import FORMAT, VERSION, Photograph, Record
from app.record.record_name import SUFFIX
from geometry.bracket_file import SUFFIX as BRACKET_SUFFIX
from geometry.file_kind import FileKind
from geometry.file_replacing import replace_file
from geometry.file_text import parse, read_bytes
from geometry.file_validation import validate_part
from geometry.file_writing import part_text
from geometry.finding import Finding, worst_first
from geometry.finding_words import found, sentence

MOST_BYTES: Final = 60_000_000
KIND: Final = FileKind("record", FORMAT, VERSION, MOST_BYTES)


class RecordFileError(OSError):
    """A record that cannot be saved; what stood there before is untouched."""


@dataclass(frozen=True)
class RecordReading:
    """What came of reading a record file."""

    record: Record | None
    """What is sound; None if nothing in the file makes a record."""
    findings: tuple[Finding, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """Return the findings in words, worst first."""
        return tuple(sentence(finding) for finding in self.findings)


def read_record(path: Path | str) -> RecordReading:
    """Return the record in a file, as far as it is sound, and every finding about it. Never raises."""
    path = Path(path)
    content = read_bytes(path, KIND.word, MOST_BYTES)
    if isinstance(content, Finding):
        return RecordReading(None, (content,))
    return record_of(content, f"file {path.name}")


def record_of(content: bytes, where: str = "file") -> RecordReading:
    """Return the record in the bytes of a file, as `read_record` does."""
    data, findings = parse(content, where)
    if findings:
        return RecordReading(None, worst_first(findings))
    if not isinstance(data, dict):
        return RecordReading(None, (found("file-not-a-bracket", where, kind=KIND.word),))
    refused = KIND.foreign(data, where)
    if refused is not None:
        return RecordReading(None, (refused,))
    record, wrong = validate_part(KIND.migrated(data), Record)
    if record is None:
        wrong.append(found("file-not-a-bracket", where, kind=KIND.word))
        return RecordReading(None, worst_first(wrong))
    record, about_photographs = _with_sound_photographs(record)
    return RecordReading(record, worst_first((*wrong, *about_photographs)))


def save_record(path: Path | str, record: Record) -> None:
    """Save a record; RecordFileError if it cannot be, and then what stood there before is untouched."""
    target = Path(path)
    if target.name.endswith(BRACKET_SUFFIX):
        raise RecordFileError(
            f"{target.name} is the name of a bracket file: name the record in {SUFFIX}; nothing was changed"
        )
    content = part_text(record).encode("utf-8", errors="strict")
    if len(content) > MOST_BYTES:
        raise RecordFileError(
            f"{target.name} would be {len(content) / 1e6:.0f} MB and could not be opened again (at most"
            f" {MOST_BYTES / 1e6:g} MB): take a photograph out"
        )
    try:
        target = target.resolve()
        if target.exists() and not target.is_file():
            raise RecordFileError(f"{target} is no file: give a file name, such as mine{SUFFIX}")
        replace_file(target, content)
    except RecordFileError:
        raise
    except (OSError, ValueError, RuntimeError) as error:
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        raise RecordFileError(
            f"{target} cannot be saved ({reason}): check that the folder is there and may be written to, or"
            " save elsewhere; nothing was changed"
        ) from error


def json_schema() -> dict[str, Any]:
    """Return the JSON Schema of a record file."""
    schema = Record.model_json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "record file",
        "required": ["format", "version"],
    }


def _with_sound_photographs(record: Record) -> tuple[Record, list[Finding]]:
    """Return the record with what may be kept of its photographs, and a finding for each other."""
    kept: list[Photograph] = []
    findings: list[Finding] = []
    for place, photograph in enumerate(record.photographs, 1):
        where = f"photograph {photograph.name} (number {place})"
        try:
            sound, stripped = sound_photograph(photograph)
        except EditRefused as refused:
            reason = str(refused)
            findings.append(found("value-refused", where, value="the picture", reason=reason))
            continue
        kept.append(sound)
        if stripped:
            words = "what a camera wrote beside the pixels, which may tell the place; it was left out"
            findings.append(found("value-refused", where, severity="note", value="a part", reason=words))
    return record.but(photographs=tuple(kept)), findings
