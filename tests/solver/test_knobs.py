"""What is turned one at a time, in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from geometry.bracket import Bracket
from solver.knobs import Knob


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
