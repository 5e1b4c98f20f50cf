"""Findings about welds: the example with an upright rib welded to the front of its plate."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from geometry.findings import findings_of
from geometry.input_hash import LATER
from geometry.weld_places import place_welds
from tests.geometry.example_bracket import example_bracket
from tests.geometry.finding_case import Case, Data, both, bracket_with, params, put

RIB: dict[str, Any] = {
    "name": "rib",
    "material": "S235",
    "thickness_mm": 5,
    "outline": [{"at_mm": [0, 0]}, {"at_mm": [100, 0]}, {"at_mm": [100, 15]}, {"at_mm": [0, 30]}],
    "placement": {
        "origin_mm": [60, -30, 6],
        "x_axis": [0, 1, 0],
        "y_axis": [0, 0, 1],
        "origin_on": "middle",
    },
}
WELD: dict[str, Any] = {
    "name": "w",
    "plate": "rib",
    "from_mm": [0, 0],
    "to_mm": [100, 0],
    "joins": {"to": "plate", "plate": "main"},
    "throat_mm": 3,
    "seen_by": "the welder",
}
OWN: dict[str, Any] = {
    "name": "own", "kind": "steel", "yield_mpa": 600, "tensile_mpa": 700, "elastic_modulus_mpa": 210000,
    "poisson": 0.3, "density_kg_m3": 7850, "source": "the mill's sheet",
}  # fmt: skip
FOLD: dict[str, Any] = {
    "name": "lip", "from_mm": [-5, 14], "to_mm": [105, 14], "inside_radius_mm": 6, "k_factor": 0.4,
}  # fmt: skip


def _ribbed(data: Data) -> None:
    data["plates"].append({**RIB, "outline": list(RIB["outline"])})
    data["welds"] = [dict(WELD)]


def _with(*makes: Callable[[Data], object]) -> Callable[[Data], object]:
    return both(_ribbed, *makes)


def rib_at(x_mm: float) -> Callable[[Data], object]:
    """Return what stands the rib up with its middle at another place across the plate."""
    return _with(_standing(origin_mm=[x_mm, -30, 6]))


def rib_with(weld: dict[str, Any], x_mm: float) -> Callable[[Data], object]:
    """Return what stands it there with another weld."""
    return both(rib_at(x_mm), put("welds", to=[weld]))


def _weld(key: str, to: object) -> Callable[[Data], object]:
    return put("welds", 0, key, to=to)


def _rib(key: str, to: object) -> Callable[[Data], object]:
    return put("plates", 1, key, to=to)


def _standing(**changes: object) -> Callable[[Data], object]:
    return _rib("placement", {**RIB["placement"], **changes})


def _on_bar(data: Data) -> None:
    """Stand the rib on the middle of the bar's upper face, its own edge along it."""
    data["welds"][0]["joins"] = {"to": "dash bar"}
    data["plates"][1]["placement"] = {
        "origin_mm": [80, 135, 31],
        "x_axis": [1, 0, 0],
        "y_axis": [0, 1, 0],
        "origin_on": "middle",
    }


def _on_anchor(metal: str) -> Callable[[Data], object]:
    def make(data: Data) -> None:
        data["anchors"] = [{"name": "post", "at_mm": [60, 0, 6], "word": "invented", "metal": metal}]
        data["welds"][0]["joins"] = {"to": "anchor", "anchor": "post"}

    return make


_SHORT = both(_weld("from_mm", [30, 0]), _weld("to_mm", [60, 0]))

CASES = [
    Case("weld-plate-unknown", "stop", _with(_weld("plate", "ribb")), "weld w", ("ribb", "did you mean rib?"),
         alone=False),
    Case("weld-partner-unknown", "stop", _with(put("welds", 0, "joins", to={"to": "plate", "plate": "mian"})),
         "weld w", ("no plate mian", "did you mean main?"), alone=False),
    Case("weld-to-itself", "stop", _with(put("welds", 0, "joins", to={"to": "plate", "plate": "rib"})),
         "weld w", ("plate rib is welded to itself",), alone=False),
    Case("weld-no-length", "stop", _with(_weld("to_mm", [0, 0])), "weld w", ("give both ends",)),
    Case("weld-off-outline", "stop", _with(_weld("from_mm", [0, 3])), "weld w",
         ("(0, 3) to (100, 0)", "outline of rib", "put both ends on one")),
    Case("weld-across-fold", "stop",
         _with(_rib("folds", [{**FOLD, "from_mm": [50, -5], "to_mm": [50, 35]}])), "weld w",
         ("bend zone of fold lip", "end it on the flat"), alone=False),
    Case("weld-near-fold", "rule", _with(_rib("folds", [{**FOLD, "inside_radius_mm": 5}]),
         _rib("outline", [{"at_mm": [0, 0]}, {"at_mm": [100, 0]}, {"at_mm": [100, 40]}, {"at_mm": [0, 40]}])),
         "weld w", ("of fold lip of plate rib", "1.0 t", "thicker than 4 mm", "25 mm off"), alone=False),
    Case("weld-over-fold", "stop",
         _with(put("plates", 0, "folds", to=[{"name": "crease", "from_mm": [-75, 50], "to_mm": [75, 50],
                                             "angle_deg": 1, "inside_radius_mm": 60, "k_factor": 0.5}])),
         "weld w", ("over fold crease of plate main",), alone=False),
    Case("blank-weld-size", "doubt", _with(_weld("throat_mm", None)), "weld w", ("its size is blank",)),
    Case("weld-size-twice", "doubt", _with(_weld("leg_mm", 3)), "weld w",
         ("a throat of 3 mm and a leg of 3 mm", "give one")),
    Case("weld-passes-by", "stop", _with(_standing(origin_mm=[60, 60, 6])), "weld w",
         ("meets nothing of plate main", "move the plate"), alone=False),
    Case("weld-gap", "doubt", _with(_standing(origin_mm=[60, -30, 7])), "weld w",
         ("1.00 mm off plate main", "0.80 mm can be bridged")),
    Case("weld-runs-in", "doubt", _with(_standing(origin_mm=[60, -30, 5])), "weld w",
         ("1.00 mm into plate main", "move it back"), alone=False),
    Case("weld-steep", "doubt", _with(_standing(y_axis=[1, 0, 1])), "weld w",
         ("leans 45 deg", "set it upright"), alone=False),
    Case("weld-tilted", "rule", _with(_standing(y_axis=[0.2, 0, 1])), "weld w",
         ("leans 11 deg", "set it upright"), alone=False),
    Case("weld-too-short", "doubt", _with(_SHORT), "weld w",
         ("24.0 mm of it count", "shorter than 30 mm", "make it longer")),
    Case("weld-thin", "rule", _with(_weld("throat_mm", 2)), "weld w", ("a throat of 2 mm is below 3 mm",)),
    Case("weld-too-large", "rule", _with(_weld("throat_mm", 4)), "weld w",
         ("a throat of 4 mm on sheet of 5 mm", "make it 3.5 mm")),
    Case("weld-one-sided", "rule", _with(_weld("sides", "front")), "weld w", ("weld both sides",)),
    Case("weld-aluminium", "rule", _with(_rib("material", "5083-H111"),
         put("plates", 0, "material", to="5083-H111")), "weld w", ("use steel, or bolt it",), alone=False),
    Case("weld-stainless", "note", _with(_rib("material", "1.4301")), "weld w", ("beta_w 1",), alone=False),
    Case("weld-hardening", "rule", _with(_rib("material", "4130 normalised")), "weld w",
         ("4130 normalised may harden",)),
    Case("weld-too-strong", "doubt", _with(_rib("material", "own"), put("materials", to=[OWN])), "weld w",
         ("own yields at 600 MPa", "above 460 MPa steel", "softer metal")),
    Case("weld-unlike", "doubt", _with(_rib("material", "5083-H111")), "weld w",
         ("aluminium and steel", "bolt them"), alone=False),
    Case("weld-bar-wall", "doubt", _with(_on_bar), "weld w", ("wall of 3 mm", "move it to a corner"),
         alone=False),
    Case("weld-twice", "doubt", _with(lambda data: data["welds"].append({**WELD, "name": "v"})), "weld w",
         ("weld v is on the same part",)),
    Case("weld-unseen", "rule", _with(_weld("seen_by", None)), "weld w", ("nobody is named",)),
]  # fmt: skip


@pytest.mark.parametrize("case", params(CASES))
def test_finding(case: Case) -> None:
    case.check()


def _codes(*makes: Callable[[Data], object]) -> set[str]:
    """Return the codes found, but for the rib's leading to no casing once it leaves the plate."""
    return {f.code for f in findings_of(bracket_with(_with(*makes)))} - {"plate-one-sided"}


def test_a_rib_that_is_welded_right_is_not_found_fault_with() -> None:
    assert findings_of(bracket_with(_ribbed)) == ()


def test_a_weld_along_the_corner_of_the_bar_bends_no_wall() -> None:
    def make(data: Data) -> None:
        _on_bar(data)
        data["plates"][1]["placement"]["origin_mm"] = [80, 135, 52]

    # The bar's wall of 3 mm is what limits the weld there.
    assert _codes(make) == {"weld-too-large"}


def test_a_fold_of_the_partner_may_be_too_near_as_well() -> None:
    fold = {"name": "lip", "from_mm": [-75, 86], "to_mm": [75, 86], "inside_radius_mm": 6, "k_factor": 0.4}
    assert "weld-near-fold" in _codes(put("plates", 0, "folds", to=[fold]))


def test_an_anchor_of_cast_metal_takes_no_weld_of_steel() -> None:
    assert _codes(_on_anchor("cast iron")) == {"weld-unlike"}
    assert _codes(_on_anchor("steel")) == set()


def test_a_weld_off_its_anchor_is_told() -> None:
    move = put("anchors", 0, "at_mm", to=[60, 90, 6])
    assert _codes(_on_anchor("steel"), move) == {"weld-passes-by"}


def test_no_more_than_the_thinner_part_counts_as_throat() -> None:
    (place,) = place_welds(bracket_with(_with(_weld("throat_mm", 30))))
    assert place.throat_mm == 5.0


def test_where_a_rib_stands() -> None:
    (place,) = place_welds(bracket_with(_ribbed))
    assert place.partner_side == "front"
    assert place.frame[:, 1].tolist() == [0.0, 0.0, -1.0]
    assert place.frame[:, 2].tolist() == [1.0, 0.0, 0.0]
    assert sorted(place.ends_mm[:, 1].tolist()) == [-30.0, 70.0]
    assert sorted(at[1] for at in place.partner_flat_mm or ()) == pytest.approx([-30.0, 70.0])
    assert abs(place.gaps_mm).max() == pytest.approx(0.0, abs=1e-9)
    assert len(place.segments) == 8
    assert sum(segment.length_mm for segment in place.segments) == pytest.approx(100.0)


def test_a_file_without_welds_keeps_its_hash() -> None:
    assert ("welds", []) in LATER
    bracket = example_bracket()
    assert bracket.but(welds=()).input_hash() == bracket.input_hash()
    assert bracket_with(_ribbed).but(plates=bracket.plates).input_hash() != bracket.input_hash()


def test_a_weld_to_an_anchor_that_is_not_there_is_told() -> None:
    post = {"to": "anchor", "anchor": "pots"}
    assert "weld-partner-unknown" in _codes(both(_on_anchor("steel"), _weld("joins", post)))


def test_the_throat_of_a_leg_is_the_height_of_a_right_triangle_of_equal_sides() -> None:
    """EN 1993-1-8 4.5.2 (from memory, to be verified): height to the root, leg over root 2."""
    weld = bracket_with(_with(_weld("throat_mm", None), _weld("leg_mm", 5.0))).welds[0]
    assert weld.size_mm == pytest.approx(5.0 * math.sin(math.radians(45.0)))
