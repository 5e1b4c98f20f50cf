"""The bracket and the record that a report carries within it.

A PDF is taken apart in a process of its own with a limit of time and memory, so that a hostile one can
neither hang nor fill this program.
"""

from __future__ import annotations

import contextlib
import multiprocessing
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Final

from app.record.record_name import SUFFIX as RECORD_SUFFIX
from geometry.bracket_file import SUFFIX, Reading, bracket_of
from geometry.file_text import read_bytes
from geometry.finding import Finding
from geometry.finding_words import found

MOST_BYTES: Final = 80_000_000
PATIENCE_S: Final = 20.0
_MEMORY: Final = 1_500_000_000
_CODES: Final = {
    "locked": "pdf-locked",
    "too big": "pdf-too-big",
    "none": "pdf-without-bracket",
    "several": "pdf-several",
}


@dataclass(frozen=True)
class Carried:
    """What was taken out of a report."""

    reading: Reading
    content: bytes | None = None
    """Of the bracket's file, as it is; None if it cannot be read at all."""
    record: bytes | None = None
    """Of the record's file."""


def is_pdf(path: Path) -> bool:
    """Return whether a file is a PDF, by how it begins or what it is called."""
    if path.suffix.lower() == ".pdf":
        return True
    try:
        if not path.is_file():
            return False
        with path.open("rb") as stream:
            return stream.read(5) == b"%PDF-"
    except (OSError, ValueError):
        return False


def read_any(path: Path) -> Reading:
    """Return the bracket in a bracket file, or in a report that carries one; never raises for a bad file."""
    return read_carried(path).reading


def read_carried(path: Path) -> Carried:
    """Return what `read_any` does, with the record that a report carries beside its bracket."""
    if is_pdf(path):
        return _in_report(path)
    content = read_bytes(path)
    if isinstance(content, Finding):
        return _nothing(content)
    return Carried(bracket_of(content, f"file {path.name}"), content)


def _in_report(path: Path) -> Carried:
    where = f"file {path.name}"
    content = read_bytes(path, "report", MOST_BYTES)
    if isinstance(content, Finding):
        return _nothing(content)
    files = _taken_apart(content)
    if isinstance(files, str):
        return _nothing(found(_CODES.get(files, "pdf-damaged"), where, path=path.name))
    brackets = [name for name in files if name.casefold().endswith(SUFFIX)]
    if not brackets:
        return _nothing(found("pdf-without-bracket", where, path=path.name))
    records = [name for name in files if name.casefold().endswith(RECORD_SUFFIX)]
    if len(brackets) > 1 or len(records) > 1:
        # another program may show the one that is not judged here
        return _nothing(found("pdf-several", where, path=path.name))
    content = files[brackets[0]]
    return Carried(bracket_of(content, where), content, files[records[0]] if records else None)


def _nothing(finding: Finding) -> Carried:
    return Carried(Reading(None, (finding,)))


def _taken_apart(content: bytes) -> dict[str, bytes] | str:
    """Return the attached files, or why not."""
    context = multiprocessing.get_context("spawn")
    near, far = context.Pipe()
    process = context.Process(target=_take_apart, args=(far,), name="holdsquare report", daemon=True)
    try:
        process.start()
        far.close()
        near.send_bytes(content)
        if not near.poll(PATIENCE_S):
            return "damaged"
        answer: dict[str, bytes] | str = near.recv()
    except (EOFError, OSError):
        return "damaged"
    finally:
        near.close()
        process.kill()
        process.join()
    return answer


def _take_apart(connection: Connection) -> None:
    """Run in the process: take one PDF, give its files or a code."""
    from app.report.pdf_files import PdfRefused, files_in

    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
    try:
        answer: dict[str, bytes] | str = files_in(connection.recv_bytes())
    except PdfRefused as refused:
        answer = str(refused)
    except (MemoryError, RecursionError):
        answer = "damaged"
    connection.send(answer)
