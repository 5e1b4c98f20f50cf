"""Findings about loads, limits and the stored result, and figures that look like another unit."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from geometry.findings_magnitudes import COUPLE_UNITS, unit_hint
from tests.geometry.example_bracket import example_bracket
from tests.geometry.finding_case import Case, Data, both, findings_with, params, put


def couple(couple_nm: float | None) -> Callable[[Data], object]:
    return put("loads", "couple", "couple_nm", to=couple_nm)


def own_figures() -> dict[str, object]:
    return {
        "name": "own",
        "kind": "steel",
        "yield_mpa": 240,
        "tensile_mpa": 370,
        "elastic_modulus_mpa": 210000,
        "poisson": 0.3,
        "density_kg_m3": 7850,
        "source": "pulled",
    }


def own(**figures: float) -> Callable[[Data], object]:
    return put("materials", to=[own_figures() | figures])


CLAIM = {"hash": "0" * 64, "verdict": "pass", "version": "1.0", "date": "2026-01-02"}

CASES = [
    Case(
        "blank-couple",
        "doubt",
        couple(None),
        "loads, couple",
        ("couple is blank (stated, figure not given)", "measure it"),
    ),
    Case(
        "couple-no-word",
        "doubt",
        put("loads", "couple", to={"source": "stated", "couple_nm": 30, "by": " "}),
        "loads, couple",
        ("nobody is named who states the couple of 30 N.m", "measure it"),
    ),
    Case(
        "couple-zero",
        "doubt",
        put("loads", "couple", to={"source": "torque meters", "output_nm": 20, "input_nm": 20}),
        "loads, couple",
        ("comes to 0 N.m (measured by torque meters)", "check the readings"),
    ),
    Case(
        "couple-cancels",
        "doubt",
        put("loads", "couple", to={"source": "torque meters", "output_nm": 330, "input_nm": 300}),
        "loads, couple",
        ("of 30 N.m that are left between them 55% may be missing", "a load cell instead"),
    ),
    Case(
        "blank-wheel", "doubt", put("wheel", to=None), "wheel", ("the wheel is blank", "diameter and station")
    ),
    Case(
        "wheel-below-casing",
        "doubt",
        put("wheel", "station_mm", to=-20),
        "wheel",
        ("its station is -20 mm and the casing reaches up to 0 mm", "toward the driver"),
    ),
    Case(
        "blank-rake", "doubt", put("rake_deg", to=None), "bracket", ("the rake is blank", "angle above level")
    ),
    Case(
        "limit-low",
        "doubt",
        put("limits", to={"yield_factor": 0.5}),
        "limits",
        ("yield over allowable stress is 0.5, below 1", "give at least 1"),
        alone=False,
    ),
    Case(
        "limit-low",
        "doubt",
        put("limits", to={"slip_factor": 0.9}),
        "limits",
        ("the factor on slip is 0.9, below 1",),
        alone=False,
    ),
    Case(
        "size-absurd",
        "doubt",
        put("casing", "bosses", 0, "tensile_mpa", to=1200),
        "boss a",
        ("the tensile strength of its cast aluminium is 1200 MPa", "80 to 450 is usual"),
    ),
    Case(
        "factor-low",
        "doubt",
        put("loads", "factor", to=0.5),
        "loads",
        ("factor on the couple is 0.5", "at least 1"),
    ),
    Case(
        "wheel-near-casing",
        "doubt",
        put("wheel", "station_mm", to=16.5),
        "wheel",
        ("its station is 16.5 mm and the casing reaches up to 0 mm", "50 mm off and more", "check the unit"),
        alone=False,
    ),
    Case(
        "pull-small",
        "doubt",
        put("loads", "pull_n", to=30),
        "loads",
        (
            "driver's pull is 30 N, and a hand on the wheel pulls 100 N and more; it would be 294 N if it was"
            " given in kgf or 133 N if it was given in lbf; check the unit (N)",
            "may fold under a pull",
        ),
        alone=False,
    ),
    Case(
        "back-driving-lossless",
        "doubt",
        put("loads", "couple", to={"source": "motor", "motor_nm": 2.0, "ratio": 18, "back_driving": True}),
        "loads, couple",
        ("driven back", "losses add to the couple", "efficiency is 1"),
        alone=False,
    ),
    Case(
        "weight-small",
        "doubt",
        put("loads", "weight_g", to=0.3),
        "loads",
        ("weight counted is 0.3 g", "what always hangs there", "at least 1"),
        alone=False,
    ),
    Case(
        "blank-other-load",
        "doubt",
        put("loads", "other", to={"kerb": {"ratio": 18, "rotor_kgcm2": 1.2}}),
        "loads",
        ("kerb strike is half given: the shaft's speed and the stiffness of the shaft in twist blank",),
    ),
    Case(
        "size-absurd",
        "doubt",
        put("loads", "other", to={"lock": {"torque_nm": 200_000}}),
        "loads",
        ("the steering lock's torque is 200000 N.m", "30 to 600 is usual, check the unit"),
    ),
    Case("factor-looser", "note", put("loads", "factor", to=1.5), "loads", ("is 1.5 where 2 is usual",)),
    Case(
        "load-looser",
        "note",
        put("loads", "pull_n", to=100),
        "loads",
        ("driver's pull is 100 where 300 is usual",),
    ),
    Case(
        "limit-looser",
        "note",
        put("limits", to={"turn_deg": 0.5}),
        "limits",
        ("turn_deg is 0.5, looser than the usual 0.1",),
    ),
    Case(
        "claim-stale",
        "note",
        put("claim", to=CLAIM),
        "claim",
        ("stored result (pass, 2026-01-02)", "is stale"),
    ),
    Case(
        "couple-unit",
        "doubt",
        couple(30000),
        "loads, couple",
        ("30000 N.m is not that of a steering-assist unit", "30 N.m if it was given in N.mm"),
    ),
    Case(
        "couple-unusual",
        "note",
        couple(7),
        "loads, couple",
        ("7 N.m is unusual", "68.6 N.m if it was given in kgf.m"),
    ),
    Case(
        "mass-absurd",
        "doubt",
        put("casing", "mass_kg", to=8500),
        "casing",
        ("mass is 8500 kg", "8.5 kg if it was given in g"),
    ),
    Case(
        "stiffness-absurd",
        "doubt",
        put("column", "bearings", 0, "stiffness_n_per_mm", to=[2000, 2e7]),
        "bearing upper",
        ("2e+07 N/mm is outside 10 to 1e+06", "2e+04 N/mm if it was given in N/m"),
    ),
    Case(
        "stiffness-absurd",  # 300 to 500 N/mm, typed in N/m
        "doubt",
        put("column", "bearings", 0, "stiffness_n_per_mm", to=[3e5, 5e5]),
        "bearing upper",
        ("300000 N/mm is outside 10 to 100000", "300 N/mm if it was given in N/m"),
    ),
    Case(
        "stiffness-zero",
        "note",
        put("column", "bearings", 0, "stiffness_n_per_mm", to=[0, 2000]),
        "bearing upper",
        ("least stiffness is 0",),
    ),
    Case(
        "place-far",
        "doubt",
        put("wheel", "station_mm", to=4200),
        "wheel",
        ("4200 mm from the origin", "check the unit"),
    ),
    Case(
        "size-absurd",
        "doubt",
        put("wheel", "diameter_mm", to=38),
        "wheel",
        ("diameter is 38 mm; 200 to 600 is usual",),
    ),
    Case(
        "material-figure-absurd",
        "doubt",
        own(elastic_modulus_mpa=210),
        "material own",
        ("elastic modulus of 210 MPa is not that of steel", "check the unit"),
    ),
    Case(
        "tolerance-absurd",
        "doubt",
        put("plates", 0, "thickness_tolerance_mm", to=3),
        "plate main",
        ("may be 3 mm thinner than its", "check the unit"),
    ),
    Case(
        "material-in-table",
        "doubt",
        own(name="s 235"),
        "material s 235",
        ("the table has a material called s 235", "give this one another name"),
    ),
    Case(
        "material-strengths",
        "doubt",
        own(yield_mpa=400),
        "material own",
        ("yield 400 MPa is above its tensile strength 370",),
    ),
    Case(
        "material-no-source",
        "doubt",
        put("materials", to=[own_figures() | {"source": " "}]),
        "material own",
        ("nobody says where its figures come from", "write down"),
    ),
    Case(
        "material-spread",  # 410 with a digit too many
        "doubt",
        own(tensile_mpa=1410),
        "material own",
        ("tensile strength 1410 MPa is 5.9 times its yield 240", "more than any steel has"),
    ),
    Case(
        "material-beyond-rules",
        "doubt",
        both(
            put("materials", to=[own_figures() | {"yield_mpa": 900, "tensile_mpa": 1000}]),
            put("plates", 0, "material", to="Own"),
        ),
        "material own",
        ("yield of 900 MPa is above the 700 MPa", "EN 1993-1-12", "take a milder one"),
    ),
    Case(
        "scatter-too-sure",
        "doubt",
        put("bolts", 0, "scatter", to=0.05),
        "bolt 1",
        ("off by 5 % at most", "16 % is the least", "take 25 %"),
    ),
    Case(
        "scatter-too-sure",
        "doubt",
        put("bolts", 0, "scatter", to=0.155),
        "bolt 1",
        ("off by 15.5 % at most", "16 % is the least"),
    ),
    Case(
        "preload-too-sure",
        "doubt",
        put("bolts", 0, "preload_n", to=[14000, 15000]),
        "bolt 1",
        ("between 14000 and 15000 N", "1.1 times its low one", "give the range"),
    ),
    Case(
        "friction-absurd",
        "doubt",
        put("bolts", 0, "face_friction", to=0.9),
        "bolt 1",
        ("face friction of 0.9 is outside 0.05 to 0.5",),
    ),
    Case(
        "preload-absurd",
        "doubt",
        put("bolts", 0, "preload_n", to=[12000, 180000]),
        "bolt 1",
        ("preload of 180000 N would stress M8 to 491", "check the unit"),
    ),
    Case(
        "tightening-absurd",
        "doubt",
        put("bolts", 0, "tightening_nm", to=240),
        "bolt 1",
        (
            "240 N.m would stress M8 to about 4097 MPa, too much for any grade",
            "23.5 N.m if it was given in kgf.cm",
        ),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()


@pytest.mark.parametrize(
    ("typed", "codes"),
    [
        (30, set()),
        (10, set()),
        (100, set()),
        (7, {"couple-unusual"}),
        (150, {"couple-unusual"}),
        (3, {"couple-unit"}),
        (350, {"couple-unit"}),
    ],
)
def test_couples_inside_and_outside_the_usual(typed: float, codes: set[str]) -> None:
    assert {f.code for f in findings_with(couple(typed))} == codes


def test_hints_convert_as_the_units_do() -> None:
    # The international inch and pound and standard gravity are exact by definition.
    inch, pound, gravity = 0.0254, 0.45359237, 9.80665
    assert COUPLE_UNITS["lbf.in"] == pytest.approx(inch * pound * gravity, rel=1e-6)
    assert COUPLE_UNITS["lbf.ft"] == pytest.approx(12 * inch * pound * gravity, rel=1e-6)
    assert COUPLE_UNITS["kgf.cm"] == pytest.approx(gravity / 100)
    assert "39.5 N.m if it was given in lbf.in" in unit_hint(350, "N.m", COUPLE_UNITS, (10, 100))
    assert "29.4 N.m if it was given in kgf.m" in unit_hint(3, "N.m", COUPLE_UNITS, (10, 100))
    assert unit_hint(1e-6, "N.m", COUPLE_UNITS, (10, 100)) == ""


def test_a_claim_with_the_right_hash_is_not_stale() -> None:
    claim = {**CLAIM, "hash": example_bracket().input_hash()}
    assert findings_with(put("claim", to=claim)) == ()


def test_every_looser_limit_is_flagged_and_a_tighter_one_is_not() -> None:
    found = findings_with(put("limits", to={"movement_mm": 0.5, "yield_factor": 1.2, "turn_deg": 0.05}))
    assert {f.values["limit"] for f in found} == {"movement_mm", "yield_factor"}


def test_every_blank_is_its_own_finding() -> None:
    blank = both(
        couple(None),
        put("wheel", to=None),
        put("rake_deg", to=None),
        put("column", to={}),
        put("plates", 0, "material", to=None),
        *(
            put("bolts", i, key, to=None)
            for i in range(4)
            for key in ("grade", "tightening_nm", "face_friction")
        ),
    )
    found = findings_with(blank)
    assert len(found) == 5 + 12
    assert all(f.is_blank and f.bars_verdict for f in found)
