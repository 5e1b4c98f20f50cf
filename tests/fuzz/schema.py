"""Data made from the JSON Schema of a kind of file: a sound skeleton, with hostile values here and there."""

from __future__ import annotations

from random import Random
from typing import Any, Final

from tests.fuzz import hostile

_NAMES: Final = ("a", "b", "1", "2", "front", "boss 1", "hole 1", "lower")
"""Few, so that what refers by name finds something."""
_DEEPEST: Final = 14
_USUAL: Final = (0.0, 1.0, 5.0, 8.0, 20.0, 30.0, 90.0, 100.0, -20.0, 200.0)


class FromSchema:
    """Draws data of one schema."""

    def __init__(self, schema: dict[str, Any], dice: Random) -> None:
        self._schema, self._dice = schema, dice
        self._daring = dice.choice((0.0, 0.0, 0.005, 0.03, 0.2))
        self._full = dice.choice((0.2, 0.5, 0.9))
        """The share of optional keys that are given."""

    def drawn(self) -> Any:  # noqa: ANN401 - any JSON
        """Return one piece of data; its required keys are there unless the daring took them."""
        return self._one(self._schema, 0)

    def _one(self, schema: dict[str, Any], depth: int) -> Any:  # noqa: ANN401
        dice = self._dice
        if depth and dice.random() < self._daring:
            return hostile.value(dice)
        if "$ref" in schema:
            return self._one(self._schema["$defs"][schema["$ref"].rsplit("/", 1)[1]], depth)
        for ways in ("anyOf", "oneOf"):
            if ways in schema:
                return self._one(dice.choice(schema[ways]), depth)
        if "const" in schema:
            return schema["const"]
        if "enum" in schema:
            return dice.choice(schema["enum"])
        return self._of_type(schema, depth)

    def _of_type(self, schema: dict[str, Any], depth: int) -> Any:  # noqa: ANN401
        kind = schema.get("type")
        if kind == "object":
            return self._group(schema, depth)
        if kind == "array":
            return self._list(schema, depth)
        if kind in ("number", "integer"):
            return self._figure(schema)
        if kind == "string":
            return self._text(schema)
        return self._dice.choice((True, False)) if kind == "boolean" else None

    def _group(self, schema: dict[str, Any], depth: int) -> dict[str, Any]:
        needed = set(schema.get("required", ())) | {"format", "version"}
        made = {}
        for key, inner in schema.get("properties", {}).items():
            chance = 1.0 - self._daring if key in needed else self._full if depth < _DEEPEST else 0.0
            if self._dice.random() < chance:
                made[key] = self._one(inner, depth + 1)
        return made

    def _list(self, schema: dict[str, Any], depth: int) -> list[Any]:
        if "prefixItems" in schema:
            return [self._one(inner, depth + 1) for inner in schema["prefixItems"]]
        least = schema.get("minItems", 0)
        count = max(least, self._dice.choice((0, 1, 1, 2, 4, 6)) if depth < _DEEPEST else 0)
        return [self._one(schema.get("items", {}), depth + 1) for _ in range(count)]

    def _figure(self, schema: dict[str, Any]) -> float:
        dice = self._dice
        low = schema.get("minimum", schema.get("exclusiveMinimum"))
        high = schema.get("maximum", schema.get("exclusiveMaximum"))
        if dice.random() < self._daring:
            return hostile.figure(dice)
        if schema["type"] == "integer":
            return dice.randrange(
                int(low if low is not None else -3), int(high if high is not None else 9) + 1
            )
        if low is not None and high is not None:
            return dice.choice((low, high, dice.uniform(low, high)))
        drawn = dice.choice(_USUAL) if dice.random() < 0.5 else round(dice.uniform(-150.0, 150.0), 2)
        return max(drawn, low) if low is not None else min(drawn, high) if high is not None else drawn

    def _text(self, schema: dict[str, Any]) -> str:
        dice = self._dice
        if "pattern" in schema:
            return dice.choice(("2031-04-30", "2031-02-31", "0000-00-00", "9999-99-99", ""))
        if dice.random() < 0.1 + self._daring:
            return hostile.text(dice)[: schema.get("maxLength", 400)]
        return dice.choice(_NAMES)
