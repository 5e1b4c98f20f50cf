"""A few random brackets of every shape go the whole way, unrefined; `python3 tests sound` takes many more."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.sound.drawn import sound_bracket
from tests.sound.sound_trial import SEED, main
from tests.sound.the_way import asked_of, whole_way

NUMBERS = (1, 4, 6, 14, 16, 18, 24, 28, 29, 33, 34, 36)
"""Small ones: flat, folded once and often, in inches, side by side, welded, with spacers and blanks."""


@pytest.mark.parametrize("number", NUMBERS)
def test_goes_the_whole_way(number: int) -> None:
    bracket, _ = sound_bracket(SEED, number)
    outcome = whole_way(bracket, replace(asked_of(number), refined=False, paper=False))
    assert outcome.problems == []
    assert outcome.said


def test_the_same_number_is_the_same_bracket() -> None:
    assert sound_bracket(5, 3) == sound_bracket(5, 3)
    assert sound_bracket(5, 3)[0] != sound_bracket(5, 4)[0]


def test_the_trial_goes_on_where_it_was_broken_off(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = tmp_path / "outcomes.jsonl"
    asked = ["--count", "0", "-o", str(tmp_path)]
    assert main(asked) == 1
    rows.write_text(
        '{"seed": 3, "number": 0, "tags": ["flat"], "refined": false, "ended": "no verdict", "would_be": "",'
        ' "problems": [], "said": "x", "unknowns": 9, "seconds": 1.0, "findings": [], "steps": [],'
        ' "clock": 2.0}\n{"seed": 3, "num',
        encoding="utf-8",
    )
    assert main(["--count", "1", "--seed", "3", "-o", str(tmp_path)]) == 0
    assert "| all | 1 | 0 | 0 | 0 | 1 | 0 | 0 |" in capsys.readouterr().out
