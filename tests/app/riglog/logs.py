"""Logs for the tests."""

from __future__ import annotations

from app.riglog.channels import Channels, channels_of
from app.riglog.columns import asked, guessed
from app.riglog.reading import table_of
from tests.app.riglog.invented import bracket_log_text, couple_log_text


def channels(
    text: str, columns: dict[str, str] | None = None, signs: dict[str, str] | None = None
) -> Channels:
    """Return a log by roles, as its names and these say."""
    table = table_of(text.encode(), "rig.csv")
    return channels_of(table, asked(guessed(table.dialect), table.dialect, columns or {}, {}, signs or {}))


def couple_log(seed: int) -> Channels:
    """Return an invented couple log."""
    return channels(couple_log_text(seed=seed), {"arm_mm": "250"})


def bracket_log(seed: int) -> Channels:
    """Return an invented bracket log."""
    return channels(bracket_log_text(seed=seed))
