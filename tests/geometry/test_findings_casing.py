"""Findings about casing, column, dash bar, anchors and about what holds what."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from geometry.finding_words import sentence
from tests.geometry.finding_case import Case, Data, both, findings_with, params, put


def end(kind: str, number: int = 1, **more: object) -> Callable[[Data], object]:
    return put("dash_bar", "ends", number, to={"kind": kind, "seen_by": "the welder", **more})


def section(**values: object) -> Callable[[Data], object]:
    return put(
        "dash_bar", "section", to={"kind": "rectangular tube", "width_mm": 50, "height_mm": 50} | values
    )


def stayed(**values: object) -> Callable[[Data], object]:
    stay = {"station_mm": 300, "direction": [0, -1, 0], "stiffness_n_per_mm": [2000, 3000], "seen_by": "me"}
    return put("dash_bar", "stays", to=[stay | values])


def _own(name: str, yield_mpa: float) -> dict[str, object]:
    return {
        "name": name,
        "kind": "steel",
        "yield_mpa": yield_mpa,
        "tensile_mpa": yield_mpa + 100,
        "elastic_modulus_mpa": 210000,
        "poisson": 0.3,
        "density_kg_m3": 7850,
        "source": "invented",
    }


def strap(*joins: dict[str, str]) -> Callable[[Data], object]:
    """Add a strap at the side, with a bolt for each partner."""

    def make(data: Data) -> None:
        holes: list[dict[str, Any]] = []
        for i, partner in enumerate(joins):
            holes.append({"kind": "hole", "name": f"h{i}", "centre_mm": [0, 60 * i], "diameter_mm": 9})
            bolt = {**data["bolts"][0], "name": f"s{i}", "plate": "strap", "hole": f"h{i}", "joins": partner}
            data["bolts"].append(bolt)
        corners = [{"at_mm": place} for place in ([-20, -20], [20, -20], [20, 80], [-20, 80])]
        data["plates"].append(
            {
                "name": "strap",
                "material": "S235",
                "thickness_mm": 6,
                "outline": corners,
                "openings": holes,
                "placement": {"origin_mm": [200, 110, 0]},
            }
        )

    return make


def tilted(data: Data) -> None:
    """Lean the plate forward by 5 deg about X, with its bosses."""
    cos, sin = 0.9961947, 0.0871557
    data["plates"][0]["placement"] = {"y_axis": [0, cos, sin]}
    for boss in data["casing"]["bosses"]:
        boss["direction"] = [0, -sin, cos]


CASES = [
    Case("no-plates", "stop", put("plates", to=[]), "bracket", ("there is no plate",), alone=False),
    Case("no-casing", "stop", put("casing", to=None), "bracket", ("there is no casing",), alone=False),
    Case(
        "blank-casing",
        "doubt",
        put("casing", "name", to="example casing"),
        "casing example casing",
        ("its figures are the example's", "give it its own name"),
    ),
    Case(
        "no-bosses",
        "stop",
        put("casing", "bosses", to=[]),
        "casing",
        ("has no boss to bolt to", "measure its bosses"),
        alone=False,
    ),
    Case(
        "casing-unheld",
        "stop",
        lambda data: data["bolts"].__delitem__(slice(2, 4)),
        "casing",
        ("no bolts lead from it to the dash bar or an anchor",),
        alone=False,
    ),
    Case(
        "envelope-inside-out",
        "doubt",
        put("casing", "envelope", "low_mm", 2, to=20),
        "casing",
        ("has Z from 20 to 0 mm", "lower corner first"),
    ),
    # the envelope ends at the casing's own origin
    Case(
        "mass-centre-outside",
        "doubt",
        put("casing", "mass_centre_mm", to=[0, 0, 70]),
        "casing",
        ("lies 70 mm outside its envelope", "their signs"),
    ),
    Case(
        "direction-no-length",
        "stop",
        put("casing", "bosses", 0, "direction", to=[0, 0, 0]),
        "boss a",
        ("direction has no length",),
    ),
    Case(
        "boss-face-small",
        "doubt",
        put("casing", "bosses", 0, "face_diameter_mm", to=8),
        "boss a",
        ("its face is 8 mm wide, not more than its thread M8",),
        alone=False,
    ),
    Case(
        "thread-unknown",
        "doubt",
        put("casing", "bosses", 0, "thread", to="M9"),
        "boss a",
        ("no bolt size 'M9'", "did you mean M8 or M10?"),
    ),
    Case(
        "name-doubled",
        "stop",
        put("bolts", 3, "name", to="3"),
        "bracket, 3",
        ("2 bolts have that name", "give each its own"),
    ),
    Case(
        "material-thickness",
        "doubt",
        put("dash_bar", "section", to={"kind": "flat bar", "width_mm": 50, "height_mm": 50}),
        "dash bar",
        ("the strength of S235 at 50 mm is not in the table", "material of your own"),
        alone=False,
    ),
    Case(
        "bar-no-length",
        "stop",
        put("dash_bar", "to_mm", to=[-600, 110, 31]),
        "dash bar",
        ("same place",),
        alone=False,
    ),
    Case(
        "bar-size-absurd",
        "doubt",
        put("dash_bar", "to_mm", 0, to=6000),
        "dash bar",
        ("6600 mm long", "100 to 2500 mm"),
        alone=False,
    ),
    Case(
        "bar-wall",
        "stop",
        section(wall_mm=25),
        "dash bar",
        ("wall of 25 mm leaves no bore in 50 mm",),
        alone=False,
    ),
    Case(
        "bar-wall-thin",
        "doubt",
        section(wall_mm=0.1),
        "dash bar",
        ("its wall is 0.1 mm", "check the unit"),
        alone=False,
    ),
    Case(
        "bar-open",
        "doubt",
        both(section(kind="channel", wall_mm=4), put("dash_bar", "up", to=[0, -1, 0])),
        "dash bar",
        ("open section (channel)", "warping", "close it into a tube"),
    ),
    Case("stay-off-bar", "stop", stayed(station_mm=1300), "dash bar, stay 1", ("1300 mm", "1200 mm long")),
    Case("stay-no-direction", "stop", stayed(direction=[0, 0, 0]), "dash bar, stay 1", ("which way",)),
    Case(
        "stay-along-bar", "doubt", stayed(direction=[1, 0.1, 0]), "dash bar, stay 1", ("check its direction",)
    ),
    Case("stay-unseen", "doubt", stayed(seen_by=" "), "dash bar, stay 1", ("nobody", "name who did")),
    Case(
        "bar-loose",
        "stop",
        both(end("free", 0), end("pinned")),
        "dash bar",
        ("its ends (free, pinned) leave it free to turn",),
    ),
    Case(
        "bar-loose",
        "stop",
        both(end("free", 0), end("stiffness", bending_nm_per_deg=[0, 50])),
        "dash bar",
        ("its ends (free, stiffness) leave it free to turn",),
    ),
    Case(
        "bar-up",
        "doubt",
        put("dash_bar", "up", to=[1, 0, 0]),
        "dash bar",
        ("`up` runs along the bar",),
        alone=False,
    ),
    Case(
        "bar-end-unseen",
        "doubt",
        end("welded", seen_by=None),
        "dash bar",
        ("end 2 is held as said (welded)", "name who did"),
    ),
    Case("blank-bar-end", "doubt", end("stiffness"), "dash bar", ("end 2", "bending_nm_per_deg")),
    Case(
        "anchor-no-word",
        "doubt",
        put("anchors", to=[{"name": "bulkhead", "word": " "}]),
        "anchor bulkhead",
        ("nobody says why it is immovable",),
        alone=False,
    ),
    Case(
        "blank-column",
        "doubt",
        put("column", to={}),
        "column",
        ("what else holds the column is blank", "nothing, bearings or donor mount"),
    ),
    Case(
        "blank-bearings",
        "doubt",
        put("column", "bearings", to=[]),
        "column",
        ("none is listed", "stiffness range"),
    ),
    Case(
        "blank-mount", "doubt", put("column", to={"held_by": "donor mount"}), "column", ("is not described",)
    ),
    Case(
        "name-doubled",  # either is found by both names, so one would go for the other
        "stop",
        put("materials", to=[_own("mild x", 200), _own("Mild  X", 500)]),
        "bracket, mild x",
        ("2 materials have that name",),
        alone=False,
    ),
    Case(
        "bar-wall-below-rules",
        "rule",
        section(wall_mm=2.4),
        "dash bar",
        ("wall of 2.4 mm is below the 2.5 mm", "EN 1993-1-8 7.1.1", "thicker tube"),
    ),
    Case(
        "boss-outside",  # a block in inches
        "doubt",
        put("casing", "envelope", to={"low_mm": [-2, -2, -6], "high_mm": [-0.5, 2, 0]}),
        "boss b",
        ("40 mm outside the block", "in mm"),
        alone=False,
    ),
    Case(
        "bearing-in-casing",
        "doubt",
        put("column", "bearings", 0, "station_mm", to=-30),
        "bearing upper",
        ("station of -30 mm lies within the casing", "not to the car", "say nothing"),
    ),
    Case(
        "bearing-beyond-wheel",
        "doubt",
        put("column", "bearings", 0, "station_mm", to=430),
        "bearing upper",
        ("station is 430 mm and the wheel's 420 mm", "measure both"),
    ),
    Case(
        "bearing-beyond-wheel",
        "doubt",
        put(
            "column",
            to={
                "held_by": "donor mount",
                "mount": {
                    "name": "dash",
                    "station_mm": 420,
                    "sideways_n_per_mm": [2000, 8000],
                    "along_n_per_mm": [2000, 8000],
                },
            },
        ),
        "column mount dash",
        ("station is 420 mm and the wheel's 420 mm",),
    ),
    Case("plate-loose", "stop", strap(), "plate strap", ("no bolt joins it to anything",)),
    Case(
        "plate-unheld",
        "stop",
        both(strap({"to": "hole", "plate": "other", "opening": "h0"})),
        "plate strap",
        ("lead neither to the casing nor to anything that holds it",),
        alone=False,
    ),
    Case(
        "plate-one-sided",
        "doubt",
        strap({"to": "dash bar"}),
        "plate strap",
        ("lead only to what holds it", "join it to the casing"),
        alone=False,
    ),
    Case(
        "plate-out-of-square",
        "rule",
        tilted,
        "plate main",
        ("5.0 deg out of square to the shaft", "turn it square or pack it"),
        alone=False,
    ),
    Case(
        "plate-along-shaft",
        "note",
        both(
            put("plates", 0, "placement", to={"y_axis": [0, 0, 1]}),
            put("casing", "bosses", 0, "direction", to=[0, -1, 0]),
            put("casing", "bosses", 1, "direction", to=[0, -1, 0]),
        ),
        "plate main",
        ("lies along the shaft (90 deg from square)",),
        alone=False,
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()


def test_a_plate_hung_on_the_casing_alone_is_one_sided() -> None:
    hung = both(
        strap({"to": "boss", "boss": "c"}),
        lambda data: data["casing"]["bosses"].append(
            {**data["casing"]["bosses"][0], "name": "c", "at_mm": [200, 110, 0]}
        ),
    )
    sides = {f.where: f.values["side"] for f in findings_with(hung) if f.code == "plate-one-sided"}
    assert sides == {"plate strap": "the casing"}


def test_two_plates_bolted_together_hold() -> None:
    def two(data: Data) -> None:
        lower = data["plates"][0]
        upper = {**lower, "name": "bar plate", "placement": {"origin_mm": [0, 0, 6]}}
        upper["openings"] = [dict(o) for o in lower["openings"]]
        data["plates"].append(upper)
        for number in (2, 3):
            data["bolts"][number]["joins"] = {
                "to": "hole",
                "plate": "bar plate",
                "opening": data["bolts"][number]["hole"],
            }
        for number, side in ((4, "left"), (5, "right")):
            extra = {
                "kind": "hole",
                "name": f"bar {side}",
                "diameter_mm": 9,
                "centre_mm": [-15 if number == 4 else 15, 110],
            }
            upper["openings"].append(extra)
            data["bolts"].append(
                {**data["bolts"][0], "name": str(number + 1), "plate": "bar plate", "hole": f"bar {side}"}
            )
            data["bolts"][-1]["joins"] = {"to": "dash bar"}
        for key in ("from_mm", "to_mm"):
            data["dash_bar"][key][2] = 37

    assert findings_with(two) == ()


@pytest.mark.parametrize("kinds", [("welded", "free"), ("pinned", "pinned"), ("bolted flange", "welded")])
def test_ends_that_hold_the_bar_are_no_finding(kinds: tuple[str, str]) -> None:
    assert findings_with(both(end(kinds[0], 0), end(kinds[1], 1))) == ()


@pytest.mark.parametrize(("kept", "told"), [("boss", True), ("dash bar", False)])
def test_only_a_plate_that_meets_the_casing_has_to_be_square(kept: str, told: bool) -> None:
    """What holds the casing stands square to the shaft (fact of the trade); a stay to the bar need not."""

    def lone(data: Data) -> None:
        tilted(data)
        data["bolts"] = [bolt for bolt in data["bolts"] if bolt["joins"]["to"] == kept]

    assert ("plate-out-of-square" in {f.code for f in findings_with(lone)}) == told


def test_a_plate_called_as_the_casing_is_in_results_is_told() -> None:
    """What moves is told by names: a plate of that name was animated, and spoken of, as the casing."""

    def named(data: Data) -> None:
        for holder in (data["plates"][0], *data["bolts"]):
            holder["name" if "outline" in holder else "plate"] = "casing"

    (finding,) = findings_with(named)
    assert (finding.code, finding.severity) == ("name-doubled", "stop")
    assert sentence(finding).startswith(
        "bracket, casing: 2 parts, casing and plate, have that name; give each"
    )
