"""One kept file tried again, with its traceback; and cut down to the part that matters."""

from __future__ import annotations

import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from pathlib import Path

from tests.fuzz.kinds import KINDS, Kind


def again(file: Path, name: str, *, smaller: bool) -> int:
    """Try a file; return 1 if it fails still. `smaller` leaves what still fails beside it."""
    kind = KINDS.get(name)
    if kind is None:
        sys.stderr.write(f"Name its kind with --kind; there are: {', '.join(KINDS)}.\n")
        return 64
    fault = _fault(kind, file.read_bytes())
    if fault is None:
        sys.stdout.write("It is handled now.\n")
        return 0
    sys.stdout.write("".join(traceback.format_exception(fault)))
    if smaller:
        wanted = _alike(fault)

        def still(content: bytes) -> bool:
            found = _fault(kind, content)
            return found is not None and _alike(found) == wanted

        small = cut_down(file.read_bytes(), still)
        beside = file.with_name(f"{file.name}.small")
        beside.write_bytes(small)
        sys.stdout.write(f"{len(small)} bytes in {beside}\n{small[:600]!r}\n")
    return 1


def cut_down(content: bytes, still: Callable[[bytes], bool], seconds: float = 120.0) -> bytes:
    """Return as little of the content as fails in the same way, ever smaller pieces left out."""
    began = time.monotonic()
    size = max(1, len(content) // 2)
    while size and time.monotonic() - began < seconds:
        place, shorter = 0, False
        while place < len(content):
            without = content[:place] + content[place + size :]
            if still(without):
                content, shorter = without, True
            else:
                place += size
            if time.monotonic() - began > seconds:
                return content
        if not shorter or size > 1:
            size = size // 2 if not (shorter and size == 1) else size
    return content


def _fault(kind: Kind, content: bytes) -> Exception | None:
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / f"case{kind.suffix}"
        path.write_bytes(content)
        out = Path(place) / "out"
        out.mkdir()
        try:
            kind.tried(path, out, 0)
        except Exception as fault:  # noqa: BLE001 - whatever comes out is what is looked for
            return fault
    return None


def _alike(fault: Exception) -> tuple[str, str, int | None]:
    last = traceback.extract_tb(fault.__traceback__)[-1]
    return type(fault).__name__, last.filename, last.lineno
