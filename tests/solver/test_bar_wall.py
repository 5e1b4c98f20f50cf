"""A bolt to the dash bar goes through its wall, which is often thinner than the plate."""

from __future__ import annotations

import math

import pytest

from geometry.bar_section import FlatBar, RectangularTube, RoundTube, Section
from geometry.placing import place_bolts
from solver.bolt_checks import bolt_checks
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.evaluation import loaded
from solver.joint_rules import bearing_allowable_n
from solver.thin_sheet import PULLED_SOURCE
from solver.verdict import failures
from tests.brackets import NO_BEARINGS, one_piece, solved_once


def _bolts(section: Section) -> dict[str, ClampedBolt]:
    bracket = one_piece()
    assert bracket.dash_bar is not None
    bracket = bracket.but(dash_bar=bracket.dash_bar.but(section=section))
    return clamped_bolts(bracket, place_bolts(bracket))


def _tube(wall_mm: float) -> RectangularTube:
    return RectangularTube(width_mm=40, height_mm=40, wall_mm=wall_mm)


@pytest.mark.parametrize(("wall_mm", "share", "rule"), [(1.0, 0.5, PULLED_SOURCE), (3.0, 0.6 * math.pi, "")])
def test_the_wall_bears_and_is_pulled_through_where_it_is_weaker(
    wall_mm: float, share: float, rule: str
) -> None:
    """One row: 1.5 f_u d t / 1.25, EN 1993-1-8 3.6.1(10); under a head d_m t f_u / 1.25 by 0.6 pi or 0.5."""
    bolts = _bolts(_tube(wall_mm))
    to_bar, to_boss = bolts["4"], bolts["1"]
    assert to_bar.bearing_n == pytest.approx(1.5 * 360 * 8 * wall_mm / 1.25)
    assert to_bar.bearing_plate == to_bar.pulled_through == "the wall of dash bar"
    assert to_bar.pulled_through_n == pytest.approx(share * 13.65 * wall_mm * 360 / 1.25, rel=1e-4)
    assert to_bar.pull_through_rule == rule
    assert to_boss.bearing_plate == to_boss.pulled_through == "plate"


def test_a_bar_thicker_than_the_plate_changes_nothing() -> None:
    assert {b.bearing_plate for b in _bolts(FlatBar(width_mm=40, height_mm=40)).values()} == {"plate"}


def test_the_side_of_the_face_is_an_edge() -> None:
    """11 mm from the side of a 22 mm face, a 9 mm hole: alpha_b falls below the most."""
    narrow = _bolts(RectangularTube(width_mm=40, height_mm=22, wall_mm=3))["4"]
    by_table = bearing_allowable_n(800, 360, 8, 3, 9, e1_mm=11, e2_mm=11, p1_mm=35, p2_mm=35)
    assert narrow.bearing_n == pytest.approx(by_table)
    assert by_table < 1.5 * 360 * 8 * 3 / 1.25
    round_one = _bolts(RoundTube(outer_mm=40, wall_mm=3))["4"]
    assert round_one.bearing_n == pytest.approx(1.5 * 360 * 8 * 3 / 1.25)


@pytest.mark.parametrize("beyond_mm", [0.0, 3.0])
def test_a_wall_whose_end_cuts_the_hole_bears_nothing(beyond_mm: float) -> None:
    """EN 1993-1-8 table 3.4: alpha_b = e1 / 3 d0, and no e1 is left."""
    bracket = one_piece()
    assert bracket.dash_bar is not None
    _, *rest = bracket.dash_bar.from_mm
    cut = bracket.but(dash_bar=bracket.dash_bar.but(from_mm=(-60.0 + beyond_mm, *rest)))
    bolt = clamped_bolts(cut, place_bolts(cut))["4"]
    assert bolt.bearing_n == 0.0
    assert bolt.bearing_plate == "the wall of dash bar"


def test_a_thin_wall_fails_where_the_plate_would_hold() -> None:
    bracket = one_piece(column=NO_BEARINGS)
    assert bracket.dash_bar is not None
    bracket = bracket.but(
        dash_bar=bracket.dash_bar.but(section=_tube(0.8)), loads=bracket.loads.but(pull_n=1500)
    )
    whole = solved_once(bracket, 20.0)
    checks = {c.name: c for c in bolt_checks(whole, loaded(whole.states, whole.cases, 30.0))}
    assert any("bearing uses" in said for said in failures([checks["bearing"]], ()))
    assert "in the wall of dash bar" in checks["bearing"].note
    assert "through the wall of dash bar" in checks["pull-through"].note
