"""A hole that all but touches the edge: the edge counts, however near it comes to the hole's own rim."""

from __future__ import annotations

import pytest

from geometry.bracket import Bracket
from geometry.fixing import Anchor, AtAnchor, AtBoss
from geometry.placing import place_bolts
from geometry.plate import Hole
from solver.clamped_bolt import clamped_bolts, edge_distances_mm
from solver.stages import stage_on
from tests.brackets import NO_BEARINGS, WORD, bolt, boss, casing, meshed, rectangle

HALF_MM = 20.0
HOLE_MM = 9.0


def strip(web_mm: float) -> Bracket:
    """Return a strip on one anchor, the hole there so far from its edge, the casing at its other end."""
    x = HALF_MM - web_mm - HOLE_MM / 2.0
    holes = [
        Hole(name="a", centre_mm=(x, 80), diameter_mm=HOLE_MM),
        Hole(name="c", centre_mm=(0, 0), diameter_mm=HOLE_MM),
    ]
    return Bracket(
        plates=(rectangle("strip", (-HALF_MM, HALF_MM), (-20, 100), holes),),
        casing=casing([boss("c", (0, 0, 0))]),
        column=NO_BEARINGS,
        rake_deg=0,
        bolts=(
            bolt("a", "strip", AtAnchor(anchor="a")),
            bolt("c", "strip", AtBoss(boss="c")),
        ),
        anchors=(Anchor(name="a", word=WORD),),
    )


@pytest.mark.parametrize("web_mm", [0.12, 0.25, 1.5])
def test_the_nearest_edge_is_found_however_near(web_mm: float) -> None:
    bracket = strip(web_mm)
    edge, pitch = edge_distances_mm(bracket.plates[0], place_bolts(bracket))["a"]
    assert edge == pytest.approx(HOLE_MM / 2.0 + web_mm)
    assert pitch == pytest.approx(((HALF_MM - edge) ** 2 + 80.0**2) ** 0.5)
    section = next(s for s in meshed(bracket)[0].sections if s.bolt == "a")
    assert section.width_mm == pytest.approx(web_mm)


def test_a_web_that_bears_nothing_fails_in_bearing() -> None:
    """EN 1993-1-8 table 3.4: k_1 = 2.8 e2 / d0 - 1.7 is below nought for e2 of 4.75 mm and d0 of 9 mm."""
    bracket = strip(0.25)
    assert clamped_bolts(bracket, place_bolts(bracket))["a"].bearing_n == 0.0
    check = next(c for c in stage_on(bracket, meshed(bracket)).checked.checks if c.name == "bearing")
    assert check.where == "bolt a"
    assert check.used == float("inf")
