"""Brackets that the lesson's tests look at."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket

FOLDER = Path(__file__).parents[3] / "sample_brackets"


@cache
def sample(name: str) -> Bracket:
    """Return the bracket of a sample."""
    bracket = read_bracket(FOLDER / f"{name}.bracket.json").bracket
    assert bracket is not None
    return bracket


def two_straps(*, held: bool = True) -> Bracket:
    """Return two straps on the casing; not held, nothing else holds the shaft."""
    bracket = sample("marlpit_two_straps")
    return bracket if held else bracket.but(column=bracket.column.but(held_by="nothing", bearings=()))
