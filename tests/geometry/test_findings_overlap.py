"""Findings about plates that run into each other, into the dash bar or into the shaft."""

from __future__ import annotations

import copy
from collections.abc import Callable

import numpy as np
import pytest

from geometry.finding_words import sentence
from geometry.findings_overlap import overlap_findings
from geometry.plate_body import depth_in_plate, plate_body
from geometry.survey import survey
from tests.geometry.finding_case import Case, Data, both, bracket_with, put


def second_plate(**placement: object) -> object:
    """Add a plate of the same shape without holes, standing where `placement` says."""

    def make(data: Data) -> None:
        plate = copy.deepcopy(data["plates"][0])
        data["plates"].append({**plate, "name": "second", "openings": [], "placement": placement})

    return make


def shaft_hole(diameter_mm: float | None, at_mm: float = 0.0) -> Callable[[Data], object]:
    """Return what makes the shaft's hole so wide, somewhere along x; None leaves it out."""

    def make(data: Data) -> None:
        openings = data["plates"][0]["openings"]
        hole = next(o for o in openings if o["name"] == "shaft")
        if diameter_mm is None:
            openings.remove(hole)
        else:
            hole |= {"diameter_mm": diameter_mm, "centre_mm": [at_mm, 0]}

    return make


def blocked(make: Callable[[Data], object]) -> list[str]:
    found = overlap_findings(survey(bracket_with(make)))
    return [f.where for f in found if f.code == "shaft-blocked"]


def test_a_shaft_needs_its_own_width() -> None:
    assert blocked(shaft_hole(10.2)) == []
    assert blocked(shaft_hole(9.0)) == ["plate main"]
    assert blocked(shaft_hole(30.0, 9.5)) == []
    assert blocked(shaft_hole(30.0, 12.0)) == ["plate main"]


@pytest.mark.parametrize("thickness_mm", [0.3, 0.5, 1.0, 6.0])
def test_a_plate_in_the_shaft_is_found_however_thin_and_wherever_it_stands(thickness_mm: float) -> None:
    for station_mm in (-149.9, -40.0, 0.0, 0.37, 33.3, 60.15, 419.0):
        at = {"origin_mm": [0, 0, station_mm]}
        thin = both(shaft_hole(None), put("plates", 0, "thickness_mm", to=thickness_mm))
        assert blocked(both(thin, put("plates", 0, "placement", to=at))) == ["plate main"]


def test_a_plate_beyond_the_wheel_or_below_the_casing_is_in_nobodys_way() -> None:
    for station_mm, there in ((-400.0, []), (20.0, ["plate main"]), (900.0, [])):
        moved = both(shaft_hole(None), put("plates", 0, "placement", to={"origin_mm": [0, 0, station_mm]}))
        assert blocked(moved) == there


def test_a_bar_across_the_shaft_is_told() -> None:
    def across(data: Data) -> None:
        for end in ("from_mm", "to_mm"):
            data["dash_bar"][end][1:] = [0, 200]

    assert blocked(across) == ["dash bar"]


CASES = (
    Case(
        "plates-overlap",
        "doubt",
        second_plate(origin_mm=[0, 0, 2]),
        "plates main and second",
        ("mm into each other near X", "move one of them"),
        alone=False,
    ),
    Case(
        "plate-in-bar",
        "doubt",
        put("dash_bar", "section", "width_mm", to=60),
        "plate main",
        ("it runs 5.0 mm into the dash bar near X", "correct where the bar stands"),
        alone=False,
    ),
    Case(
        "shaft-blocked",
        "doubt",
        shaft_hole(None),
        "plate main",
        ("stands in the shaft's axis", "no shaft of 10 mm passes", "cut a hole for the shaft"),
    ),
)


@pytest.mark.parametrize("case", CASES, ids=[case.code for case in CASES])
def test_finding(case: Case) -> None:
    case.check()


def overlaps(**placement: object) -> list[str]:
    return [
        sentence(f)
        for f in overlap_findings(survey(bracket_with(second_plate(**placement))))
        if "plates" in f.where
    ]


@pytest.mark.parametrize(
    "placement",
    [
        {"origin_mm": [0, 0, 6]},  # face on face
        {"origin_mm": [0, 0, -6.2]},
        {"origin_mm": [0, 0, 5.8]},  # 0.2 mm: a drawing a hair off
        {"origin_mm": [140, 0, 0]},  # edge to edge
        {"origin_mm": [76, 0, 0], "x_axis": [0, 0, 1]},  # square to it, against its edge
        {"origin_mm": [0, 0, 76], "x_axis": [0, 0, 1]},  # standing on its face
    ],
)
def test_touching_is_no_overlap(placement: dict[str, object]) -> None:
    assert overlaps(**placement) == []


@pytest.mark.parametrize(
    "placement",
    [
        {"origin_mm": [30, 150, 4]},
        {"origin_mm": [139, 160, 0]},
        {"origin_mm": [30, 150, 0], "x_axis": [0, 0, 1]},
        {"origin_mm": [0, 150, 50], "x_axis": [0.6, 0, 0.8]},
    ],
)
def test_the_place_that_is_told_lies_in_both_plates(placement: dict[str, object]) -> None:
    known = survey(bracket_with(second_plate(**placement)))
    bodies = [body for body in map(plate_body, known.shapes) if body is not None]
    (told,) = (f for f in overlap_findings(known) if f.code == "plates-overlap")
    at = np.array([[told.values[axis] for axis in "xyz"]])
    for body in bodies:
        # an edge of one of them may be what lies in the other
        assert depth_in_plate(body, at)[0] > 0.0 or np.linalg.norm(body.spots - at, axis=1).min() == 0.0
    assert max(depth_in_plate(body, at)[0] for body in bodies) == pytest.approx(told.values["deep_mm"])


@pytest.mark.parametrize(
    ("placement", "deep_mm"),
    [
        ({"origin_mm": [0, 0, 5.5]}, 0.5),
        ({"origin_mm": [0, 0, 4]}, 2.0),  # two of six millimetres in the same place
        ({"origin_mm": [139, 0, 0]}, 1.0),  # edges one millimetre in each other
        ({"origin_mm": [30, 60, 0], "x_axis": [0, 0, 1]}, 3.0),  # crossing like a T through the middle
        ({"origin_mm": [0, 0, 0]}, 3.0),  # the same plate twice
    ],
)
def test_overlap_is_told_with_its_depth(placement: dict[str, object], deep_mm: float) -> None:
    (told,) = overlaps(**placement)
    deep = float(told.split("they run ")[1].split(" mm")[0])
    assert 0.4 * deep_mm < deep <= deep_mm + 0.06
