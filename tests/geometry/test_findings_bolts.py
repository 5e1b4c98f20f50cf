"""Findings about bolts: what they name, doubles, and whether hole and partner line up."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.geometry.finding_case import Case, Data, both, findings_with, params, put

BOSS_A = ("casing", "bosses", 0)


def bolt(number: int, *steps: str | int, to: object) -> Callable[[Data], object]:
    return put("bolts", number, *steps, to=to)


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


def one_line(data: Data) -> None:
    """Put all bolts at one height."""
    for i in (2, 3):
        data["plates"][0]["openings"][i]["centre_mm"][1] = 0
        data["plates"][0]["openings"][i]["centre_mm"][0] *= 1.4
    data["dash_bar"]["from_mm"][1] = data["dash_bar"]["to_mm"][1] = 0


LOWER = both(put("dash_bar", "from_mm", 2, to=36), put("dash_bar", "to_mm", 2, to=36))
"""The dash bar 5 mm off the plate."""

CASES = [
    Case("no-bolts", "stop", put("bolts", to=[]), "bracket", ("there is no bolt",), alone=False),
    Case(
        "bolt-plate-missing",
        "stop",
        bolt(0, "plate", to="mian"),
        "bolt 1",
        ("names plate mian", "did you mean main?", "the plates are: main"),
        alone=False,
    ),
    Case(
        "bolt-hole-missing",
        "stop",
        bolt(0, "hole", to="lefft"),
        "bolt 1",
        ("names hole lefft", "did you mean left?", "its openings are: left, right"),
    ),
    Case(
        "bolt-boss-missing",
        "stop",
        bolt(0, "joins", to={"to": "boss", "boss": "z"}),
        "bolt 1",
        ("names boss z", "its bosses are: a, b"),
        alone=False,
    ),
    Case(
        "bolt-anchor-missing",
        "stop",
        bolt(3, "joins", to={"to": "anchor", "anchor": "bulkhead"}),
        "bolt 4",
        ("names anchor bulkhead", "the anchors are: none"),
    ),
    Case(
        "bolt-bar-missing",
        "stop",
        put("dash_bar", to=None),
        "bolt 3",
        ("goes to the dash bar, but there is none",),
        alone=False,
    ),
    Case(
        "bolt-in-cut-out",
        "stop",
        put(
            "plates",
            0,
            "openings",
            0,
            to={
                "kind": "cut-out",
                "name": "left",
                "corners": [{"at_mm": [-45, -5]}, {"at_mm": [-35, -5]}, {"at_mm": [-40, 5]}],
            },
        ),
        "bolt 1",
        ("left is a cut-out", "give plate main a hole"),
    ),
    Case(
        "bolt-in-slot",
        "stop",
        put(
            "plates",
            0,
            "openings",
            0,
            to={"kind": "slot", "name": "left", "centre_mm": [-40, 0], "length_mm": 14, "width_mm": 9},
        ),
        "bolt 1",
        ("left is a slot", "nothing but friction", "a round hole of 9 mm"),
    ),
    Case(
        "bolt-joins-own-plate",
        "stop",
        bolt(3, "joins", to={"to": "hole", "plate": "main", "opening": "shaft"}),
        "bolt 4",
        ("joins plate main to itself",),
    ),
    Case(
        "bolt-size-unknown",
        "stop",
        bolt(0, "size", to="M9"),
        "bolt 1",
        ("no bolt size 'M9'", "did you mean M8 or M10?"),
    ),
    Case(
        "grade-unknown",
        "doubt",
        bolt(0, "grade", to="8.9"),
        "bolt 1",
        ("no bolt grade '8.9'", "did you mean 8.8?"),
    ),
    Case(
        "grade-mismatch",
        "doubt",
        bolt(0, "grade", to="grade 8"),
        "bolt 1",
        ("M8 is a metric size", "read the marking"),
    ),
    Case(
        "grade-beyond-rules",
        "rule",
        bolt(0, "grade", to="12.9"),
        "bolt 1",
        ("class 12.9 is outside EN 1993-1-8", "brittle", "take 10.9"),
    ),
    Case(
        "blank-grade", "doubt", bolt(0, "grade", to=None), "bolt 1", ("grade is blank", "marking on the head")
    ),
    Case(
        "blank-preload",
        "doubt",
        bolt(0, "tightening_nm", to=None),
        "bolt 1",
        ("neither its tightening torque",),
    ),
    Case(
        "blank-friction",
        "doubt",
        bolt(0, "face_friction", to=None),
        "bolt 1",
        ("friction between its faces",),
    ),
    Case(
        "thread-differs",
        "doubt",
        put(*BOSS_A, "thread", to="M10"),
        "bolt 1",
        ("it is M8 and boss a is tapped M10",),
    ),
    Case(
        "hole-used-twice",
        "stop",
        bolt(1, "hole", to="left"),
        "plate main, hole left",
        ("bolts 1 and 2 all go through it",),
        alone=False,
    ),
    Case(
        "boss-used-twice",
        "stop",
        bolt(1, "joins", "boss", to="a"),
        "boss a",
        ("bolts 1 and 2 all go into it", "one boss takes one bolt"),
        alone=False,
    ),
    Case(
        "bolts-coincide",
        "stop",
        put("plates", 0, "openings", 3, "centre_mm", to=[-40, 110]),
        "bolt 4",
        ("same place as bolt 3 (5.0 mm apart)",),
        alone=False,
    ),
    Case(
        "boss-unused",
        "note",
        lambda data: data["casing"]["bosses"].append({**data["casing"]["bosses"][0], "name": "c"}),
        "boss c",
        ("nothing is bolted to it", "use as many bosses as there are"),
    ),
    Case(
        "anchor-unused",
        "note",
        put("anchors", to=[{"name": "bulkhead", "word": "the builder"}]),
        "anchor bulkhead",
        ("nothing is bolted to it",),
    ),
    Case(
        "bolts-in-line",
        "doubt",
        one_line,
        "bracket",
        ("all 4 bolts stand in one line", "well away from it"),
        alone=False,
    ),
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


def test_an_unknown_size_hides_no_other_bolt() -> None:
    found = findings_with(both(bolt(0, "size", to="M9"), bolt(1, "plate", to="x"), bolt(2, "grade", to=None)))
    assert {"bolt-size-unknown", "bolt-plate-missing", "blank-grade"} <= {f.code for f in found}


def test_a_bolt_as_long_as_its_nut_takes_is_no_finding() -> None:
    """Washer 1.6 (ISO 7089), sheet 6, wall 3 mm, and 6.8 mm of a nut (ISO 4032)."""
    assert findings_with(bolt(2, "length_mm", to=17.4)) == ()
