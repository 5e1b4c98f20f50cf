"""Findings about what goes round a bolt: holes, washers, spacers, clamped rings, distances."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.geometry.finding_case import Case, Data, both, findings_with, params, put

HERE = "bolt 1, hole left of plate main"


def hole(diameter_mm: float) -> Callable[[Data], object]:
    return put("plates", 0, "openings", 0, "diameter_mm", to=diameter_mm)


def moved(x_mm: float, y_mm: float) -> Callable[[Data], object]:
    """Move hole, boss and bolt 1 together."""
    return both(
        put("plates", 0, "openings", 0, "centre_mm", to=[x_mm, y_mm]),
        put("casing", "bosses", 0, "at_mm", to=[x_mm, y_mm, 0]),
    )


def washer(outer_mm: float, inner_mm: float) -> Callable[[Data], object]:
    return put("bolts", 0, "washer", to={"outer_mm": outer_mm, "inner_mm": inner_mm, "thickness_mm": 2})


def spacer(outer_mm: float, inner_mm: float) -> Callable[[Data], object]:
    return both(
        put("bolts", 0, "spacer", to={"outer_mm": outer_mm, "inner_mm": inner_mm, "length_mm": 10}),
        put("casing", "bosses", 0, "at_mm", to=[-40, 0, -10]),
    )


def fold(y_mm: float) -> Callable[[Data], object]:
    line = {
        "name": "foot",
        "from_mm": [-70, y_mm],
        "to_mm": [70, y_mm],
        "inside_radius_mm": 8,
        "angle_deg": 5,
    }
    return put("plates", 0, "folds", to=[line])


# ISO 273 (published): M8 8.4, 9, 10.
# EN 1993-1-8 table 3.3 (published): 1.2 d0 and 2.2 d0, which are 10.8 and 19.8 mm for d0 9.
CASES = [
    Case(
        "hole-too-small",
        "doubt",
        hole(7.8),
        HERE,
        ("its 7.8 mm is less than the bolt's 8 mm", "ISO 273 for M8: fine 8.4, medium 9, coarse 10 mm"),
    ),
    Case("hole-tight", "note", hole(8.1), HERE, ("its 8.1 mm is closer than the fine series", "fine 8.4")),
    Case("hole-loose", "rule", hole(11), HERE, ("its 11 mm is wider than the coarse series", "coarse 10 mm")),
    Case(
        "washer-too-small",
        "stop",
        both(hole(14), put("bolts", 0, "washer", to="none")),
        HERE,
        ("is 11.63 mm wide and falls into the 14 mm hole", "take a wider washer"),
        alone=False,
    ),
    Case(
        "washer-impossible",
        "stop",
        washer(8, 9),
        "bolt 1",
        ("washer is 8 mm outside and 9 mm inside",),
        alone=False,
    ),
    Case("washer-hole-small", "doubt", washer(16, 7), "bolt 1", ("washer's hole is 7 mm and the bolt 8 mm",)),
    Case(
        "contact-too-small",
        "stop",
        put("casing", "bosses", 0, "face_diameter_mm", to=9),
        HERE,
        ("boss a is 9 mm wide where the plate rests on it", "the 9 mm hole leaves nothing"),
    ),
    Case(
        "spacer-impossible",
        "stop",
        spacer(9, 12),
        "bolt 1",
        ("spacer is 9 mm outside and 12 mm inside",),
        alone=False,
    ),
    Case("spacer-hole-small", "doubt", spacer(16, 7.5), "bolt 1", ("bore is 7.5 mm and the bolt 8 mm",)),
    Case(
        "spacer-through-hole",
        "stop",
        spacer(8.8, 8.2),
        HERE,
        ("spacer is 8.8 mm outside and slips through the 9 mm hole",),
    ),
    Case(
        "footprint-over-edge",
        "rule",
        moved(-61, 0),
        "bolt 1",
        ("reaches 1.0 mm over the edge of plate main at hole left",),
        alone=False,
    ),
    Case(
        "edge-distance",
        "rule",
        moved(-61, 0),
        "bolt 1",
        ("hole left is 9.0 mm from the edge", "needs 10.8 mm", "EN 1993-1-8 table 3.3"),
        alone=False,
    ),
    Case(
        "footprint-over-opening",
        "rule",
        moved(-29, 0),
        "bolt 1",
        ("reaches 1.0 mm into opening shaft of plate main",),
    ),
    Case(
        "edge-to-opening",
        "rule",
        moved(-30.5, 0),
        "bolt 1",
        ("hole left is 10.5 mm from opening shaft", "needs 10.8 mm"),
    ),
    Case(
        "footprint-over-bend",
        "doubt",
        fold(118),
        "bolt 3",
        (
            "into the bend of fold line foot of plate main",
            "where no face lies flat",
            "move hole upper left away",
        ),
        alone=False,
    ),
    Case(
        "footprint-over-footprint",
        "doubt",
        put("plates", 0, "openings", 3, "centre_mm", to=[-30, 110]),
        "bolt 4",
        ("overlaps what bolt 3 clamps by 1.0 mm on plate main",),
        alone=False,
    ),
    Case(
        "pitch",
        "rule",
        put("plates", 0, "openings", 3, "centre_mm", to=[-26, 110]),
        "bolt 4",
        ("hole upper right is 19.0 mm from hole upper left", "needs 19.8 mm", "2.2 hole diameters"),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("diameter", [8.4, 9, 10])
def test_holes_of_the_three_series_are_no_finding(diameter: float) -> None:
    assert findings_with(hole(diameter)) == ()


def test_distances_just_met_are_no_finding() -> None:
    assert findings_with(moved(-59.2, 30)) == ()  # 10.8 mm from the edge
    assert findings_with(put("plates", 0, "openings", 3, "centre_mm", to=[-45 + 19.8, 110])) == ()


def test_rings_on_opposite_faces_do_not_overlap() -> None:
    # A wide spacer on the back of one plate may lie under the washer on the front of its neighbour.
    wide = both(
        moved(-40, 60),
        put("bolts", 2, "washer", to={"outer_mm": 30, "inner_mm": 9, "thickness_mm": 3}),
        put("plates", 0, "openings", 2, "centre_mm", to=[-40, 84.5]),
        put("bolts", 2, "joins", to={"to": "anchor", "anchor": "w"}),
        put("anchors", to=[{"name": "w", "at_mm": [-40, 84.5, 6], "word": "x"}]),
    )
    # back: boss radius 10 + washer radius 15 = 25 > 24.5; front: washer 8 + contact 8
    assert {f.code for f in findings_with(wide)} == {"footprint-over-footprint"}
    narrower = both(wide, put("casing", "bosses", 0, "face_diameter_mm", to=18))
    assert findings_with(narrower) == ()
