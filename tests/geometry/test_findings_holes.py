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
# EN 1993-1-8 table 3.3 (published): 1.2 d0 and 2.4 d0, which are 10.8 and 21.6 mm for d0 9.
WIDE_BAR = put("dash_bar", "section", "height_mm", to=56)
"""As much flat beside its rounded corners as a pad of 44 mm needs."""

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
        "washer-too-thin",
        "doubt",
        washer(44, 8.4),
        HERE,
        ("washer is 44 mm wide and 2 mm thick", "sheet of 6 mm", "head 11.63 mm wide presses"),
        alone=False,
    ),
    Case(
        "contact-too-small",
        "stop",
        put("casing", "bosses", 0, "face_diameter_mm", to=9),
        HERE,
        ("boss a is 9 mm wide where the plate rests on it", "the 9 mm hole leaves nothing"),
    ),
    Case(
        "contact-too-wide",
        "doubt",
        both(WIDE_BAR, put("bolts", 2, "pad_diameter_mm", to=41)),
        "bolt 3, hole upper left of plate main",
        (
            "dash bar is 41 mm wide where the plate rests on it",
            "through sheet of 6 mm",
            "16 mm wide, presses",
        ),
    ),
    Case(
        "ring-too-narrow",
        "stop",
        washer(16, 15.9),
        HERE,
        ("clamps under its head or nut is a ring from 15.9 to 16 mm", "take a wider washer"),
    ),
    # S235 yields at 235 MPa (EN 10025-2), 29.1 mm2 of it at 6.8 kN; 24 N.m draw 24 / (0.2 x 8 mm) = 15 kN.
    Case(
        "spacer-crushed",
        "doubt",
        spacer(10.5, 8.56),
        "bolt 1",
        ("spacer of S235, 10.5 mm outside and 8.56 mm inside, yields at 6.8 kN", "draws about 15.0 kN"),
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
        alone=False,
    ),
    Case(
        "spacer-bore-wide",
        "doubt",
        both(spacer(30, 17), put("casing", "bosses", 0, "face_diameter_mm", to=30)),
        HERE,
        ("bore is 17 mm", "head or nut 16 mm wide", "closer bore or a wider washer"),
        alone=False,
    ),
    Case(
        "spacer-over-face",
        "stop",
        both(spacer(24, 18), put("casing", "bosses", 0, "face_diameter_mm", to=16)),
        HERE,
        ("leave 18 mm open", "is 16 mm wide where the spacer stands on it", "wider face"),
        alone=False,
    ),
    # bolt 4 at x 45: 1.5 mm of metal before the bar's end, where its 4.5 mm hole wants three more
    Case(
        "hole-over-bar",
        "doubt",
        put("dash_bar", "to_mm", 0, to=46.5),
        "bolt 4",
        ("hole upper right reaches 3.0 mm over the edge of dash bar", "longer bar"),
    ),
    # an M8 washer of ISO 7089 is 16 mm wide
    Case(
        "footprint-over-bar",
        "rule",
        put("dash_bar", "section", "height_mm", to=12),
        "bolt 3",
        ("reaches 2.0 mm over the edge of dash bar at hole upper left", "pad_height_mm"),
    ),
    Case(
        "bolt-through-bar",  # washer of 1.6 mm, plate of 6, wall of 3, bore of 50 less two walls
        "doubt",
        put("bolts", 2, "length_mm", to=60),
        "bolt 3",
        ("60 mm do not end in the bore of dash bar, 44 mm past the 10.6 mm", "squeezes", "nut is inside"),
    ),
    Case(
        "footprint-over-corner",  # 8 mm of washer, 12 mm to the side, 1.6 times the wall of 3 mm round
        "rule",
        put("dash_bar", "section", "height_mm", to=24),
        "bolt 3",
        ("reaches 0.8 mm over the rounded corner of dash bar at hole upper left", "4.8 mm", "EN 10219-2"),
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
        ("hole upper right is 19.0 mm from hole upper left", "needs 21.6 mm", "2.4 hole diameters"),
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
    assert findings_with(put("plates", 0, "openings", 3, "centre_mm", to=[-45 + 21.6, 110])) == ()


def test_a_face_that_is_pressed_all_over_is_no_finding() -> None:
    assert findings_with(both(WIDE_BAR, put("bolts", 2, "pad_diameter_mm", to=16 + 4 * 6))) == ()


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (both(hole(15.8), put("bolts", 0, "washer", to="standard")), "under its head or nut"),
        (put("casing", "bosses", 0, "face_diameter_mm", to=9.1), "on boss a"),
        (spacer(9.1, 8.4), "on its spacer"),
    ],
)
def test_a_ring_the_mesh_cannot_hold_is_told_before(make: Callable[[Data], object], said: str) -> None:
    narrow = [f for f in findings_with(make) if f.code == "ring-too-narrow"]
    assert [f.where for f in narrow] == [HERE]
    assert narrow[0].values["rests"] == said


@pytest.mark.parametrize(
    "more",
    [
        put("bolts", 0, "preload_n", to=[4000, 6000]),
        put("bolts", 0, "spacer", "material", to="no such metal"),
        put("bolts", 0, "tightening_nm", to=None),
    ],
)
def test_a_thin_spacer_that_is_not_crushed_or_not_known(more: Callable[[Data], object]) -> None:
    found = findings_with(both(spacer(10.5, 8.56), more))
    assert "spacer-crushed" not in {f.code for f in found}


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


def test_a_wide_washer_of_its_trade_is_no_finding() -> None:
    """ISO 7093-1: 24 mm wide, 2 mm thick for M8 (from memory)."""
    assert "washer-too-thin" not in {f.code for f in findings_with(washer(24, 8.4))}
    assert "washer-too-thin" not in {f.code for f in findings_with(washer(43.5, 8.4))}


@pytest.mark.parametrize(
    ("section", "told"),
    [
        ({"kind": "rectangular tube", "width_mm": 50, "height_mm": 50, "wall_mm": 3}, True),
        ({"kind": "rectangular tube", "width_mm": 50, "height_mm": 90, "wall_mm": 3}, True),
        ({"kind": "rectangular tube", "width_mm": 90, "height_mm": 50, "wall_mm": 3}, False),
        ({"kind": "round tube", "outer_mm": 50, "wall_mm": 3}, True),
        ({"kind": "flat bar", "width_mm": 50, "height_mm": 50}, False),
    ],
)
def test_only_a_tube_shallower_than_the_bolt_is_long_is_gone_through(
    section: dict[str, object], told: bool
) -> None:
    """It runs along Z, and so does the tube's width; 10.6 mm are clamped, 60 less 10.6 go into the bore."""
    make = both(put("dash_bar", "section", to=section), put("bolts", 2, "length_mm", to=60))
    assert ("bolt-through-bar" in {f.code for f in findings_with(make)}) == told
