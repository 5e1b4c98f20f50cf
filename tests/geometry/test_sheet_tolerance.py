"""How much thinner than ordered a sheet or a tube's wall may be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.bar_section import FlatBar, RectangularTube, RoundBar, RoundTube
from geometry.sheet_tolerance import (
    metal_kind,
    tolerance_mm,
    usual_tolerance_mm,
    usual_tolerance_of,
    wall_tolerance_mm,
)
from tests.brackets import one_piece

EN_10051 = {2: 0.17, 2.5: 0.18, 3: 0.20, 4: 0.22, 5: 0.24, 6: 0.26, 8: 0.29, 10: 0.32, 12.5: 0.35, 15: 0.37}
"""Hot-rolled steel strip up to 1200 mm wide (from memory, to be verified)."""
EN_485_3 = {4: 0.28, 5: 0.30, 6: 0.32, 8: 0.35, 10: 0.45, 15: 0.50, 20: 0.60}
"""Hot-rolled aluminium up to 1250 mm wide (from memory, to be verified)."""


@pytest.mark.parametrize("kind", ["steel", "stainless"])
@pytest.mark.parametrize("thickness_mm", EN_10051)
def test_steel_is_rolled_to_en_10051(kind: str, thickness_mm: float) -> None:
    assert usual_tolerance_mm(thickness_mm, kind) == EN_10051[thickness_mm]


@pytest.mark.parametrize("thickness_mm", EN_485_3)
def test_aluminium_is_rolled_to_en_485_3(thickness_mm: float) -> None:
    assert usual_tolerance_mm(thickness_mm, "aluminium") == EN_485_3[thickness_mm]


@given(st.floats(0.3, 60.0), st.floats(1.0, 1.5), st.sampled_from(["steel", "stainless", "aluminium"]))
def test_thicker_sheet_may_be_off_by_no_less_and_by_no_more_than_a_tenth(
    thickness_mm: float, rise: float, kind: str
) -> None:
    here, thicker = usual_tolerance_mm(thickness_mm, kind), usual_tolerance_mm(rise * thickness_mm, kind)
    assert 0.0 < here <= thicker
    assert here <= 0.1 * thickness_mm * (1.0 + 1e-12)


def test_what_the_plate_says_counts_before_what_is_usual() -> None:
    bracket = one_piece(thickness_mm=6.0)
    plate = bracket.plates[0]
    assert metal_kind(bracket, plate) == "steel"
    assert tolerance_mm(plate, "steel") == usual_tolerance_of(bracket, plate) == EN_10051[6]
    assert tolerance_mm(plate.but(thickness_tolerance_mm=0.05), "steel") == 0.05
    assert usual_tolerance_of(bracket, plate.but(material="5083-H111")) == EN_485_3[6]
    for unknown in (None, "unobtainable"):
        assert usual_tolerance_of(bracket, plate.but(material=unknown)) is None


def test_a_tubes_wall_may_be_thinner_by_a_tenth_up_to_half_a_millimetre() -> None:
    """EN 10219-2: 10 % up to 5 mm of wall, 0.5 mm above (from memory, to be verified)."""
    for wall_mm, off_mm in ((1.5, 0.15), (3.0, 0.3), (5.0, 0.5), (8.0, 0.5)):
        assert wall_tolerance_mm(RoundTube(outer_mm=60, wall_mm=wall_mm)) == pytest.approx(off_mm)
        tube = RectangularTube(width_mm=60, height_mm=60, wall_mm=wall_mm)
        assert wall_tolerance_mm(tube) == pytest.approx(off_mm)
    assert (
        wall_tolerance_mm(RoundBar(outer_mm=30)) == wall_tolerance_mm(FlatBar(width_mm=30, height_mm=10)) == 0
    )
