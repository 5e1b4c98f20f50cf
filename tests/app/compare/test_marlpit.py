"""The marlpit roadster's one piece against its two straps: the whole way, with the analysis."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.compare.comparison import Figure, compare
from app.compare.judged import Judged
from app.compare.layout import Layout
from geometry.bracket_file import read_bracket
from solver.analyse import analyse

SAMPLES = Path(__file__).parents[3] / "sample_brackets"


def judged(name: str) -> Judged:
    bracket = read_bracket(SAMPLES / f"marlpit_{name}.bracket.json").bracket
    assert bracket is not None
    return Judged(Layout(name.replace("_", " "), bracket), analyse(bracket))


@pytest.mark.long
def test_one_piece_is_better_because_nothing_but_friction_stops_the_straps() -> None:
    found = compare([judged("two_straps"), judged("one_piece")])
    assert found.same_ground
    assert found.better == 1
    assert found.sentence.startswith("one piece is better: it passes")
    assert "two straps fails because" in found.sentence
    assert "nothing but friction stops it" in found.sentence

    def row(words: str) -> Figure:
        return next(f for f in found.figures if f.words == words)

    assert row("friction share").values[0] == pytest.approx(1.0)
    assert row("resists the twist, bolts slipped").values[0] == pytest.approx(0.0, abs=1e-6)
    assert row("holds to").values[0] == 0.0
    assert (row("holds to").values[1] or 0.0) > 30.0
