"""Thread of bolt and boss: limits of ISO 965-1 and areas of FED-STD-H28/2."""

from __future__ import annotations

import math

import pytest

from geometry.bolt_tables import bolt_size
from solver.thread_rules import stripping, stripping_areas_mm2
from tests.validation.reference import agrees

LIMITS = {
    # outer 6g, pitch 6g, inner 6H, pitch 6H: the rounded limits of ISO 965-2
    "M5": (4.826, 4.361, 4.334, 4.605),
    "M6": (5.794, 5.212, 5.153, 5.500),
    "M8": (7.760, 7.042, 6.912, 7.348),
    "M10": (9.732, 8.862, 8.676, 9.206),
    "M12": (11.701, 10.679, 10.441, 11.063),
}
SOURCE = "FED-STD-H28/2 areas by ISO 965-2 limits 6g and 6H (from memory, to be verified)"


@pytest.mark.parametrize("name", LIMITS)
def test_areas_of_a_millimetre_of_thread(name: str) -> None:
    """2 %: limits are rounded in the tables, and the program takes their formulas."""
    size = bolt_size(name)
    outer, pitch, inner, boss_pitch = LIMITS[name]
    turns, half = 1.0 / size.pitch_mm, size.pitch_mm / 2.0
    slope = math.tan(math.radians(30.0))
    boss = math.pi * turns * outer * (half + slope * (outer - boss_pitch))
    bolt = math.pi * turns * inner * (half + slope * (pitch - inner))
    computed = stripping_areas_mm2(size, 1.0)
    agrees(computed[0], boss, 0.02, source=SOURCE, name=f"{name} boss's thread, mm2 a mm")
    agrees(computed[1], bolt, 0.02, source=SOURCE, name=f"{name} bolt's thread, mm2 a mm")


def test_what_a_nut_of_a_bolt_bears() -> None:
    """M10 in 8.4 mm of 800 MPa, both: f_u / sqrt(3) on an area of 15.52 mm2 a mm."""
    agrees(
        stripping(bolt_size("M10"), 8.4, 800.0, 800.0).bolt_n,
        8.4 * 15.52 * 800.0 / math.sqrt(3.0),
        0.02,
        source="f_u / sqrt(3) on the area of ISO 965-2 limits (closed form)",
        name="M10 8.8 thread in 8.4 mm, N",
    )
