"""Findings about threads in bosses: the example has M8 bolts and 20 mm of thread."""

from __future__ import annotations

import pytest

from tests.geometry.finding_case import Case, params, put

CASES = [
    Case(
        "boss-depth-blank",
        "doubt",
        put("casing", "bosses", 0, "depth_mm", to=None),
        "boss a",
        ("its depth of thread is blank", "bolt 1 engages", "measure it"),
    ),
    Case(
        "bolt-bottoms",
        "doubt",
        put("bolts", 0, "length_mm", to=50),
        "bolt 1",
        ("50 mm long", "the 20 mm of thread in boss a", "take a shorter bolt"),
    ),
    Case(
        "bolt-engages-little",
        "rule",
        put("bolts", 0, "length_mm", to=16),
        "bolt 1",
        ("less than the 16.0 mm usual in cast aluminium", "take a longer bolt"),
    ),
    Case(
        "boss-shallow",
        "rule",
        put("casing", "bosses", 0, "depth_mm", to=10),
        "boss a",
        ("its 10 mm of thread", "the 16.0 mm that bolt 1 usually engages in cast aluminium", "tap it deeper"),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()
