"""Findings about bolts: what they name, what they are of, and doubles."""

from __future__ import annotations

import pytest

from tests.geometry.finding_case import Case, Data, bolt, both, findings_with, params, put

BOSS_A = ("casing", "bosses", 0)


def one_line(data: Data) -> None:
    """Put all bolts at one height."""
    for i in (2, 3):
        data["plates"][0]["openings"][i]["centre_mm"][1] = 0
        data["plates"][0]["openings"][i]["centre_mm"][0] *= 1.4
    data["dash_bar"]["from_mm"][1] = data["dash_bar"]["to_mm"][1] = 0


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
]


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()


def test_an_unknown_size_hides_no_other_bolt() -> None:
    found = findings_with(both(bolt(0, "size", to="M9"), bolt(1, "plate", to="x"), bolt(2, "grade", to=None)))
    assert {"bolt-size-unknown", "bolt-plate-missing", "blank-grade"} <= {f.code for f in found}
