"""How a bracket is laid out as text: the same bracket, the same text; a small change, few changed lines.

Left out is what says as much by being absent: None, empty lists and text, and 0 where 0 is the default. Every
other figure is written even when it is the default, so that a file means the same to a later program with
other defaults.
"""

from __future__ import annotations

import json
import math
from typing import Any, Final

from geometry.bracket import FORMAT, VERSION, Bracket
from geometry.part import Part

LINE_WIDTH: Final = 110
_INDENT: Final = "  "


def bracket_text(bracket: Bracket) -> str:
    """Return the bracket as the text of its file, ending in a line end."""
    return _laid_out({"format": FORMAT, "version": VERSION} | _plain(bracket), 0) + "\n"


def part_text(part: Part) -> str:
    """Return any other part as the text of a file of its own, ending in a line end."""
    return _laid_out(_plain(part), 0) + "\n"


def _plain(value: Any) -> Any:  # noqa: ANN401 - a field holds anything
    if isinstance(value, Part):
        fields = type(value).model_fields
        return {
            name: _plain(held)
            for name, held in ((name, getattr(value, name)) for name in fields)
            if not (_says_nothing(held) and held == fields[name].default)
        }
    if isinstance(value, tuple | list):
        return [_plain(held) for held in value]
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    return value


def _says_nothing(value: Any) -> bool:  # noqa: ANN401 - a field holds anything
    if isinstance(value, Part):
        return all(_says_nothing(getattr(value, name)) for name in type(value).model_fields)
    return value is None or value == () or value == "" or (isinstance(value, float) and value == 0.0)


def _laid_out(value: Any, depth: int, key: str = "") -> str:  # noqa: ANN401 - data is anything JSON holds
    """Return a value as text, its first line without the key that stands before it."""
    flat = json.dumps(value, ensure_ascii=False, allow_nan=False)
    width = len(_INDENT) * depth + len(key) + len(flat) + 1
    if not isinstance(value, dict | list) or (_levels(value) <= 2 and width <= LINE_WIDTH):
        return flat
    inner, outer = _INDENT * (depth + 1), _INDENT * depth
    if isinstance(value, dict):
        keys = [f"{json.dumps(name)}: " for name in value]
        rows = [
            inner + name + _laid_out(held, depth + 1, name)
            for name, held in zip(keys, value.values(), strict=True)
        ]
        return "{\n" + ",\n".join(rows) + f"\n{outer}}}"
    return "[\n" + ",\n".join(inner + _laid_out(held, depth + 1) for held in value) + f"\n{outer}]"


def _levels(value: Any) -> float:  # noqa: ANN401 - data is anything JSON holds
    """Return how many levels of lists and groups a value has; a list of groups never stands in one line."""
    if isinstance(value, dict):
        return 1 + max((_levels(held) for held in value.values()), default=0)
    if isinstance(value, list):
        return (
            math.inf
            if any(isinstance(held, dict) for held in value)
            else 1 + max(map(_levels, value), default=0)
        )
    return 0
