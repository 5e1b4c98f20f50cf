"""What is turned one at a time, in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.knobs import Knob, knobs_of
from tests.brackets import one_piece


def _kept(bracket: Bracket, _: float) -> Bracket:
    return bracket


SPACING = Knob("spacing", 40.0, "mm", (), 1.0, 1.0, _kept)


@pytest.mark.parametrize(
    ("unit", "value", "words"),
    [
        ("x", 0.5, "x 0.5"),
        ("%", 0.25, "25 %"),
        ("mm", 40.0, "40 mm"),
        ("N", 1200.0, "1200 N"),
        ("", 0.125, "0.125"),
    ],
)
def test_a_value_is_told_with_its_unit(unit: str, value: float, words: str) -> None:
    knob = replace(SPACING, unit=unit, value=value)
    assert knob.words(value) == words
    assert knob.now == words


def test_preload_is_turned_as_much_as_is_said_with_a_locking_nut_too() -> None:
    bracket = one_piece()
    bracket = bracket.with_bolt(bracket.bolt("4").but(locking="locking nut"))
    knob = next(k for k in knobs_of(bracket) if k.what == "preload of every bolt")

    def clamped(changed: Bracket) -> ClampedBolt:
        return clamped_bolts(changed, place_bolts(changed))["4"]

    now, turned = clamped(bracket), clamped(knob.put(bracket, 0.75))
    assert now.surely_n is not None
    assert turned.surely_n == pytest.approx(0.75 * now.surely_n)
