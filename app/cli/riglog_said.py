"""What is typed of a log's columns, units, signs and zeros."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from app.riglog.log_error import LogError

if TYPE_CHECKING:
    from app.riglog.columns import Role
    from app.riglog.opened import Said


def said_of(
    columns: Sequence[str], units: Sequence[str], signs: Sequence[str], zero: Sequence[str], kind: str
) -> Said:
    """Return what was typed; LogError for what cannot be read."""
    from app.riglog.columns import UNIT_OF
    from app.riglog.opened import Said

    zeros: dict[Role, float] = {}
    for key, text in _pairs(zero, "--zero").items():
        role = next((one for one in UNIT_OF if one == key), None)
        if role is None:
            raise LogError(f"{key!r} has no zero; there are: {', '.join(UNIT_OF)}.")
        try:
            zeros[role] = float(text.replace(",", "."))
        except ValueError:
            raise LogError(f"The zero of {key} is a number in {UNIT_OF[role]}, not {text!r}.") from None
    return Said(
        _pairs(columns, "--columns"),
        _pairs(units, "--units"),
        _pairs(signs, "--signs"),
        zeros,
        "couple" if kind == "couple" else "bracket" if kind == "bracket" else None,
    )


def _pairs(texts: Sequence[str], option: str) -> dict[str, str]:
    """Return the KEY=VALUE pairs; a comma parts them only where another KEY= follows."""
    # because names of columns may hold commas
    found = {}
    for text in texts:
        for pair in re.split(r",(?=\s*[A-Za-z_]+=)", text):
            key, equals, value = pair.partition("=")
            if not equals or not value.strip():
                raise LogError(f"{option} takes KEY=VALUE pairs, such as {option} output=..., not {pair!r}.")
            found[key.strip().casefold()] = value.strip()
    return found
