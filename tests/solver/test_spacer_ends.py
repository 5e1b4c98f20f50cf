"""A spacer yields, or sinks into what it stands on, before it clamps more than that bears."""

from __future__ import annotations

import math

import pytest

from geometry.bracket import Bracket
from geometry.fixing import Spacer
from geometry.placing import place_bolts
from solver.bolt_checks import bolt_checks
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.evaluation import loaded
from solver.spacer_ends import borne_by_spacer
from tests.brackets import one_piece, solved_once

HOLE_MM = 9.0


def _spaced(outer_mm: float, material: str = "S235", **boss: object) -> Bracket:
    """Return the one piece with spacers of 10 mm and a bore of 9 mm at its bosses, under steel as a rule."""
    bracket = one_piece()
    casing = bracket.casing
    assert casing is not None
    spacer = Spacer(outer_mm=outer_mm, inner_mm=HOLE_MM, length_mm=10, material=material)
    given: dict[str, object] = {"metal": "steel", "tensile_mpa": 600, **boss}
    bosses = tuple(b.but(at_mm=(*b.at_mm[:2], -10.0), **given) for b in casing.bosses)
    bolts = tuple(b.but(spacer=spacer) if b.joins.to == "boss" else b for b in bracket.bolts)
    return bracket.but(casing=casing.but(bosses=bosses), bolts=bolts)


def _first(bracket: Bracket) -> ClampedBolt:
    return clamped_bolts(bracket, place_bolts(bracket))["1"]


def _area_mm2(outer_mm: float) -> float:
    return math.pi / 4.0 * (outer_mm**2 - HOLE_MM**2)


def test_a_spacer_bears_its_yield_and_no_more_is_clamped() -> None:
    """S235 yields at 235 MPa (EN 10025-2)."""
    thin = _first(_spaced(11.0))
    assert thin.pressed_on == "its spacer"
    assert thin.pressed_n == pytest.approx(235 * _area_mm2(11.0))
    assert thin.preload_low_n == pytest.approx(thin.pressed_n)
    stout = _first(_spaced(18.0))
    assert (stout.preload_low_n or 0.0) > thin.pressed_n


@pytest.mark.parametrize(("wall_mm", "yield_mpa"), [(1.0, 235.0), (16.0, 235.0), (16.5, 225.0)])
def test_a_thick_wall_yields_sooner(wall_mm: float, yield_mpa: float) -> None:
    """S235 up to 16 mm and above (EN 10025-2)."""
    bracket = _spaced(HOLE_MM + 2.0 * wall_mm)
    sides = [p for p in place_bolts(bracket) if p.bolt == "1"]
    (itself,) = (p for p in borne_by_spacer(bracket, bracket.bolt("1"), sides) if p.name == "its spacer")
    assert itself.borne_n == pytest.approx(yield_mpa * _area_mm2(HOLE_MM + 2.0 * wall_mm))


def test_a_boss_narrower_than_its_spacer_opens_and_slips_sooner() -> None:
    """The kernel of a ring is (ro2 + ri2) / 4 ro: the smaller of both ends is tipped about."""
    wide, narrow = (_first(_spaced(25.0, "S355", face_diameter_mm=face)) for face in (25.0, 14.0))
    assert wide.ring_outer_mm == 12.5
    assert narrow.ring_outer_mm == 7.0
    assert narrow.opening_arm_mm == pytest.approx((7.0**2 + 4.5**2) / 28.0)
    assert narrow.friction_radius_mm < wide.friction_radius_mm
    # as with a spacer no wider than the boss
    assert narrow.ring == _first(_spaced(14.0, "S355", face_diameter_mm=14.0)).ring


def test_the_bore_of_a_spacer_and_not_the_hole_is_what_its_far_end_lacks() -> None:
    """A ring with less bore is tipped about less: its kernel is (ro2 + ri2) / 4 ro."""
    bracket = _spaced(25.0, "S355", face_diameter_mm=16.0)
    plate = bracket.plates[0]
    wider = plate.with_opening(plate.opening("1").but(diameter_mm=11.0))
    bolt = _first(bracket.with_plate(wider))
    assert (bolt.ring.outer_mm, bolt.ring.inner_mm) == (16.0, HOLE_MM)
    assert bolt.opening_arm_mm == pytest.approx((8.0**2 + 4.5**2) / 32.0)


def test_so_does_a_pad_narrower_than_its_spacer() -> None:
    spacer = Spacer(outer_mm=26, inner_mm=HOLE_MM, length_mm=10)
    bolts = tuple(
        b.but(spacer=spacer, pad_diameter_mm=20) if b.joins.to == "dash bar" else b for b in one_piece().bolts
    )
    bracket = one_piece().but(bolts=bolts)
    assert clamped_bolts(bracket, place_bolts(bracket))["4"].ring_outer_mm == 10.0


def test_the_boss_or_sheet_at_its_end_may_be_softer() -> None:
    """Cast aluminium of 150 MPa: 1.2 times that, VDI 2230 table A9 (from memory, to be verified)."""
    on_cast = _first(_spaced(14.0, "S355", metal="cast aluminium", tensile_mpa=None))
    assert on_cast.pressed_on == "boss 1 under its spacer"
    assert on_cast.pressed_n == pytest.approx(1.2 * 150 * _area_mm2(14.0))
    soft = _spaced(14.0, "S355")
    soft = soft.with_plate(soft.plates[0].but(material="5083-H111"))
    assert _first(soft).pressed_on == "plate under its spacer"
    assert _first(soft).pressed_n == pytest.approx(0.85 * 275 * _area_mm2(14.0))


def test_what_it_is_drawn_past_is_marginal() -> None:
    whole = solved_once(_spaced(12.0), 20.0)
    checks = {c.name: c for c in bolt_checks(whole, loaded(whole.states, whole.cases, 30.0))}
    pressed = checks["pressure under head"]
    assert pressed.used > 1.0
    assert pressed.kind == "share"
    assert "its spacer creeps away" in pressed.note
    assert "take a wider spacer" in pressed.note
