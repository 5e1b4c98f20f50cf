"""Lists and logs in CSV as a stranger might hand them in: a register's list, a rig's log."""

from __future__ import annotations

import csv
import io
import json
from random import Random
from typing import Any, Final

from app.register.csv_list import COLUMNS
from app.register.entry import Entry
from tests.fuzz import hostile
from tests.fuzz.schema import FromSchema

WORDS: Final = (
    b",", b";", b"\t", b"|", b'"', b'""', b"\r\n", b"\r", b"=1+1", b"'=1", b"'", b"record_file", b"due",
    b"holds_to_nm",
    b"time [s]", b"couple [N.m]", b"dial gauge [mm]", b"force [N]", b"arm [mm]", b"angle [deg]",
    b"speed [rpm]",
    b"output [N.m]", b"input [kgf.m]", b"nan", b"N/A", b"-", b"1,5", b"1.5e3", b"#", b"\xb5m",
    b"\xef\xbb\xbf", b"\x00",
)  # fmt: skip
_ROLES: Final = (
    ("time", ("s", "ms", "h", "")), ("couple", ("N.m", "kgf.m", "lbf.ft", "")), ("dial gauge", ("mm", "um",
    "in")),
    ("angle", ("deg", "rad", "")), ("output torque", ("N.m", "")), ("input torque", ("N.m",)),
    ("cell force", ("N", "kgf", "lbf")), ("arm", ("mm",)), ("speed", ("deg/s", "rpm")), ("temperature",
    ("C",)),
)  # fmt: skip


def log_made(dice: Random) -> bytes:
    """Return a rig's log: a curve with noise, and hostile cells in it."""
    daring = dice.choice((0.0, 0.0, 0.002, 0.02, 0.2))
    separator, decimal = dice.choice(
        ((",", "."), (";", ","), (";", "."), ("\t", "."), (" ", "."), ("|", ","))
    )
    roles = dice.sample(_ROLES, dice.choice((1, 2, 2, 3, 3, 5)))
    if dice.random() < 0.5:
        roles = [_ROLES[0], *(one for one in roles if one is not _ROLES[0])]
    units = [dice.choice(units) for _, units in roles]
    lines = [hostile.text(dice)[:100] for _ in range(dice.choice((0, 0, 0, 1, 3)))]
    if dice.random() < 0.5:
        lines.append(separator.join(f"{name} [{unit}]" for (name, _), unit in zip(roles, units, strict=True)))
    else:
        lines += [separator.join(name for name, _ in roles), separator.join(units)]
    count = dice.choice((0, 1, 2, 3, 20, 60, 250))
    slope, noise = dice.uniform(-3.0, 3.0), dice.choice((0.0, 0.0, 0.01, 1.0))
    for row in range(count):
        push = dice.choice((30.0, 0.0)) * (1.0 - abs((row * 4 / max(count, 1)) % 4 - 2.0))
        cells = []
        for name, _ in roles:
            figure = row * 0.1 if name == "time" else push * slope + noise * dice.gauss(0.0, 1.0)
            cell = f"{figure:.{dice.choice((1, 4))}f}".replace(".", decimal)
            cells.append(_cell(dice) if dice.random() < daring else cell)
        lines.append(separator.join(cells))
        if dice.random() < daring / 10:
            lines.append(dice.choice(("", separator * 300, hostile.text(dice), '"open')))
    end = dice.choice(("\n", "\n", "\r\n", "\r"))
    coding = dice.choice(("utf-8-sig", "cp1252", "utf-16")) if dice.random() < 0.1 else "utf-8"
    return end.join(lines).encode(coding, errors="replace") + dice.choice((b"", end.encode()))


def _cell(dice: Random) -> str:
    return dice.choice(
        (str(hostile.figure(dice)), hostile.text(dice)[:3_000], "", "NaN", "1,234.5", "12:30", "0x1F")
    )


_ENTRY: Final = Entry.model_json_schema()


def register_made(dice: Random) -> bytes:
    """Return a register's list, quoted as the program does it or otherwise."""
    stream = io.StringIO(newline="")
    quoting = dice.choice((csv.QUOTE_ALL, csv.QUOTE_MINIMAL, csv.QUOTE_NONNUMERIC))
    writer = csv.writer(
        stream, delimiter=dice.choice(",,;\t"), quoting=quoting, lineterminator=dice.choice(("\n", "\r\n"))
    )
    columns = list(COLUMNS)
    if dice.random() < 0.2:
        dice.shuffle(columns)
        columns = columns[: dice.randrange(len(columns) + 1)] + [hostile.text(dice)[:50]] * dice.randrange(3)
    try:
        writer.writerow(columns)
        for _ in range(dice.choice((0, 1, 2, 5, 30))):
            writer.writerow(_row(columns, dice))
    except csv.Error:
        pass
    return stream.getvalue().encode("utf-8-sig" if dice.random() < 0.3 else "utf-8", errors="replace")


def _row(columns: list[str], dice: Random) -> list[str]:
    entry: dict[str, Any] = FromSchema(_ENTRY, dice).drawn()
    cells = []
    for name in columns:
        held = entry.get(name, "")
        if name in ("number", "added", "overdue"):
            cells.append(hostile.text(dice)[:50])
        elif name == "due":
            cells.append(json.dumps(held, default=lambda one: one.text) if held else "")
        else:
            cells.append(str(held))
    if dice.random() < 0.02:
        cells += ["x"] * dice.choice((1, 500))
    return cells[: dice.choice((len(cells), len(cells), len(cells), 3))]
