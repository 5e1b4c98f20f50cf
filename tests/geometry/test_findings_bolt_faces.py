"""Findings about where bolts meet their partner."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.geometry.finding_case import Case, Data, bolt, both, findings_with, params, put

BOSS_A = ("casing", "bosses", 0)


def spacer(outer_mm: float, inner_mm: float, length_mm: float) -> Callable[[Data], object]:
    return bolt(
        0,
        "spacer",
        to={"outer_mm": outer_mm, "inner_mm": inner_mm, "length_mm": length_mm, "material": "S235"},
    )


def anchored(data: Data) -> None:
    """Give bolt 4 an anchor in place of the dash bar."""
    data["anchors"] = [{"name": "bulkhead", "at_mm": [45, 110, 6], "word": "the builder: it is the floor"}]
    data["bolts"][3]["joins"] = {"to": "anchor", "anchor": "bulkhead"}


LOWER = both(put("dash_bar", "from_mm", 2, to=36), put("dash_bar", "to_mm", 2, to=36))
"""The dash bar 5 mm off the plate."""

CASES = [
    Case(
        "spacer-unneeded",
        "doubt",
        spacer(16, 9, 10),
        "bolt 1",
        ("a spacer 10 mm long but the faces are 0.00 mm apart",),
    ),
    Case(
        "spacer-length",
        "doubt",
        both(spacer(16, 9, 12), put(*BOSS_A, "at_mm", to=[-40, 0, -10])),
        "bolt 1",
        ("spacer is 12 mm long and the gap 10.00 mm", "2.00 mm too long"),
    ),
    Case(
        "gap-unfilled",
        "doubt",
        put(*BOSS_A, "at_mm", to=[-40, 0, -10]),
        "bolt 1",
        ("10.00 mm is open between the plate and boss a", "fill it with a spacer of that length"),
    ),
    Case(
        "faces-overlap",
        "doubt",
        put(*BOSS_A, "at_mm", to=[-40, 0, 2]),
        "bolt 1",
        ("the plate and boss a run 2.00 mm into each other",),
    ),
    Case(
        "bolt-too-short",
        "doubt",
        bolt(2, "length_mm", to=17.1),
        "bolt 3",
        ("17.1 mm long and clamping 10.6 mm", "less than the 6.8 mm that a nut at dash bar takes"),
    ),
    Case(
        "bolt-offset",
        "doubt",
        put(*BOSS_A, "at_mm", to=[-41.5, 0, 0]),
        "bolt 1",
        ("boss a is 1.50 mm out of line with hole left", "0.50 mm to give"),
    ),
    Case(
        "bolt-tilt",
        "doubt",
        put(*BOSS_A, "direction", to=[0.1, 0, 1]),
        "bolt 1",
        ("tilted 5.7 deg against the plate at hole left", "pack it"),
    ),
    Case(
        "boss-faces-away",
        "doubt",
        put(*BOSS_A, "direction", to=[0, 0, -1]),
        "bolt 1",
        ("boss a is turned 180 deg from facing plate main",),
    ),
    Case(
        "bolt-misses-bar",
        "stop",
        both(put("dash_bar", "from_mm", 1, to=150), put("dash_bar", "to_mm", 1, to=150)),
        "bolt 3",
        ("passes the dash bar 40 mm from its middle",),
    ),
    Case(
        "bolt-beyond-bar",
        "stop",
        put("dash_bar", "to_mm", 0, to=30),
        "bolt 4",
        ("15 mm beyond the end of the dash bar", "lengthen the bar"),
    ),
    Case(
        "bar-no-face",
        "stop",
        put("dash_bar", "section", to={"kind": "channel", "width_mm": 50, "height_mm": 50, "wall_mm": 3}),
        "bolt 3",
        ("channel has no metal on the side", "turn its `up`"),
        alone=False,
    ),
    Case(
        "pad-height-blank",
        "doubt",
        both(LOWER, *(bolt(i, "pad_diameter_mm", to=30) for i in (2, 3)), bolt(3, "pad_height_mm", to=5)),
        "bolt 3",
        ("5.00 mm are open", "pad_height_mm"),
    ),
    Case(
        "pad-height",
        "doubt",
        both(LOWER, bolt(2, "pad_height_mm", to=3), bolt(3, "pad_height_mm", to=5)),
        "bolt 3",
        ("3 mm high and 5.00 mm are open",),
    ),
    Case(
        "pad-slender",
        "doubt",
        both(LOWER, *(bolt(i, "pad_height_mm", to=5) for i in (2, 3)), bolt(2, "pad_diameter_mm", to=4.5)),
        "bolt 3",
        ("taller than wide",),
        alone=False,
    ),
    Case(
        "round-bar-no-pad",
        "rule",
        put("dash_bar", "section", to={"kind": "round tube", "outer_mm": 50, "wall_mm": 3}),
        "bolt 3",
        ("touches along a line only", "pad_diameter_mm"),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()


def test_a_spacer_of_the_right_length_is_no_finding() -> None:
    assert findings_with(both(spacer(18, 9, 10), put(*BOSS_A, "at_mm", to=[-40, 0, -10]))) == ()


def test_an_offset_within_the_clearance_is_no_finding() -> None:
    assert findings_with(put(*BOSS_A, "at_mm", to=[-40.4, 0, 0])) == ()


def test_an_anchor_in_place_of_the_bar_is_no_finding() -> None:
    assert findings_with(anchored) == ()


def test_a_pad_fills_the_gap_to_the_bar() -> None:
    assert {f.code for f in findings_with(LOWER)} == {"gap-unfilled"}
    padded = both(LOWER, bolt(2, "pad_diameter_mm", to=30), bolt(3, "pad_diameter_mm", to=30))
    assert [f.code for f in findings_with(padded)] == ["pad-height-blank"] * 2
    high = both(padded, bolt(2, "pad_height_mm", to=5), bolt(3, "pad_height_mm", to=4.8))
    assert findings_with(high) == ()
    assert [f.code for f in findings_with(both(high, bolt(3, "pad_height_mm", to=2)))] == ["pad-height"]
    narrow = both(high, bolt(2, "pad_diameter_mm", to=None))
    assert findings_with(narrow) == ()


def test_a_pad_taller_than_wide_is_no_pad() -> None:
    far = both(put("dash_bar", "from_mm", 2, to=62), put("dash_bar", "to_mm", 2, to=62))
    tall = both(far, *(bolt(i, "pad_diameter_mm", to=30) for i in (2, 3)))
    high = both(tall, *(bolt(i, "pad_height_mm", to=31) for i in (2, 3)))
    assert [f.code for f in findings_with(high)] == ["pad-slender"] * 2


def test_a_pad_where_there_is_no_room_for_one_is_told() -> None:
    assert [f.code for f in findings_with(bolt(2, "pad_height_mm", to=2))] == ["pad-height"]


def test_a_bolt_has_to_go_through_its_pad_as_well() -> None:
    """Washer 1.6 (ISO 7089), sheet 6, pad 5, wall 3 mm, and 6.8 mm of a nut (ISO 4032)."""
    padded = both(LOWER, *(bolt(i, "pad_height_mm", to=5) for i in (2, 3)))
    assert findings_with(both(padded, bolt(2, "length_mm", to=22.4))) == ()
    short = findings_with(both(padded, bolt(2, "length_mm", to=22.3)))
    assert [f.code for f in short] == ["bolt-too-short"]


def test_a_bolt_as_long_as_its_nut_takes_is_no_finding() -> None:
    """Washer 1.6 (ISO 7089), sheet 6, wall 3 mm, and 6.8 mm of a nut (ISO 4032)."""
    assert findings_with(bolt(2, "length_mm", to=17.4)) == ()
