"""Bolts whose head or washer would stand on a fillet: told, by the size of the fillet (closed form).

The rib of test_findings_welds, 5 mm thick, stands on the front of the plate with throats of 3 mm. The legs of
such a right-angled triangle are 3 root 2 = 4.24 mm, so its toes lie 2.5 + 4.24 mm off the rib's middle; the
M8's washer beside it is 16 mm across (ISO 7089).
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.findings import findings_of
from tests.geometry.finding_case import Case, findings_with, params
from tests.geometry.test_findings_welds import WELD, rib_at, rib_with

SAMPLES = Path(__file__).parents[2] / "sample_brackets"
TOE_MM = 2.5 + 3.0 * math.sqrt(2.0)
CASES = [
    Case(
        "footprint-over-weld",
        "doubt",
        rib_at(52.0),
        "bolt 2",
        (f"reaches {40 + 8 - (52 - TOE_MM):.1f} mm onto weld w at hole right of plate main", "move the hole"),
    ),
]


@pytest.mark.parametrize("case", params(CASES))
def test_a_bolt_on_a_fillet_is_told(case: Case) -> None:
    case.check()


def test_a_washer_beside_the_toe_stands_on_the_sheet() -> None:
    assert findings_with(rib_at(40.0 + 8.0 + TOE_MM + 0.1)) == ()


@pytest.mark.parametrize(("sides", "told"), [("front", False), ("back", True)])
def test_where_one_side_alone_is_welded_only_that_side_has_a_fillet(sides: str, told: bool) -> None:
    """The rib's front looks away from the bolt."""
    codes = {f.code for f in findings_with(rib_with(WELD | {"sides": sides}, 52.0))}
    assert ("footprint-over-weld" in codes) == told


@pytest.mark.parametrize(("edge_mm", "told"), [(17.7, False), (17.0, True)])
def test_the_welded_sheet_has_the_fillet_on_its_own_faces_too(edge_mm: float, told: bool) -> None:
    """Throats of 4 mm, so legs of 5.66 mm; the face of the boss is 24 mm across: 17.66 mm together."""
    bracket = _sluice(52.0 + edge_mm)
    found = [f for f in findings_of(bracket) if f.code == "footprint-over-weld"]
    assert [f.where for f in found] == (["bolt 1"] if told else [])


def _sluice(top_mm: float) -> Bracket:
    """Return the sample with its welded edge, foot and bar lower, over the boss at 52 mm."""
    bracket = read_bracket(SAMPLES / "sluice_welded.bracket.json").bracket
    assert bracket is not None
    assert bracket.dash_bar is not None
    casing, foot = bracket.plates
    by = top_mm - 90.0
    corners = [c.but(at_mm=(c.at_mm[0], c.at_mm[1] + by)) if c.at_mm[1] > 80.0 else c for c in casing.outline]
    (weld,) = bracket.welds
    x, y, z = foot.placement.origin_mm
    ends = [(a, b + by, c) for a, b, c in (bracket.dash_bar.from_mm, bracket.dash_bar.to_mm)]
    return bracket.but(
        plates=(
            casing.but(outline=tuple(corners)),
            foot.but(placement=foot.placement.but(origin_mm=(x, y + by, z))),
        ),
        welds=(weld.but(from_mm=(weld.from_mm[0], top_mm), to_mm=(weld.to_mm[0], top_mm)),),
        dash_bar=bracket.dash_bar.but(from_mm=ends[0], to_mm=ends[1]),
    )
