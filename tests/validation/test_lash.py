"""Lash: how far slipped bolts let the casing turn (kinematics, closed form)."""

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver.clamped_bolt import clamped_bolts
from solver.friction import lash_deg
from tests.brackets import STIFF_BEARINGS, bolt_group, linked, straps
from tests.validation.reference import agrees

SOURCE = "kinematics (closed form)"
EXACT = 1e-7


def clearances(bracket: Bracket) -> dict[str, float]:
    return {name: b.clearance_mm for name, b in clamped_bolts(bracket, place_bolts(bracket)).items()}


def test_two_straps() -> None:
    """Two straps, M8 in holes of 8.5 at both ends, 40 mm off the shaft: 2 c / a = 1.432 deg."""
    bracket = straps("side by side", hole_mm=8.5)
    linkage, _ = linked(bracket)
    turn = lash_deg(linkage, clearances(bracket))
    agrees(
        turn,
        np.degrees(2.0 * 0.5 / 40.0),
        EXACT,
        source=SOURCE,
        name="lash of two straps, c 0.5 mm, a 40 mm, deg",
    )


@pytest.mark.parametrize(("count", "radius", "hole"), [(3, 36.0, 9.0), (4, 50.0, 9.0), (6, 45.0, 8.4)])
def test_a_circle_of_bolts_turns_by_its_clearance_over_its_radius(
    count: int, radius: float, hole: float
) -> None:
    """A plate held fast, the casing on a circle of bolts: each way (D - d) / 2 R."""
    angles = 2.0 * np.pi * np.arange(count) / count + np.pi / 2.0
    around = [(float(radius * np.cos(a)), float(radius * np.sin(a))) for a in angles]
    corners = [(120.0, 120.0), (-120.0, 120.0), (-120.0, -120.0), (120.0, -120.0)]
    bracket = bolt_group(corners, casing_places_mm=around, casing_hole_mm=hole)
    linkage, _ = linked(bracket)
    tight = {name: 0.0 if name.startswith("g") else c for name, c in clearances(bracket).items()}
    turn = lash_deg(linkage, tight)
    published = np.degrees(2.0 * (hole - 8.0) / 2.0 / radius)
    agrees(turn, published, EXACT, source=SOURCE, name=f"lash of {count} bolts on {radius:g} mm, deg")


def test_no_clearance_no_lash_and_nothing_that_stops_it() -> None:
    # Straps that bearings keep from turning have none, whatever their holes; straps in line never stop.
    bracket = straps("side by side")
    linkage, _ = linked(bracket)
    agrees(
        lash_deg(linkage, dict.fromkeys(clearances(bracket), 0.0)),
        0.0,
        1e-6,
        source=SOURCE,
        name="lash without clearance, deg",
        scale=1.0,
    )
    swinging = straps("in line", column=STIFF_BEARINGS)
    assert lash_deg(linked(swinging)[0], clearances(swinging)) == float("inf")
