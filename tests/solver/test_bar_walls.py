"""A bolt bends the wall of a hollow dash bar, between the sides of the tube."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.bar_section import FlatBar, RectangularTube, RoundTube, Section
from geometry.placing import place_bolts
from solver.bar_walls import share_left
from solver.bolt_checks import bolt_checks
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.evaluation import loaded
from solver.how_sure import _through_thinner
from solver.plies import wall_name
from solver.results import Check
from solver.verdict import failures
from tests.brackets import NO_BEARINGS, one_piece, solved_once


def _tube(wall_mm: float) -> RectangularTube:
    return RectangularTube(width_mm=40, height_mm=40, wall_mm=wall_mm)


def _bolts(section: Section, **changes: object) -> dict[str, ClampedBolt]:
    bracket = one_piece()
    assert bracket.dash_bar is not None
    bolts = tuple(b.but(**changes) if b.joins.to == "dash bar" else b for b in bracket.bolts)
    bracket = bracket.but(dash_bar=bracket.dash_bar.but(section=section), bolts=bolts)
    return clamped_bolts(bracket, place_bolts(bracket))


def _check(wall_mm: float, pull_n: float) -> Check:
    bracket = one_piece(column=NO_BEARINGS)
    assert bracket.dash_bar is not None
    bar = bracket.dash_bar.but(section=_tube(wall_mm))
    whole = solved_once(bracket.but(dash_bar=bar, loads=bracket.loads.but(pull_n=pull_n)), 20.0)
    checks = bolt_checks(whole, loaded(whole.states, whole.cases, 30.0))
    return next(c for c in checks if c.name == "wall bending")


def test_a_square_tube_bears_as_under_a_plate_along_it() -> None:
    """f_y t^2 (2 h / b + 4 sqrt(1 - t / b)), EN 1993-1-8 table 7.13 (from memory); an M8 washer is 16 mm."""
    side = 16.0 / math.sqrt(2.0) / 40.0
    by_hand = 235.0 * 3.0**2 * (2.0 * side + 4.0 * math.sqrt(1.0 - side))
    bolts = _bolts(_tube(3.0), pad_diameter_mm=None)
    assert bolts["4"].wall_n == pytest.approx(by_hand)
    assert _bolts(_tube(1.5), pad_diameter_mm=None)["4"].wall_n == pytest.approx(by_hand / 4.0)
    assert math.isinf(bolts["1"].wall_n)


def test_a_round_tube_bears_as_under_a_plate_along_it() -> None:
    """5 f_y t^2 (1 + 0.25 h / d), EN 1993-1-8 table 7.3 (from memory), under a pad of 30 mm."""
    bolts = _bolts(RoundTube(outer_mm=40, wall_mm=2), pad_diameter_mm=30, pad_height_mm=1)
    side = 30.0 / math.sqrt(2.0) / 40.0
    assert bolts["4"].wall_n == pytest.approx(235.0 * 4.0 * 5.0 * (1.0 + 0.25 * side))


@pytest.mark.parametrize("section", [FlatBar(width_mm=40, height_mm=40), _tube(3.0)])
def test_what_is_solid_or_reaches_the_sides_does_not_bend(section: Section) -> None:
    pad = {"pad_diameter_mm": 50, "pad_height_mm": 5} if isinstance(section, RectangularTube) else {}
    assert all(math.isinf(b.wall_n) for b in _bolts(section, **pad).values())


def test_bolts_nearer_than_the_tube_is_wide_share_its_wall() -> None:
    bracket = one_piece()
    places = {p.bolt: p for p in place_bolts(bracket)}
    bolts = _bolts(_tube(3.0))
    for name in ("4", "5", "6", "7"):
        near = {
            other
            for other in ("4", "5", "6", "7")
            if other != name and math.dist(places[name].mating_mm, places[other].mating_mm) < 40.0
        }
        assert set(bolts[name].wall_beside) == near
    assert any(bolts[name].wall_beside for name in ("4", "5", "6", "7"))
    assert not bolts["1"].wall_beside


def test_what_the_bar_carries_takes_from_its_wall() -> None:
    """k_m = 1.3 (1 - n), k_p = 1 - 0.3 n (1 + n), at most 1 (from memory, to be verified)."""
    bar = one_piece().dash_bar
    assert bar is not None
    stress = np.array([0.0, 117.5, 235.0, 300.0])
    assert share_left(bar.but(section=_tube(3.0)), stress, 235.0) == pytest.approx([1.0, 0.65, 0.0, 0.0])
    tube = bar.but(section=RoundTube(outer_mm=40, wall_mm=2))
    assert share_left(tube, stress, 235.0) == pytest.approx([1.0, 0.775, 0.4, 0.4])


def test_a_thin_wall_yields_where_everything_else_holds() -> None:
    thick, thin = _check(3.0, 300.0), _check(1.0, 300.0)
    assert thin.demand == pytest.approx(thick.demand, rel=0.2)
    assert thin.allowable < thick.allowable / 8.5
    assert any("wall bending uses" in said for said in failures([thin], ()))


def test_a_wall_as_thin_as_it_may_be_bears_by_its_square() -> None:
    bracket = one_piece()
    assert bracket.dash_bar is not None
    bolts = _bolts(_tube(3.0))
    thin = _through_thinner(bolts, wall_name(bracket.dash_bar), 0.9, wall_share=0.9)
    assert thin["4"].wall_n == pytest.approx(0.81 * bolts["4"].wall_n)
    assert math.isinf(thin["1"].wall_n)
