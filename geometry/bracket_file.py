"""The one reader and the one writer of bracket files.

Reading never raises for a bad file: what is wrong comes back as findings, all at once, and what is sound goes
on. Writing never leaves half a file: the text is written aside, flushed to the disk and put in place in one
step, and the file that stood there before is kept beside it under the same name with ~ at the end.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from geometry.bracket import FORMAT, VERSION, Bracket
from geometry.file_counts import too_many
from geometry.file_kind import FileKind, Migration
from geometry.file_replacing import replace_file
from geometry.file_text import MOST_BYTES, parse, read_bytes
from geometry.file_validation import validate
from geometry.file_writing import bracket_text
from geometry.finding import Finding, worst_first
from geometry.finding_words import found, sentence

SUFFIX: Final = ".bracket.json"
_MIGRATIONS: Final[dict[int, Migration]] = {}
"""By version: what turns the data of that version into that of the next. Version 1 is the first."""
KIND: Final = FileKind("bracket", FORMAT, VERSION, MOST_BYTES, _MIGRATIONS)


class BracketFileError(OSError):
    """A bracket that cannot be saved.

    The message says where and what to do. What stood there before is untouched.
    """


@dataclass(frozen=True)
class Reading:
    """What came of reading a file."""

    bracket: Bracket | None
    """What is sound; None if nothing in the file makes a bracket."""
    findings: tuple[Finding, ...]
    """Everything wrong with the file, worst first."""

    @property
    def sentences(self) -> tuple[str, ...]:
        """Return the findings in words."""
        return tuple(sentence(finding) for finding in self.findings)


def read_bracket(path: Path | str) -> Reading:
    """Return the bracket in a file, as far as it is sound, and every finding about the file.

    Never raises for a bad file.
    """
    path = Path(path)
    content = read_bytes(path)
    if isinstance(content, Finding):
        return Reading(None, (content,))
    return bracket_of(content, f"file {path.name}")


def bracket_of(content: bytes, where: str = "file") -> Reading:
    """Return the bracket in the bytes of a file, as `read_bracket` does."""
    if len(content) > MOST_BYTES:
        return Reading(
            None,
            (
                found(
                    "file-too-big",
                    where,
                    kind="bracket",
                    size_mb=len(content) / 1e6,
                    most_mb=MOST_BYTES / 1e6,
                ),
            ),
        )
    data, findings = parse(content, where)
    if findings:
        return Reading(None, worst_first(tuple(findings)))
    if not isinstance(data, dict):
        return Reading(None, (found("file-not-a-bracket", where, kind="bracket"),))
    refused = KIND.foreign(data, where)
    if refused is not None:
        return Reading(None, (refused,))
    data = KIND.migrated(data)
    if excess := too_many(data):
        return Reading(None, tuple(excess))
    bracket, findings = validate(data)
    return Reading(bracket, worst_first(tuple(findings)))


def save_bracket(path: Path | str, bracket: Bracket) -> None:
    """Save a bracket; BracketFileError if it cannot be, and then what stood there before is untouched."""
    target = Path(path)
    content = bracket_text(bracket).encode("utf-8", errors="strict")
    if len(content) > MOST_BYTES:
        raise BracketFileError(
            f"{target.name} would be {len(content) / 1e6:.1f} MB and could not be opened again (at most"
            f" {MOST_BYTES / 1e6:g} MB): split the bracket"
        )
    try:
        target = target.resolve()  # a link stays a link to the file that is replaced
        if target.is_dir():
            raise BracketFileError(f"{target} is a folder: give a file name, such as my_bracket{SUFFIX}")
        if target.exists() and not target.is_file():
            raise BracketFileError(f"{target} is a device or a pipe, not a file: give a file name")
        replace_file(target, content)
    except BracketFileError:
        raise
    except (OSError, ValueError, RuntimeError) as error:  # RuntimeError: links that go round in circles
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        raise BracketFileError(
            f"{target} cannot be saved ({reason}): check that the folder is there and may be written to, or"
            " save elsewhere; nothing was changed"
        ) from error


def json_schema() -> dict[str, Any]:
    """Return the JSON Schema of a bracket file."""
    schema = Bracket.model_json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "bracket file",
        "required": ["format", "version"],
    }
