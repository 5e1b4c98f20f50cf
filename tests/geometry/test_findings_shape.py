"""Findings about the shape of plates."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from geometry.finding_words import MOST_FINDINGS, sentence
from geometry.findings import can_be_analysed, findings_of
from tests.geometry.example_bracket import example_bracket
from tests.geometry.finding_case import Case, Data, both, bracket_with, findings_with, params, put


def opening(**values: object) -> Callable[[Data], object]:
    return lambda data: data["plates"][0]["openings"].append({"kind": "hole", "name": "extra", **values})


def outline(*places: tuple[float, float]) -> Callable[[Data], object]:
    return put("plates", 0, "outline", to=[{"at_mm": place} for place in places])


def fold(y_mm: float, **values: object) -> Callable[[Data], object]:
    line = {
        "name": "foot",
        "from_mm": [-70, y_mm],
        "to_mm": [70, y_mm],
        "inside_radius_mm": 8,
        "angle_deg": 30,
    }
    return put("plates", 0, "folds", to=[line | values])


CASES = [
    Case(
        "outline-crosses",
        "stop",
        outline((-70, -50), (70, 140), (70, -50), (-70, 140)),
        "plate main",
        ("crosses or touches itself near (0.0, 45.0)", "move the corners apart"),
        alone=False,
    ),
    Case(
        "outline-no-area",
        "stop",
        outline((-70, 0), (70, 0), (70, 1e-4)),
        "plate main",
        ("encloses nothing",),
        alone=False,
    ),
    Case(
        "shape-impossible",
        "stop",
        outline((-70, -50), (70, -50), (70, -50), (70, 140), (-70, 140)),
        "plate main, outline",
        ("corners 2 and 3 are at the same place (70, -50)", "remove one"),
        alone=False,
    ),
    Case(
        "opening-outside",
        "stop",
        opening(centre_mm=[200, 0], diameter_mm=10),
        "plate main, opening extra",
        ("outside the outline by 135.0 mm", "move it in"),
    ),
    Case(
        "opening-touches-outline",
        "stop",
        opening(centre_mm=[64.95, 50], diameter_mm=10),
        "plate main, opening extra",
        ("only 0.05 mm is left",),
    ),
    Case(
        "opening-touches-opening",
        "stop",
        opening(centre_mm=[0, 24], diameter_mm=10),
        "plate main, opening shaft",
        ("runs into opening extra", "make one opening of both"),
    ),
    Case(
        "opening-crosses",
        "stop",
        lambda data: data["plates"][0]["openings"].append(
            {
                "kind": "cut-out",
                "name": "eight",
                "corners": [
                    {"at_mm": [-10, 40]},
                    {"at_mm": [10, 60]},
                    {"at_mm": [10, 40]},
                    {"at_mm": [-10, 60]},
                ],
            }
        ),
        "plate main, opening eight",
        ("near (0.0, 50.0)",),
    ),
    Case(
        "leg-short",
        "rule",
        fold(-38),
        "plate main, fold line foot",
        ("only 9.", "needs 12.0 mm", "2 thicknesses"),
    ),
    Case(
        "bend-tight",
        "rule",
        fold(60, inside_radius_mm=6),
        "plate main, fold line foot",
        ("inside radius is 6 mm", "S235 of 6 mm needs 8 mm", "EN 10025-2"),
        alone=False,
    ),
    Case(
        "bend-past-square",
        "rule",
        fold(60, inside_radius_mm=8, angle_deg=150),
        "plate main, fold line foot",
        ("turned by 150 deg", "the 8 mm that S235 of 6 mm needs", "for 90 deg at most", "twice that"),
        alone=False,
    ),
    Case(
        "bend-radius-unknown",
        "rule",
        both(
            fold(60),
            put("plates", 0, "material", to="own"),
            put(
                "materials",
                to=[
                    {
                        "name": "own",
                        "kind": "steel",
                        "yield_mpa": 240,
                        "tensile_mpa": 370,
                        "elastic_modulus_mpa": 210000,
                        "poisson": 0.3,
                        "density_kg_m3": 7850,
                        "source": "pulled",
                    }
                ],
            ),
        ),
        "plate main, fold line foot",
        ("no least inside radius is known for own of 6 mm", "fold a test piece"),
        alone=False,
    ),
    Case(
        "plate-too-large",
        "doubt",
        outline((-70, -50), (70, -50), (70, 2950), (-70, 2950)),
        "plate main",
        ("3000 mm long", "check the unit"),
    ),
    Case(
        "plate-too-small",
        "doubt",
        lambda data: data["plates"].append(
            {
                "name": "crumb",
                "material": "S235",
                "thickness_mm": 1,
                "outline": [{"at_mm": [0, 0]}, {"at_mm": [0.14, 0]}, {"at_mm": [0, 0.1]}],
            }
        ),
        "plate crumb",
        ("0.14 mm long",),
        alone=False,
    ),
    Case(
        "thickness-absurd",
        "doubt",
        put("plates", 0, "thickness_mm", to=0.01),
        "plate main",
        ("thickness is 0.01 mm", "0.5 to 30 mm"),
        alone=False,
    ),
    Case(
        "thickness-unusual",
        "note",
        put("plates", 0, "thickness_mm", to=5.6),
        "plate main",
        ("5.6 mm is not a usual sheet; near it are 5 mm and 6 mm",),
        alone=False,
    ),
    Case(
        "material-unknown",
        "stop",
        put("plates", 0, "material", to="S236"),
        "plate main",
        ("no material 'S236'", "did you mean S235?"),
    ),
    Case(
        "material-thickness",
        "doubt",
        both(put("plates", 0, "material", to="5052-H32"), put("plates", 0, "thickness_mm", to=20)),
        "plate main",
        ("strength of 5052-H32 at 20 mm is not in the table", "a material of your own"),
        alone=False,
    ),
    Case(
        "blank-material",
        "doubt",
        put("plates", 0, "material", to=None),
        "plate main",
        ("its material is blank",),
    ),
]


def test_the_example_has_no_finding() -> None:
    assert findings_of(example_bracket()) == ()


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()


def test_an_outline_like_an_eight_bars_the_analysis_and_hides_nothing_else() -> None:
    crossed = both(outline((-70, -50), (70, 140), (70, -50), (-70, 140)), put("rake_deg", to=None))
    found = findings_with(crossed)
    assert not can_be_analysed(found)
    assert "blank-rake" in {finding.code for finding in found}


def test_a_fold_that_hits_an_opening_or_ends_inside_is_told_with_its_name() -> None:
    for y_mm, said in ((20, "bend zone"), (-4.4, "bend zone"), (400, "does not cross the material")):
        found = [f for f in findings_with(fold(y_mm)) if f.code == "shape-impossible"]
        assert found, y_mm
        assert found[0].where == "plate main, fold foot"
        assert said in sentence(found[0])


def test_every_broken_fold_is_told_not_only_the_first() -> None:
    def two(data: Data) -> None:
        fold(400)(data)
        data["plates"][0]["folds"].append(
            {**data["plates"][0]["folds"][0], "name": "other", "inside_radius_mm": 0.1}
        )

    places = {f.where for f in findings_with(two) if f.code == "shape-impossible"}
    assert places == {"plate main, fold foot", "plate main, fold other"}


def test_axes_that_do_not_span_a_plane_are_told() -> None:
    found = findings_with(put("plates", 0, "placement", to={"x_axis": [1, 0, 0], "y_axis": [2, 0, 0]}))
    assert ("shape-impossible", "plate main, placement") in {(f.code, f.where) for f in found}


def test_a_long_leg_and_a_least_radius_are_no_finding() -> None:
    found = findings_with(fold(60))
    assert {f.code for f in found} & {"leg-short", "bend-tight", "shape-impossible"} == set()


def test_the_straight_part_of_a_leg_is_measured_from_the_tangent() -> None:
    # The outline begins at -50. By DIN 6935 half the zone of 30 deg, r 8, t 6 is 0.2618 (8 + 0.3562 x 6)
    # = 2.654
    finding = next(f for f in findings_with(fold(-38)) if f.code == "leg-short")
    assert finding.values["straight_mm"] == pytest.approx(12 - 2.654, abs=0.002)


def test_sheets_in_inches_are_usual() -> None:
    for thickness in (25.4 / 16, 25.4 / 8, 25.4 * 3 / 16, 25.4 / 4):
        found = findings_of(bracket_with(put("plates", 0, "thickness_mm", to=thickness)))
        assert "thickness-unusual" not in {f.code for f in found}


def test_2000_openings_are_looked_at_in_one_go() -> None:
    def many(data: Data) -> None:
        data["plates"][0]["openings"] += [
            {
                "kind": "hole",
                "name": f"n{i}",
                "centre_mm": [-60 + 2 * (i % 50), 40 + i // 50],
                "diameter_mm": 1.5,
            }
            for i in range(2000)
        ]

    found = findings_with(many)
    touching = [f for f in found if f.code == "opening-touches-opening"]
    assert len(touching) == MOST_FINDINGS  # as many as a person can read, and how many more there are
    assert any(f.code == "more-of-the-kind" and f.values["kind"] == "opening-touches-opening" for f in found)
