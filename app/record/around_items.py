"""What is open around the bracket: blanks that nobody has settled by looking either."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from app.record.record import Group, Item, Record
from solver.around.line import AroundGroup
from solver.results import Results

SEEN_BY: Final[Mapping[AroundGroup, Group]] = {
    "shaft joints": "shaft joints and phasing",
    "cable and fuse": "cable size and fuse",
    "collapse travel": "column and collapse travel",
    "tube clamp": "column and collapse travel",
    "room": "clearance at both locks",
}
"""The group of the check-list whose lines settle what the file leaves blank."""


def open_around(record: Record, results: Results | None) -> Iterator[tuple[str, str]]:
    """Yield group and sentence of every line that is open and that no inspection has settled."""
    if results is None:
        return
    settled = {group for group, seen in SEEN_BY.items() if _settled(record, seen)}
    for line in results.around:
        if line.standing == "open" and line.group not in settled:
            yield line.group, f"{line.name}: {line.words}"


def _settled(record: Record, group: Group) -> bool:
    lines = [item for item in record.check_list if item.group == group]
    return bool(lines) and all(_is_settled(item) for item in lines)


def _is_settled(item: Item) -> bool:
    return item.state == "met" or (item.state == "not applicable" and bool(item.remark.strip()))
