"""K from a test strip: DIN 6935's own formula comes back out, and a hand calculation agrees."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.editing.bent_strip import StripReadings, k_from_strip
from app.editing.refused import EditRefused
from geometry.bend_allowance import bend_allowance

# 2 mm sheet, radius 3, 90 deg, outside legs 50 and 40, flat 85.8:
# straight parts 50 - 5 = 45 and 40 - 5 = 35, so the bend took 5.8;
# 5.8 / (pi/2) = 3.692; (3.692 - 3) / 2 = 0.346
BY_HAND = StripReadings(85.8, 50.0, 40.0, 90.0, 2.0, 3.0)


def test_by_hand() -> None:
    answer = k_from_strip(BY_HAND)
    assert answer.k_factor == pytest.approx(0.3462, abs=5e-5)
    assert answer.zone_width_mm == pytest.approx(5.8)
    # a tenth on each of three lengths, through pi/2 and 2 mm: 0.0551; half a degree less, where each leg
    # loses 4.957 in place of 5: 0.0175; radius 0.2: 0.0273; sheet 0.02: 0.0093
    assert answer.off == pytest.approx(math.hypot(0.0551, 0.0175, 0.0273, 0.0093), abs=2e-4)
    assert answer.words.startswith("K 0.35, give or take 0.06; DIN 6935 would give 0.37")


@pytest.mark.parametrize("turned", [30.0, 60.0, 90.0, 120.0, 135.0])
@pytest.mark.parametrize(("radius", "thickness"), [(1.0, 2.0), (3.0, 3.0), (6.0, 2.0), (20.0, 3.0)])
def test_a_strip_made_by_din_6935_gives_its_k(turned: float, radius: float, thickness: float) -> None:
    """DIN 6935: flat length = a + b - v, v = 2 (r + s) - (pi beta/180)(r + s/2 k) and its twin above 90."""
    k = 1.0 if radius / thickness > 5 else 0.65 + 0.5 * math.log10(radius / thickness)
    beta = math.radians(180.0 - turned)
    arc = (math.pi - beta) * (radius + thickness / 2.0 * k)
    corner = radius + thickness
    v = 2.0 * corner - arc if turned >= 90.0 else 2.0 * corner * math.tan((math.pi - beta) / 2.0) - arc
    answer = k_from_strip(StripReadings(80.0 + 60.0 - v, 80.0, 60.0, turned, thickness, radius))
    assert answer.k_factor == pytest.approx(k / 2.0, abs=1e-9)
    assert answer.din_k_factor == pytest.approx(k / 2.0, abs=1e-9)
    assert "agrees as far as the strip can tell" in answer.words or "rough" in answer.words


@given(st.floats(0.2, 0.6), st.floats(40.0, 150.0), st.floats(1.0, 8.0), st.floats(1.0, 6.0))
def test_it_undoes_what_the_flat_pattern_does(
    k: float, turned: float, radius: float, thickness: float
) -> None:
    bend = bend_allowance(turned, radius, thickness, k)
    outside = StripReadings(bend.flat_length_mm(90.0, 70.0), 90.0, 70.0, turned, thickness, radius)
    assert k_from_strip(outside).k_factor == pytest.approx(k, abs=1e-9)
    # read inside, each leg is shorter by what the corner moves through the sheet
    less = thickness if turned >= 90.0 else thickness * math.tan(math.radians(turned) / 2.0)
    inside = replace(outside, leg_a_mm=90.0 - less, leg_b_mm=70.0 - less, legs="inside")
    assert k_from_strip(inside).k_factor == pytest.approx(k, abs=1e-9)


def test_what_the_brake_does_otherwise_is_told() -> None:
    fine = replace(BY_HAND, flat_mm=86.3, read_mm=0.02)
    assert "your brake does not follow" in k_from_strip(fine).words
    assert "rough" in k_from_strip(replace(BY_HAND, read_mm=0.5)).words


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"flat_mm": 0.0}, "flat length of 0 mm"),
        ({"leg_a_mm": math.nan}, "first leg of nan mm"),
        ({"turned_deg": 0.0}, "turned by 0 deg"),
        ({"turned_deg": 180.0}, "turned by 180 deg"),
        ({"thickness_mm": -2.0}, "thickness of -2 mm"),
        ({"inside_radius_mm": -1.0}, "inside radius of -1 mm"),
        ({"leg_b_mm": 4.0}, "second leg of 4 mm ends inside the bend"),
        ({"flat_mm": 90.0}, "gives? K 1.68|give K 1.68"),
        ({"legs": "inside"}, "outside or inside"),
        ({"inside_radius_mm": 0.1, "flat_mm": 87.2}, "below a tenth"),
    ],
)
def test_readings_that_cannot_be_so_are_refused(changed: dict[str, object], words: str) -> None:
    with pytest.raises(EditRefused, match=words):
        k_from_strip(replace(BY_HAND, **changed))  # type: ignore[arg-type]
