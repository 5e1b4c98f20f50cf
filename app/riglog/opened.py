"""A log opened: its rows, its columns as said, remembered or told by their names, and its kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from app.riglog.bracket_log import BracketLog, read_bracket_log
from app.riglog.channels import Channels, channels_of
from app.riglog.columns import Columns, Role, asked, guessed, remember, remembered, with_gauge_arm
from app.riglog.couple_log import CoupleLog, read_couple
from app.riglog.log_error import LogError
from app.riglog.reading import Table
from app.riglog.troubles import Trouble, channel_troubles, table_troubles

Kind = Literal["couple", "bracket"]
_NAMES_TOLD: Final = 12
"""Columns that are named where all are asked about."""


@dataclass(frozen=True)
class Said:
    """What somebody said of a log."""

    columns: Mapping[str, str]
    units: Mapping[str, str]
    signs: Mapping[str, str]
    zero: Mapping[Role, float]
    kind: Kind | None = None
    gauge_arm_mm: float | None = None

    @property
    def of_columns(self) -> bool:
        """Return whether anything was said that is worth remembering."""
        return bool(self.columns or self.units or self.signs or self.gauge_arm_mm is not None)


@dataclass(frozen=True)
class Judged:
    """A log and what it says."""

    kind: Kind
    log: Channels
    troubles: tuple[Trouble, ...]
    couple: CoupleLog | None
    bracket: BracketLog | None

    @property
    def serious(self) -> bool:
        """Return whether no figure may be taken from it."""
        return any(trouble.serious for trouble in self.troubles)


def opened(table: Table, said: Said, folder: Path | None = None) -> Channels:
    """Return the log by roles; LogError if something has to be asked first.

    What was said is kept for the next log with the same names; FilesError if it cannot be.
    """
    one = [trouble.sentence for trouble in table_troubles(table) if trouble.code == "one column"]
    if one:
        raise LogError(one[0])
    base = remembered(table.dialect, folder) or guessed(table.dialect)
    columns = with_gauge_arm(
        asked(base, table.dialect, said.columns, said.units, said.signs), said.gauge_arm_mm
    )
    if not columns.of:
        raise LogError(
            f"What do the columns {_listed(table.names)} hold? Say it once:"
            " --columns time=NAME,couple=NAME,gauge=NAME"
        )
    log = channels_of(table, columns)
    if said.of_columns:
        remember(table.dialect, columns, folder)
    return log


def _listed(names: Sequence[str]) -> str:
    """Return the first names, and how many more there are."""
    said = ", ".join(map(repr, names[:_NAMES_TOLD]))
    return said if len(names) <= _NAMES_TOLD else f"{said} and {len(names) - _NAMES_TOLD} more"


def judged(log: Channels, said: Said) -> Judged:
    """Return what the log says; LogError where it cannot say it. With serious trouble it says nothing."""
    kind = said.kind or kind_of(log.columns)
    troubles = (*table_troubles(log.table), *channel_troubles(log))
    if any(trouble.serious for trouble in troubles):
        return Judged(kind, log, troubles, None, None)
    if kind == "couple":
        return Judged(kind, log, troubles, read_couple(log, said.zero), None)
    return Judged(kind, log, troubles, None, read_bracket_log(log, said.zero))


def kind_of(columns: Columns) -> Kind:
    """Return what kind of log has such columns: with a gauge, or angle and couple, the bracket's."""
    if columns.has("gauge"):
        return "bracket"
    meters_or_cell = columns.has("output", "input") or columns.has("force", "arm")
    return "bracket" if columns.has("angle") and not meters_or_cell else "couple"
