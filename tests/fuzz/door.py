"""Strangers' files handed to the program's own commands, as a user would."""

from __future__ import annotations

import contextlib
import io
import os
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Final

from app.cli.main import main
from tests.fuzz import bytes_changed, lists_made, samples, svg_made
from tests.fuzz.promises import demand

_CODES: Final = (0, 1, 2, 64)
_WAYS: Final[tuple[tuple[str, str], ...]] = (
    ("cut {file} -o {out}.svg", ".bracket.json"),
    ("cut {file} -o {out}.dxf --older", ".bracket.json"),
    ("riglog {file}", ".csv"),
    ("riglog {file} --json --picture {out}.png", ".csv"),
    ("register import {file} --file {out}.sqlite3", ".csv"),
    ("paper {file} --sheet template -o {out}.pdf", ".bracket.json"),
    ("paper {file} --sheet drawing -o {out}.pdf", ".bracket.json"),
    ("paper {file} --sheet assembly -o {out}.pdf", ".bracket.json"),
)
_SEPARATOR: Final = b"\x00as\x00"


def seeds() -> tuple[bytes, ...]:
    """Return nothing to change: each case is drawn anew."""
    return (b"",)


def made(dice: Random) -> bytes:
    """Return the number of a command, then the file for it."""
    place = dice.randrange(len(_WAYS))
    makers: dict[str, Callable[[], bytes]] = {
        ".bracket.json": lambda: bytes_changed.changed(
            dice.choice(samples.brackets()), samples.brackets(), (), dice
        ),
        ".csv": lambda: (
            lists_made.register_made(dice) if "register" in _WAYS[place][0] else lists_made.log_made(dice)
        ),
        ".svg": lambda: svg_made.made(dice),
    }
    return str(place).encode() + _SEPARATOR + makers[_WAYS[place][1]]()


def through(path: Path, folder: Path, _number: int) -> str:
    """Run one command; hold its exit code, what it says, and that it stays in its folder."""
    number, _, content = path.read_bytes().partition(_SEPARATOR)
    words, suffix = _WAYS[int(number or b"0") % len(_WAYS)]
    file = folder / f"given{suffix}"
    file.write_bytes(content)
    said, complained = io.StringIO(), io.StringIO()
    os.environ["HOLDSQUARE_TRACE"] = "1"
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(complained):
        code = main([word.format(file=file, out=folder / "out") for word in words.split()])
    demand(code in _CODES, f"{words} ends with {code}")
    trouble = complained.getvalue()
    demand("went wrong" not in trouble and "Traceback" not in trouble, f"{words}: {trouble[-1500:]}")
    demand(
        code == 0 or bool((trouble + said.getvalue()).strip()), f"{words} ends with {code} and says nothing"
    )
    for left in folder.iterdir():
        left.unlink()
    return "read" if code == 0 else "refused"
