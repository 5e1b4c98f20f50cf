"""The bracket in a file, for commands that need it and not its verdict."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.page import complain

if TYPE_CHECKING:
    from geometry.bracket import Bracket
    from geometry.bracket_file import Reading


def reading_of(file: Path) -> Reading | None:
    """Return what was read of a bracket file or a report, with a bracket in it; None after a complaint."""
    from app.report.attached import read_any

    reading = read_any(file)
    if reading.bracket is None:
        complain(f"{file.name} cannot be read as a bracket: {reading.sentences[0]}")
        return None
    return reading


def whole_bracket(file: Path, undone: str) -> Bracket | None:
    """Return the bracket in a file that can be read in full; None after a complaint.

    `undone` says what is not done with a part of one, such as "nothing is cut from it".
    """
    reading = reading_of(file)
    if reading is None:
        return None
    if stops := [s for s, f in zip(reading.sentences, reading.findings, strict=True) if f.severity == "stop"]:
        complain(f"{file.name} can be read only in part, so {undone}: {stops[0]}")
        return None
    return reading.bracket
