"""Copper, gauges and the drop of a cable there and back."""

from __future__ import annotations

import pytest

from geometry.installation import Cable, Wiring
from solver.around.cable_tables import gauge_area_mm2, rating_a, resistance_ohm_per_m
from solver.around.wiring import drop_by_hand_v, drop_v
from tests.validation.reference import agrees

DROP = "65 A over 4 + 4 m, own independent calculation (closed form)"
IEC = "IEC 60228 class 5, plain (from memory, to be verified)"
GAUGE = "American wire gauge, ASTM B258 (from memory, to be verified)"
RATING = "DIN VDE 0298-4 (from memory, to be verified)"


def _wiring(area: float) -> Wiring:
    cable = Cable(length_m=4.0, area_mm2=area)
    return Wiring(current_a=65.0, feed=cable, back=cable)


def test_drop_of_65_amperes() -> None:
    thin, thick = drop_by_hand_v(_wiring(6.0)), drop_v(_wiring(16.0), 20.0)
    assert thin is not None
    assert thick is not None
    agrees(thin, 1.5, 0.01, source=DROP, name="6 mm2, solid copper, V")
    agrees(thick, 0.6, 0.01, source=DROP, name="16 mm2, greatest of the table at 20 C, V")


@pytest.mark.parametrize(
    ("area", "milliohm"), [(1.5, 13.3), (4.0, 4.95), (6.0, 3.30), (16.0, 1.21), (35.0, 0.554)]
)
def test_resistance_lies_near_the_other_standard(area: float, milliohm: float) -> None:
    # the two standards differ by up to 5 % for the same section
    cold = 1000.0 * resistance_ohm_per_m(area, 20.0)
    agrees(cold, milliohm, 0.05, source=IEC, name=f"{area:g} mm2, milliohm/m")


@pytest.mark.parametrize(("gauge", "area"), [(12, 3.31), (8, 8.37), (4, 21.15), (0, 53.5), (-1, 67.4)])
def test_gauge_areas(gauge: int, area: float) -> None:
    agrees(gauge_area_mm2(gauge), area, 0.002, source=GAUGE, name=f"gauge {gauge}, mm2")


def test_ratings() -> None:
    agrees(rating_a(6.0, 70.0, 30.0, 1), 54.0, 0.0, source=RATING, name="6 mm2 alone in air of 30 C, A")
    agrees(rating_a(6.0, 70.0, 50.0, 1), 0.71 * 54.0, 0.01, source=RATING, name="6 mm2 in air of 50 C, A")
    agrees(
        rating_a(16.0, 70.0, 30.0, 3), 0.7 * 98.0, 0.0, source=RATING, name="16 mm2, three side by side, A"
    )
