"""A log's rows by what they are, in this program's units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from app.riglog.columns import Columns, Role, factor_of
from app.riglog.log_error import LogError
from app.riglog.reading import Floats, Table


@dataclass(frozen=True)
class Channels:
    """The log by roles. All arrays have the same length."""

    table: Table
    columns: Columns
    of: Mapping[Role, Floats]
    """s, N.m, N, mm, deg, deg/s; NaN where a reading is missing."""
    offsets: Mapping[Role, float] = field(default_factory=dict)
    """What was taken off each as its zero."""

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.table.values)

    def has(self, *roles: Role) -> bool:
        """Return whether all of these are there."""
        return all(role in self.of for role in roles)

    def words(self, role: Role) -> str:
        """Return a role with its column's name, for sentences."""
        column = self.columns.of.get(role)
        return role if column is None or not column.name else f"{role} (column {column.name!r})"

    def less(self, offsets: Mapping[Role, float]) -> Channels:
        """Return the channels with these zeros taken off."""
        taken = {role: values - offsets.get(role, 0.0) for role, values in self.of.items()}
        return replace(self, of=taken, offsets={**self.offsets, **offsets})


def channels_of(table: Table, columns: Columns) -> Channels:
    """Return the log by roles; LogError if units are still to be asked, or a column has no numbers."""
    questions = columns.questions()
    if questions:
        raise LogError(" ".join(questions))
    places = {name: k for k, name in enumerate(table.names)}
    found: dict[Role, Floats] = {}
    for role, column in columns.of.items():
        if not column.name:
            found[role] = np.full(len(table.values), column.figure or 0.0)
            continue
        values = table.values[:, places[column.name]]
        if not np.isfinite(values).any():
            raise LogError(f"Column {column.name!r} ({role}) holds no number at all: name another column.")
        found[role] = values * (factor_of(role, column.unit) * column.sign)
    return Channels(table, columns, found)
