"""How many of each a bracket file may hold: files come from strangers."""

from __future__ import annotations

from typing import Any, Final

from geometry.finding import Finding
from geometry.finding_words import found

MOST: Final = {
    "plates": 200,
    "bolts": 2_000,
    "welds": 200,
    "openings": 5_000,
    "folds": 1_000,
    "corners": 20_000,
    "bosses": 200,
    "anchors": 200,
    "bearings": 50,
    "shaft_joints": 20,
    "materials": 100,
    "extra": 100,
    "variants": 50,
}
"""Most of each in one file, variants and all; `corners` are those of all outlines and cut-outs together."""


def too_many(data: dict[str, Any]) -> list[Finding]:
    """Return a finding for every list that is longer than any bracket needs."""
    counts = dict.fromkeys(MOST, 0)
    variants = _list(data, "variants")
    plates = [plate for holder in (data, *variants) for plate in _list(holder, "plates")]
    casing, column, loads = (_group(data, key) for key in ("casing", "column", "loads"))
    counts["plates"] = len(plates)
    for holder, key in (
        (data, "shaft_joints"), (data, "materials"), (data, "variants"),
        (casing, "bosses"), (column, "bearings"), (loads, "extra"),
    ):  # fmt: skip
        counts[key] = len(_list(holder, key))
    for key in ("bolts", "welds", "anchors"):
        counts[key] = sum(len(_list(holder, key)) for holder in (data, *variants))
    for plate in plates:
        openings = _list(plate, "openings")
        counts["openings"] += len(openings)
        counts["folds"] += len(_list(plate, "folds"))
        counts["corners"] += len(_list(plate, "outline")) + sum(len(_list(o, "corners")) for o in openings)
    return [
        found("too-many", "file", what=key.replace("_", " "), count=count, most=MOST[key])
        for key, count in counts.items()
        if count > MOST[key]
    ]


def _list(holder: Any, key: str) -> list[Any]:  # noqa: ANN401 - data is anything JSON holds
    value = holder.get(key) if isinstance(holder, dict) else None
    return value if isinstance(value, list) else []


def _group(holder: dict[str, Any], key: str) -> dict[str, Any]:
    value = holder.get(key)
    return value if isinstance(value, dict) else {}
