"""Cells of a CSV that a spreadsheet must not carry out."""

from __future__ import annotations

from typing import Final

_LIVE: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20", "'")
"""What begins with one of these gets an apostrophe; the wide forms count in some languages."""


def still(cell: str) -> str:
    """Return a cell as it is written: an apostrophe before what a spreadsheet would carry out."""
    return f"'{cell}" if cell.lstrip(" ").startswith(_LIVE) else cell


def as_it_was(cell: str) -> str:
    """Return a cell as it was before it was written."""
    return cell[1:] if cell.startswith("'") and cell[1:].lstrip(" ").startswith(_LIVE) else cell
