"""What is wrong with a log's readings, a sentence each: gaps, text, order of time, swapped, clipped.

Glossary
--------
serious     nothing may be taken from the log until it is put right
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from app.riglog.channels import Channels
from app.riglog.columns import Role, unit_said_otherwise
from app.riglog.reading import Flags, Floats, Places, Table

_MEASURED: Final[tuple[Role, ...]] = ("output", "input", "couple", "force", "gauge", "angle")
_GAP_TIMES: Final = 5.0
"""A step of time this many times the usual one is a gap."""
_LOADED: Final = 0.2
"""Of the largest couple; below it rows do not tell which torque is which."""
_FLAT_ROWS: Final = 8
_FINE: Final = 0.002
"""Of its range: a channel read in coarser steps has flat tops by itself."""


@dataclass(frozen=True)
class Trouble:
    """One thing that is wrong."""

    code: str
    sentence: str
    serious: bool = False


def table_troubles(table: Table) -> tuple[Trouble, ...]:
    """Return what is wrong with the rows, whatever the columns are."""
    found = []
    if len(table.names) == 1:
        found.append(
            Trouble(
                "one column",
                f"The log has one column only, {table.names[0]!r}: two at least are needed, such as couple"
                " and gauge; if there are more, part them with commas, semicolons or tabs.",
                serious=True,
            )
        )
    if table.text_count:
        where = "; ".join(f"line {c.line}, {c.column}: {c.text!r}" for c in table.text_cells[:3])
        more = f" and {table.text_count - 3} more" if table.text_count > 3 else ""
        found.append(
            Trouble("text", f"Text stands where a number should ({where}{more}): those cells are left out.")
        )
    missing = ~np.isfinite(table.values)
    gaps = int(missing.sum()) - table.text_count
    if gaps > 0:
        noun = "readings are" if gaps > 1 else "reading is"
        told = {cell.line for cell in table.text_cells}
        lines = (table.line_of(int(row)) for row in np.flatnonzero(missing.any(axis=1)))
        first = next((line for line in lines if line not in told), 0) or min(told)
        found.append(Trouble("missing", f"{gaps} {noun} missing, first in line {first}: left out."))
    return tuple(found)


def channel_troubles(log: Channels) -> tuple[Trouble, ...]:
    """Return what is wrong with the channels."""
    found = [*_time(log), *_swapped(log), *_units(log)]
    for role in _MEASURED:
        if role in log.of:
            found += _clipped(log, role)
            found += _constant(log, role)
    return tuple(found)


def _units(log: Channels) -> list[Trouble]:
    """Tell of columns whose own unit is another than the one that was said, perhaps for an earlier log."""
    found = []
    for role, column in log.columns.of.items():
        own = unit_said_otherwise(log.table.dialect, role, column)
        if own:
            found.append(
                Trouble(
                    "unit",
                    f"Column {column.name!r} names {own} itself and is read as {column.unit}, as was said now"
                    f" or of an earlier log: if {own} is right, say --units {role}={own}",
                )
            )
    return found


def _time(log: Channels) -> list[Trouble]:
    if not log.has("time"):
        return []
    time = log.of["time"]
    known = np.flatnonzero(np.isfinite(time))
    steps = np.diff(time[known])
    back = np.flatnonzero(steps < 0)
    if len(back) or (len(steps) and not steps.any()):
        line = log.table.line_of(known[back[0] + 1]) if len(back) else log.table.line_of(known[1])
        return [
            Trouble(
                "time",
                f"Time does not increase in {max(len(back), 1)} places, first in line {line}: are logs"
                " joined, or is another column the time?",
                serious=True,
            )
        ]
    return _coarse(steps) + _gaps(log, known, steps)


def _coarse(steps: Floats) -> list[Trouble]:
    same = int((steps == 0).sum())
    if not same:
        return []
    return [
        Trouble(
            "coarse time",
            f"{same} rows have the time of the row before: they are taken as evenly spread; let the rig write"
            " time to more places.",
        )
    ]


def _gaps(log: Channels, known: Places, steps: Floats) -> list[Trouble]:
    moving = steps[steps > 0]
    usual = float(np.median(moving)) if len(moving) else 0.0
    wide = np.flatnonzero(steps > _GAP_TIMES * usual)
    if not len(wide):
        return []
    widest = wide[np.argmax(steps[wide])]
    line = log.table.line_of(known[widest])
    count = f"There are {len(wide)} gaps in time" if len(wide) > 1 else "There is a gap in time"
    return [
        Trouble(
            "gap",
            f"{count}: the longest is {steps[widest]:.3g} s after line {line}, where {usual:.3g} s is usual;"
            " what happened in it is not known.",
        )
    ]


def _swapped(log: Channels) -> list[Trouble]:
    if not log.has("output", "input"):
        return []
    output, inner = log.of["output"], log.of["input"]
    couple = np.abs(output - inner)
    if not np.isfinite(couple).any():
        return []
    loaded = couple > _LOADED * np.nanmax(couple)
    if loaded.sum() < 10:
        return []
    below = float(np.mean(np.abs(output[loaded]) < np.abs(inner[loaded])))
    if below < 0.8:
        return []
    return [
        Trouble(
            "swapped",
            f"Output is smaller than input in {below:.0%} of the loaded rows, and an assist unit adds to what"
            f" goes in: {log.words('output')} and {log.words('input')} look swapped; name them the other way"
            " round in --columns.",
            serious=True,
        )
    ]


def _clipped(log: Channels, role: Role) -> list[Trouble]:
    known = log.of[role][np.isfinite(log.of[role])]
    if len(known) < 3 * _FLAT_ROWS:
        return []
    low, high = float(known.min()), float(known.max())
    # runs first: they take little, and telling readings apart means sorting them
    ends = [end for end in (high, low) if _longest_run(known == end) >= _FLAT_ROWS]
    distinct = np.unique(known) if ends else known[:0]
    if len(distinct) < 10 or float(np.median(np.diff(distinct))) > _FINE * (high - low):
        return []
    for end in ends:
        at_end = known == end
        longest = _longest_run(at_end)
        near = np.abs(known - end) < 0.02 * (high - low)
        if at_end.sum() > 0.5 * near.sum():
            return [
                Trouble(
                    "clipped",
                    f"{log.words(role)} stands at exactly {end:.4g} for {longest} rows on end, its extreme:"
                    " the sensor was at its stop and the true peak is higher; use one with a wider range.",
                    serious=True,
                )
            ]
    return []


def _constant(log: Channels, role: Role) -> list[Trouble]:
    known = log.of[role][np.isfinite(log.of[role])]
    if len(known) > 1 and log.columns.of[role].name and float(np.ptp(known)) == 0.0:
        return [
            Trouble("constant", f"{log.words(role)} never changes from {known[0]:.4g}: was it connected?")
        ]
    return []


def _longest_run(flags: Flags) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], flags, [False]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))
